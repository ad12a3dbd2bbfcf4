# SPDX-License-Identifier: Apache-2.0
"""disc.ngc by the simplest interpreter one can write, and disc.csv by Python's csv."""

import csv
import math
import re

import common


def interpret(text):
    """Hits of a program with modal words and nothing else."""
    state, hits, motion = {"X": 0.0, "A": 0.0, "Z": 0.0}, [], None
    for line in text.splitlines():
        words = re.findall(r"([A-Z])\s*([-+]?[\d.]+)", re.sub(r"\([^)]*\)", "", line).upper())
        for letter, number in words:
            if letter == "G" and float(number) in (0.0, 1.0):
                motion = int(float(number))
            if letter in state:
                state[letter] = float(number)
        if motion == 1 and any(letter == "Z" for letter, _ in words):
            hits.append((state["X"], math.radians(state["A"])))
    return hits


def check_program(truth):
    with open(truth.path("disc.ngc"), encoding="ascii") as file:
        text = file.read()
    assert "G21 G90" in text and text.endswith("M2\n")
    assert truth.checksum in text and "CAUTION" in text
    # Five decimals of a degree: half a step is 1 us.
    truth.check_hits(interpret(text), 2e-6)


def check_table(truth):
    with open(truth.path("disc.csv"), newline="", encoding="ascii") as file:
        raw = file.read()
    # Lines end with CR LF: RFC 4180, 2.1.
    assert raw.count("\r\n") == raw.count("\n") == len(truth.tour) + 1
    rows = list(csv.DictReader(raw.splitlines(), strict=True))
    assert list(rows[0]) == ["hit", "track", "note", "radius_mm", "angle_deg", "time_s"]
    assert [int(row["hit"]) for row in rows] == list(range(1, len(rows) + 1))
    for row, (track, time_s) in zip(rows, truth.tour):
        assert int(row["track"]) == track and abs(float(row["time_s"]) - time_s) < 1e-6
        assert 0.0 <= float(row["angle_deg"]) < 360.0
        assert re.fullmatch(r"[A-G][#b]?-?\d", row["note"])
    truth.check_hits([(float(row["radius_mm"]), math.radians(float(row["angle_deg"])))
                      for row in rows], 2e-6)


def check_tracks(truth):
    with open(truth.path("tracks.csv"), newline="", encoding="ascii") as file:
        rows = list(csv.DictReader(file, strict=True))
    assert len(rows) == len(truth.tracks)
    notes = [row["note"] for row in rows]
    for place, row in enumerate(rows):
        copies = notes.count(row["note"])
        copy = notes[:place + 1].count(row["note"])
        assert row["duplicate"] == (f"{copy} of {copies}" if copies > 1 else "")
    assert any(row["duplicate"] == "2 of 2" for row in rows)
    for row, track in zip(rows, truth.tracks):
        times = sorted(time for time, number in truth.plucks if number == track["track"])
        assert int(row["plucks"]) == len(times)
        gaps = [after - before for before, after in zip(times, times[1:])]
        assert (row["closest_s"] == "") == (not gaps)
        assert not gaps or abs(float(row["closest_s"]) - min(gaps)) < 1e-6


def check(truth):
    check_program(truth)
    check_table(truth)
    check_tracks(truth)


common.for_each_variant(check)
