# SPDX-License-Identifier: Apache-2.0
"""disc.dxf by ezdxf: its audit, version, layers, closed outlines, axis points in order."""

import common

try:
    import ezdxf
except ImportError:
    common.skip("python3-ezdxf is not installed")

LAYERS = {"EDGE", "HOLES", "MARKS", "PROJECTIONS", "AXES", "TEXT"}


def check(truth):
    document = ezdxf.readfile(truth.path("disc.dxf"))
    audit = document.audit()
    assert not audit.errors and not audit.fixes, (audit.errors, audit.fixes)
    assert document.dxfversion == "AC1009"
    assert LAYERS <= {layer.dxf.name for layer in document.layers}
    space = document.modelspace()
    assert {entity.dxf.layer for entity in space} == LAYERS

    edge = space.query('CIRCLE[layer=="EDGE"]')
    assert len(edge) == 1 and abs(edge[0].dxf.radius * 2 - truth.diameter_mm) < 1e-4
    assert len(space.query('CIRCLE[layer=="HOLES"]')) == 5

    points = [point.dxf.location for point in space.query('POINT[layer=="AXES"]')]
    outlines = space.query('POLYLINE[layer=="PROJECTIONS"]')
    assert len(points) == len(outlines)
    for point, outline in zip(points, outlines):
        assert outline.is_closed
        corners = [(v.dxf.location.x, v.dxf.location.y) for v in outline.vertices]
        common.check_rectangle(corners)
        middle = [(corners[0][i] + corners[1][i]) / 2 for i in (0, 1)]
        # Both were rounded to 0.1 um.
        assert abs(middle[0] - point.x) < 1.1e-4 and abs(middle[1] - point.y) < 1.1e-4
    # 0.1 um at the innermost track, 42 mm, is 25 us of a turn of 66 s.
    truth.check_hits([common.polar(point.x, point.y) for point in points], 50e-6)

    texts = [text.plain_text() for text in space.query('TEXT[layer=="TEXT"]')]
    assert all("\n" not in text for text in texts)
    begin = truth.title.replace("\n", " ")[:10]
    assert any(text.startswith(begin) for text in texts), texts


common.for_each_variant(check)
