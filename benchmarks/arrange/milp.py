# SPDX-License-Identifier: Apache-2.0
"""The arranger's problem with continuous times as a mixed-integer program, as one would write it
for a general solver, and how soon HiGHS, cbc and glpk find an answer as good as ours. Times are in
tenths of a second, so that the coefficients stay near 1."""
import json
import os
import pathlib
import re
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent.parent / "tests/arrange"))
from milp_model import Model  # noqa: E402

UNITS_PER_S = 10.0
MOVE = 0.030 * UNITS_PER_S
BEFORE = 1e-5  # strictly before; above what the solvers take for 0
# cbc 2.10.8 runs without preprocessing and cuts: with them it calls answers optimal here that break
# rows by tens of milliseconds, or that earn less than a known answer.
CONTESTANTS = {
    "HiGHS": lambda folder, limit_s: [
        "/usr/bin/python3", pathlib.Path(__file__).with_name("highs.py"), folder / "model.json",
        str(limit_s)],
    "cbc": lambda folder, limit_s: [
        "cbc", folder / "model.lp", "preprocess", "off", "cutsOnOff", "off", "ratioGap", "0",
        "seconds", str(limit_s), "solve"],
    "glpk": lambda folder, limit_s: [
        "glpsol", "--lp", folder / "model.lp", "--cuts", "--tmlim", str(limit_s)],
}


class Note:
    """A note's variables: one binary for each way to play it, and how far it is moved."""

    def __init__(self, model, problem, demand):
        self.onset = UNITS_PER_S * demand["onset_s"]
        self.plays, self.moves = {}, {}  # by tooth: at its onset, moved
        for tooth, data in enumerate(problem["teeth"]):
            away = abs(data["midi"] - demand["midi"])
            if away == 0:
                self.plays[tooth] = model.binary(demand["weight"])
                self.moves[tooth] = model.binary(0.9 * demand["weight"])
            elif away in (12, 24):
                share = 0.3 if demand["melody"] else 0.6
                self.plays[tooth] = model.binary(share * demand["weight"])
        self.all = [*self.plays.values(), *self.moves.values()]
        self.shift = None
        self.least = self.most = self.onset
        if self.all:
            model.at_most_one_of(self.all)
        if self.moves:
            self.least = max(self.onset - MOVE, UNITS_PER_S * problem["earliest_s"])
            self.most = min(self.onset + MOVE, UNITS_PER_S * problem["latest_s"])
            early, late = self.least - self.onset, self.most - self.onset
            self.shift = model.continuous(early, late)
            moved = list(self.moves.values())
            model.at_most([(1, self.shift), *((-late, v) for v in moved)], 0)
            model.at_most([(-1, self.shift), *((early, v) for v in moved)], 0)

    def on(self, tooth):
        return [v for v in (self.plays.get(tooth), self.moves.get(tooth)) if v is not None]


def keep_apart(model, first, second, distance, unless):
    """second - first >= distance if all binaries in `unless` sum to their greatest value, given as
    (variables, greatest)."""
    variables, greatest = unless
    big = distance - (second.least - first.most)
    if big <= 0:
        return
    terms = [(1, first.shift)] if first.shift is not None else []
    if second.shift is not None:
        terms.append((-1, second.shift))
    model.at_most([*terms, *((big, v) for v in variables)],
                  second.onset - first.onset - distance + greatest * big)


def teeth_rows(model, problem, notes):
    for tooth, data in enumerate(problem["teeth"]):
        interval = UNITS_PER_S * data["interval_s"]
        users = [note for note in notes if note.on(tooth)]
        for i, first in enumerate(users):
            for second in users[i + 1:]:
                if second.least - first.most >= interval:
                    if second.onset - first.onset > interval + 2 * MOVE:
                        break
                    continue
                if second.most - first.least < interval:
                    model.at_most_one_of([*first.on(tooth), *second.on(tooth)])
                    continue
                if second.onset - first.onset < interval and (
                        tooth in first.plays and tooth in second.plays):
                    model.at_most_one_of([first.plays[tooth], second.plays[tooth]])
                keep_apart(model, first, second, interval,
                           ([*first.on(tooth), *second.on(tooth)], 2))


