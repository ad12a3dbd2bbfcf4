# SPDX-License-Identifier: Apache-2.0
"""A mixed-integer linear program, written in the LP format and solved by cbc."""
import pathlib
import subprocess


class Model:
    """Maximise the sum of gains over rows of the form sum(coefficient * variable) <= limit."""

    def __init__(self):
        self.gains = []
        self.spans = []  # (low, high) of a continuous variable, None for a binary one
        self.rows = []

    def binary(self, gain=0.0):
        self.gains.append(gain)
        self.spans.append(None)
        return len(self.gains) - 1

    def continuous(self, low, high):
        self.gains.append(0.0)
        self.spans.append((low, high))
        return len(self.gains) - 1

    def at_most(self, terms, limit):
        """terms: pairs (coefficient, variable)"""
        self.rows.append((tuple(terms), limit))

    def at_most_one_of(self, variables):
        self.at_most([(1, v) for v in variables], 1)

    def lp(self):
        def summed(terms):
            return "\n".join(f" {coefficient:+.12g} x{v}" for coefficient, v in terms)

        lines = ["Maximize", " gain:", summed((g, v) for v, g in enumerate(self.gains) if g),
                 "Subject To"]
        for number, (terms, limit) in enumerate(self.rows):
            lines += [f" r{number}:", summed(terms), f" <= {limit:.12g}"]
        lines += ["Bounds", *(f" {span[0]:.12g} <= x{v} <= {span[1]:.12g}"
                              for v, span in enumerate(self.spans) if span)]
        lines += ["Binaries", *(f" x{v}" for v, span in enumerate(self.spans) if span is None),
                  "End"]
        return "\n".join(lines) + "\n"


def solve_by_cbc(model, folder, name, limit_s):
    """The values of the variables at the proven optimum; raises if there is no proof in time."""
    problem = pathlib.Path(folder, f"{name}.lp")
    answer = pathlib.Path(folder, f"{name}.txt")
    problem.write_text(model.lp())
    subprocess.run(["cbc", problem, "ratioGap", "0", "allowableGap", "0", "seconds", str(limit_s),
                    "solve", "solution", answer], stdout=subprocess.DEVNULL, check=True)
    status, *lines = answer.read_text().splitlines()
    if not status.startswith("Optimal"):
        raise RuntimeError(f"cbc on {name}: {status}")
    values = [0.0] * len(model.gains)
    for line in lines:
        fields = [field for field in line.split() if field != "**"]
        if fields[1].startswith("x"):
            values[int(fields[1][1:])] = float(fields[2])
    return values
