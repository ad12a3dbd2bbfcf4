#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""run.py PROGRAM OUT: what bench_steel measures, and the time of a 3-D finite element program
(CalculiX) for single teeth of the larger example box over ours. Both must agree on the first mode
within 1 % before it counts. Processor seconds."""
import json
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests/steel"))
import calculix
import solid_teeth

BENCH, OUT = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2])
PROGRAM = BENCH.parents[2] / "combwright"


def ratios(tooth_s):
    answer = solid_teeth.designed(PROGRAM, ROOT / "examples/larkspur.toml")
    for tooth in solid_teeth.six(answer):
        solid = solid_teeth.solid(answer, tooth)
        ours = solid_teeth.ours(PROGRAM, tooth)[0]
        if abs(ours / solid.bending_hz[0] - 1) > 0.01:
            sys.exit(f"{tooth['note']}: {ours} Hz, as a solid {solid.bending_hz[0]} Hz")
        yield solid.cpu_s / tooth_s


def main():
    subprocess.run([BENCH, OUT], check=True)
    rows = json.loads(OUT.read_text())
    if calculix.available():
        least = min(ratios(next(row["tooth_s"] for row in rows if "tooth_s" in row)))
        rows.append({"figure": "one tooth, times faster than 3-D elements", "reach": ">= 1000 x",
                     "measured": f"{least:.0f} x (coarse mesh)"})
        print(f"{rows[-1]['figure']:44} {rows[-1]['reach']:9} {rows[-1]['measured']}")
    OUT.write_text(json.dumps(rows, indent=2) + "\n")


if __name__ == "__main__":
    main()
