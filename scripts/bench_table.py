#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""bench_table.py PROGRAM BENCH_DIR: measures whole packs, and prints the figures to reach beside
what was measured there and in the benchmarks' JSON files."""
import json
import os
import pathlib
import statistics
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
PROGRAM, BENCH = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2])


def run_pack(folder):
    """Seconds and peak megabytes of one pack of the tune of three minutes."""
    start = time.monotonic()
    words = [PROGRAM, "pack", ROOT / "examples/larkspur.toml",
             ROOT / "examples/tunes/round-the-millpond.musicxml", "--out", folder / "pack"]
    child = os.posix_spawn(PROGRAM, list(map(str, words)), os.environ,
                           file_actions=[(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)])
    _, status, used = os.wait4(child, 0)
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        sys.exit("the pack failed")
    return time.monotonic() - start, used.ru_maxrss / 1024


def pack_rows():
    with tempfile.TemporaryDirectory() as folder:
        runs = [run_pack(pathlib.Path(folder)) for _ in range(5)]
    return [("pack of a 3-minute tune, wall", "<= 1 s", f"{statistics.median(r[0] for r in runs):.2f} s"),
            ("pack of a 3-minute tune, memory", "<= 300 MB", f"{max(r[1] for r in runs):.0f} MB")]


def midi_rows(found):
    yield "MIDI reading", ">= 100 MB/s", f"{found['contestants'][0]['mb_per_s']:.0f} MB/s"
    for peer in found["contestants"][1:]:
        yield f"MIDI reading, times faster than {peer['name']}", ">= 5 x", f"{peer['times_ours']:.0f} x"


def tour_rows(found):
    for stops in found:
        ours = stops["punch_tour"]
        name = f"tour of {stops['hits']} hits, {stops['stops']}"
        yield f"{name}, over the bound", "<= 3 %", f"{100 * ours['median_gap']:.2f} %"
        yield f"{name}, processor time", "<= 1 s", f"{ours['median_cpu_s']:.2f} s"


def sound_rows(found):
    for run in found["benchmarks"]:
        if run.get("aggregate_name") == "median" and "x_real_time" in run:
            yield f"{run['run_name']}, times real time", ">= 200 x", f"{run['x_real_time']:.0f} x"


def generic_rows(found):
    """Benchmarks that give their figures themselves: [{"figure", "reach", "measured"}]."""
    for row in found if isinstance(found, list) else found.get("figures", []):
        yield row["figure"], row["reach"], row["measured"]


def main():
    makers = {"midi": midi_rows, "tour": tour_rows, "sound": sound_rows}
    rows = pack_rows()
    for path in sorted(BENCH.glob("*.json")):
        rows += makers.get(path.stem, generic_rows)(json.loads(path.read_text()))
    widths = [max(len(row[c]) for row in [("figure", "reach", "measured"), *rows]) for c in range(3)]
    for row in [("figure", "reach", "measured"), *rows]:
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths)).rstrip())


if __name__ == "__main__":
    main()
