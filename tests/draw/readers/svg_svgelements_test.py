# SPDX-License-Identifier: Apache-2.0
"""disc.svg by svgelements: true size, layers, outlines and axis points."""

import xml.etree.ElementTree as ElementTree

import common

try:
    import svgelements
except ImportError:
    common.skip("python3-svgelements is not installed")

NAME = "{http://www.w3.org/2000/svg}"


def shapes(group, kind):
    return [shape for shape in group if isinstance(shape, kind)]


def check(truth):
    # At 25.4 pixels an inch a pixel is a millimetre.
    svg = svgelements.SVG.parse(truth.path("disc.svg"), ppi=25.4)
    # It rounds the millimetre to 0.0393701 in, which makes all lengths 1.00000054 times theirs.
    assert abs(svg.width - (truth.diameter_mm + 10)) < 1e-3
    groups = {group.id: group for group in svg if isinstance(group, svgelements.Group)}
    middle = svg.width / 2

    edge = shapes(groups["EDGE"], svgelements.Circle)
    assert len(edge) == 1 and abs(edge[0].rx * 2 - truth.diameter_mm) < 1e-3
    assert abs(edge[0].cx - middle) < 1e-6 and abs(edge[0].cy - middle) < 1e-6

    # The picture's y runs down from its upper left corner.
    point = lambda at: (at.x - middle, middle - at.y)
    outlines = [[point(at) for at in shape] for shape in
                shapes(groups["PROJECTIONS"], svgelements.Polygon)]
    for outline in outlines:
        common.check_rectangle(outline)
    truth.check_hits([common.leading_edge_middle(outline) for outline in outlines], 50e-6)
    axes = [(axis.cx - middle, middle - axis.cy) for axis in
            shapes(groups["AXES"], svgelements.Circle)]
    truth.check_hits([common.polar(*axis) for axis in axes], 50e-6)

    root = ElementTree.parse(truth.path("disc.svg")).getroot()
    title = root.find(NAME + "title")
    assert root.get("aria-labelledby") == title.get("id")
    assert title.text.startswith(truth.title.replace("\n", " ")[:10])
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))


common.for_each_variant(check)