def motor_rows(model, problem, notes):
    """No note is the first of more than most_plucks within the window: every other one that is
    played lies before it, after the window, or counts."""
    most, window = problem["most_plucks"], UNITS_PER_S * problem["pluck_window_s"]
    start = 0
    for i, note in enumerate(notes):
        while notes[start].onset + MOVE < note.onset - MOVE:
            start += 1
        near = [(j, other) for j, other in enumerate(notes[start:], start)
                if other.onset <= note.onset + window + 2 * MOVE and j != i and other.all]
        if not note.all or len(near) < most:
            continue
        counted = []
        for j, other in near:
            if other.most < note.least or other.least > note.most + window:
                continue
            counts, before, after = model.binary(), model.binary(), model.binary()
            played = [*note.all, *other.all]
            model.at_most([*((1, v) for v in played), (-1, counts), (-1, before), (-1, after)], 1)
            keep_apart(model, other, note, 0.0 if j < i else BEFORE, ([before], 1))
            keep_apart(model, note, other, window + BEFORE, ([after], 1))
            counted.append(counts)
        if len(counted) >= most:
            # Where the note itself is not played, nothing is counted from it.
            model.at_most([(1, v) for v in counted], most - 1)


def model_of(problem):
    if any(limit["reach_s"] > 0 for limit in problem["neighbours"]):
        raise ValueError("this model leaves out the sheet between neighbouring tracks")
    model = Model()
    notes = [Note(model, problem, demand) for demand in problem["demands"]]
    teeth_rows(model, problem, notes)
    motor_rows(model, problem, notes)
    return model


def cpu_s(process):
    fields = pathlib.Path(f"/proc/{process.pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def gain_told(name, line):
    """What the best answer so far earns, if a line of the log tells it."""
    patterns = {
        "HiGHS": r" [A-Z] .*%\s+-?[\d.]+\s+(-[\d.]+)\s|  Primal bound\s+(-[\d.]+)",
        "cbc": r"Cbc0012I Integer solution of (-?[\d.]+)|Objective value:\s+(-?[\d.]+)",
        "glpk": r"\+\s*\d+: mip =\s+([\d.e+]+) |\+\s*\d+: >>>>>\s+([\d.e+]+)",
    }
    found = re.match(patterns[name], line)
    return abs(float(found[1] or found[2])) if found else 0.0


PROOF = {"HiGHS": "  Status            Optimal", "cbc": "Result - Optimal solution found",
         "glpk": "INTEGER OPTIMAL SOLUTION FOUND"}


def write(model, folder):
    (folder / "model.lp").write_text(model.lp())
    (folder / "model.json").write_text(
        json.dumps({"gains": model.gains, "spans": model.spans, "rows": model.rows}))


def race(name, folder, target, limit_s):
    """Runs one solver on the model in the folder and reads what it says: processor seconds until
    its answer earns `target` (None: it doesn't), processor seconds in all, the best answer, and
    whether that is proven."""
    result = {"equal_cpu_s": None, "earned": 0.0, "proven": False}
    command = ["stdbuf", "-oL", *map(str, CONTESTANTS[name](folder, limit_s))]
    start = spent = 0.0
    with subprocess.Popen(command, text=True, stdout=subprocess.PIPE,
                          stderr=subprocess.DEVNULL) as process:
        for line in process.stdout:
            spent = cpu_s(process)
            if line == "begin\n":
                start = spent
            result["earned"] = max(result["earned"], gain_told(name, line))
            if result["equal_cpu_s"] is None and result["earned"] >= target * (1 - 1e-6):
                result["equal_cpu_s"] = spent - start
            result["proven"] = result["proven"] or line.startswith(PROOF[name])
    result["cpu_s"] = spent - start
    return result
