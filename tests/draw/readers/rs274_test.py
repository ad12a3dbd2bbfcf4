# SPDX-License-Identifier: Apache-2.0
"""disc.ngc by LinuxCNC's stand-alone interpreter, which refuses what RS-274 does not allow."""

import math
import re

import common

common.need_program("rs274")

MOVE = re.compile(r"(STRAIGHT_FEED|STRAIGHT_TRAVERSE)\(([^)]*)\)")


def check(truth):
    program = open(truth.path("disc.ngc"), "rb").read()
    assert all(byte == 10 or 32 <= byte < 127 for byte in program)
    # The longest line and comments without comments inside: NISTIR 6556, 3.3.
    for line in program.decode("ascii").splitlines():
        assert len(line) <= 256
        assert line.count("(") <= 1 and line.count("(") == line.count(")")

    canon = common.run("rs274", "-g", truth.path("disc.ngc")).decode()
    assert "USE_LENGTH_UNITS(CANON_UNITS_MM)" in canon and "PROGRAM_END()" in canon
    assert "MESSAGE(" not in canon
    hits, at = [], [0.0] * 6
    for kind, numbers in MOVE.findall(canon):
        to = [float(number) for number in numbers.split(",")]
        if kind == "STRAIGHT_FEED":
            assert to[0] == at[0] and to[3] == at[3], "the tool must not drag"
            assert abs(to[2] - truth.down_mm) < 1e-9
            hits.append((to[0], math.radians(to[3])))
        elif (to[0], to[3]) != (at[0], at[3]):
            assert to[2] == at[2] == truth.up_mm, "moves only with the tool up"
        at = to
    assert at[2] == truth.up_mm
    # The interpreter prints four decimals of a degree: half a step is 9 us of a turn of 66 s.
    truth.check_hits(hits, 12e-6)


common.for_each_variant(check)
