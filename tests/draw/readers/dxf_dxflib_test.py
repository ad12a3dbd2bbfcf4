# SPDX-License-Identifier: Apache-2.0
"""disc.dxf by dxflib, a second reader: called as dxf_dxflib_test.py WRITE_ALL DXFLIB_READER."""

import sys

import common


def check(truth):
    lines = common.run(sys.argv[2], truth.path("disc.dxf")).decode("ascii").splitlines()
    layers = {line.split()[1] for line in lines if line.startswith("LAYER ")}
    assert {"EDGE", "HOLES", "MARKS", "PROJECTIONS", "AXES", "TEXT"} <= layers

    points, outlines, radii, current = [], [], [], None
    for line in lines:
        kind, *rest = line.split()
        if kind == "POLYLINE":
            current = [] if rest[0] == "PROJECTIONS" else None
            if current is not None:
                assert rest[1] == "1"  # group 70, closed
                outlines.append(current)
        elif kind == "VERTEX" and current is not None:
            current.append((float(rest[1]), float(rest[2])))
        elif kind == "POINT" and rest[0] == "AXES":
            points.append((float(rest[1]), float(rest[2])))
        elif kind == "RADIUS":
            radii.append(float(rest[0]))
    assert max(radii) * 2 == truth.diameter_mm
    for outline in outlines:
        common.check_rectangle(outline)
    truth.check_hits([common.polar(*point) for point in points], 50e-6)
    truth.check_hits([common.leading_edge_middle(outline) for outline in outlines], 50e-6)


common.for_each_variant(check)
