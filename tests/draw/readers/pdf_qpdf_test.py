# SPDX-License-Identifier: Apache-2.0
"""The PDFs by qpdf: sound structure, and the disc rebuilt from the page's drawing operators."""

import math
import re

import common

common.need_program("qpdf")

POINT_MM = 25.4 / 72


def rectangles(path):
    """Closed paths of four straight sides, as page coordinates in mm, y up, in drawing order."""
    content = common.run("qpdf", "--qdf", "--object-streams=disable", path, "-").decode("latin-1")
    matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0]
    saved, found, points, numbers = [], [], [], []
    for token in re.findall(r"[^\s\[\]<>()/]+", content):
        if re.fullmatch(r"[-+]?\d*\.?\d+|[-+]?\d+\.", token):
            numbers.append(float(token))
            continue
        if token == "cm":
            a, b, c, d, e, f = numbers[-6:]
            m = matrix
            matrix = [a * m[0] + b * m[2], a * m[1] + b * m[3], c * m[0] + d * m[2],
                      c * m[1] + d * m[3], e * m[0] + f * m[2] + m[4], e * m[1] + f * m[3] + m[5]]
        elif token == "q":
            saved.append(matrix)
        elif token == "Q":
            matrix = saved.pop()
        elif token in ("m", "l"):
            x, y = numbers[-2:]
            at = ((matrix[0] * x + matrix[2] * y + matrix[4]) * POINT_MM,
                  (matrix[1] * x + matrix[3] * y + matrix[5]) * POINT_MM)
            points = [at] if token == "m" else points + [at]
        elif token == "re":
            x, y, width, height = numbers[-4:]
            corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
            found.append([((matrix[0] * x + matrix[2] * y + matrix[4]) * POINT_MM,
                           (matrix[1] * x + matrix[3] * y + matrix[5]) * POINT_MM)
                          for x, y in corners])
        elif token == "c":
            points = []
        elif token == "h" and len(points) == 4:
            found.append(points)
        numbers = []
    return found


def from_leading_edge(corners, clockwise):
    """The same corners beginning with the leading edge: the end of the rectangle that comes first
    as the disc turns. A PDF may write a rectangle from any corner."""
    if math.dist(corners[0], corners[1]) > math.dist(corners[1], corners[2]):
        corners = corners[1:] + corners[:1]
    near = common.leading_edge_middle(corners)[1]
    far = common.leading_edge_middle(corners[2:])[1]
    rising = math.remainder(far - near, 2 * math.pi) > 0
    return corners if rising == clockwise else corners[2:] + corners[:2]


def check(truth):
    for name in ("disc.pdf", "disc-tiled.pdf", "pack.pdf", "pack-a5.pdf"):
        common.run("qpdf", "--check", truth.path(name))
    centre = truth.diameter_mm / 2 + 20
    hits = []
    for corners in rectangles(truth.path("disc.pdf")):
        # Beside the disc stands the title, where a letter that no font has is drawn as a box.
        if math.dist(corners[0], (centre, centre)) > truth.diameter_mm / 2:
            continue
        outline = from_leading_edge([(x - centre, y - centre) for x, y in corners],
                                    truth.clockwise)
        common.check_rectangle(outline, tolerance_mm=0.004)
        hits.append(common.leading_edge_middle(outline))
    # The PDF library keeps points in steps of 1/256 pt, 1.4 um: 0.35 ms at the innermost track.
    truth.check_hits(hits, 400e-6)


common.for_each_variant(check)
