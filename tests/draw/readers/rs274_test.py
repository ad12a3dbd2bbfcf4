# SPDX-License-Identifier: Apache-2.0
"""disc.ngc by LinuxCNC's stand-alone interpreter, which refuses what RS-274 does not allow."""

import math
import re

import common

common.need_program("rs274")

MOVE = re.compile(r"(STRAIGHT_FEED|STRAIGHT_TRAVERSE)\(([^)]*)\)")


def moves_with_numbers(canon):
    """(N word or None, kind, axes) of every straight move, as the interpreter understood them."""
    for line in canon.splitlines():
        move = MOVE.search(line)
        if move:
            number = re.search(r"\bN(\d+)\b", line)
            yield (number and int(number[1]), move[1], [float(n) for n in move[2].split(",")])


def check_start_and_end(canon, truth):
    """A stop with words before the first stroke; the way begins and ends beside the disc, tool up."""
    before, after = canon.split("PROGRAM_STOP()")
    assert "STRAIGHT_FEED" not in before and "STRAIGHT_FEED" in after
    assert "STOP: check" in before.splitlines()[-2] or "STOP: check" in before[-600:]
    rests = [list(moves_with_numbers(part))[-1][2] for part in (before, canon)]
    for x, _, z, a, *_ in rests:
        assert abs(x - truth.rest_mm) < 1e-4 and x > truth.diameter_mm / 2
        assert a == 0.0 and z == truth.up_mm


def check_line_numbers(canon, count):
    """The moves to the hits bear their numbers, which RS-274 allows up to 99999: NISTIR 6556,
    3.3.1."""
    told = [number for number, _, _ in moves_with_numbers(canon) if number]
    assert told == list(range(1, count + 1)), told[:20]


def check_own_strokes(truth):
    """Lines of the shop's own: the same way, the tool lifted before it begins, a stroke at every
    hit."""
    for name, is_stroke, up_mm in (("disc-valve.ngc", "MIST_ON()", truth.up_mm),
                                   ("disc-slow.ngc", "STRAIGHT_FEED(", 4.0)):
        canon = common.run("rs274", "-g", truth.path(name)).decode()
        assert "PROGRAM_END()" in canon
        hits, at = [], [0.0] * 6
        for line in canon.splitlines():
            move = MOVE.search(line)
            if is_stroke in line and (not hits or hits[-1] != (at[0], math.radians(at[3]))):
                hits.append((at[0], math.radians(at[3])))
            if not move:
                continue
            to = [float(number) for number in move[2].split(",")]
            if (to[0], to[3]) != (at[0], at[3]):
                assert to[2] == at[2] == (up_mm if hits else truth.up_mm), "only with the tool up"
            at = to
        truth.check_hits(hits, 12e-6)


def check(truth):
    check_own_strokes(truth)
    program = open(truth.path("disc.ngc"), "rb").read()
    assert all(byte == 10 or 32 <= byte < 127 for byte in program)
    # The longest line and comments without comments inside: NISTIR 6556, 3.3.
    for line in program.decode("ascii").splitlines():
        assert len(line) <= 256
        assert line.count("(") <= 1 and line.count("(") == line.count(")")

    canon = common.run("rs274", "-g", truth.path("disc.ngc")).decode()
    assert "USE_LENGTH_UNITS(CANON_UNITS_MM)" in canon and "PROGRAM_END()" in canon
    assert "MESSAGE(" not in canon
    check_start_and_end(canon, truth)
    check_line_numbers(canon, len(truth.tour))
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
