# SPDX-License-Identifier: Apache-2.0
"""A tooth of a comb, and the plate behind its root line if wanted, as a structured mesh of 20-node
bricks. Only the half on one side of the tooth's middle plane is meshed: vertical bending is the
same on both. Millimetres; x runs from the root line to the tip, y across, z up from the plate's
upper face, with which the teeth are flush; they are ground from below.

A tooth is a dict with the keys of `comb --json`: length_m, width_m, thickness_m, tip_thickness_m,
lead (null, or center_m, length_m, height_m)."""
import dataclasses

import numpy as np

# Corners of a brick and the middles of its edges as (along, across, down) on a grid twice as fine,
# in the order of the Abaqus manual's (and CalculiX's) C3D20.
BRICK = [(0, 0, 2), (2, 0, 2), (2, 2, 2), (0, 2, 2), (0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0),
         (1, 0, 2), (2, 1, 2), (1, 2, 2), (0, 1, 2), (1, 0, 0), (2, 1, 0), (1, 2, 0), (0, 1, 0),
         (0, 0, 1), (2, 0, 1), (2, 2, 1), (0, 2, 1)]
EDGES = [(0, 1), (1, 2), (2, 3), (3, 0), (4, 5), (5, 6), (6, 7), (7, 4), (0, 4), (1, 5), (2, 6),
         (3, 7)]


@dataclasses.dataclass
class Plate:
    """What holds the tooth: fixed from below and behind, its sides free."""
    thickness_mm: float
    depth_mm: float    # behind the root line
    breadth_mm: float


@dataclasses.dataclass
class Mesh:
    nodes: dict      # number -> (x, y, z) in mm
    steel: list      # bricks, 20 numbers each
    lead: list
    fixed: list      # numbers of nodes that cannot move
    symmetric: list  # ... cannot move across
    line: list       # ... on the steel's upper face in the middle, from root to tip


def graded(first, last, finest, coarsest, growth=1.6):
    """Places from first to last whose steps grow from `finest` at the first to `coarsest`."""
    span, step, steps = abs(last - first), finest, []
    while sum(steps) + step < span:
        steps.append(step)
        step = min(step * growth, coarsest)
    steps = np.array(steps + [step])
    return first + (last - first) * np.concatenate([[0.0], np.cumsum(steps) / steps.sum()])


def even(first, last, size):
    return np.linspace(first, last, max(1, round(abs(last - first) / size)) + 1)


def along_tooth(tooth, fineness):
    """Ends of the bricks, fine at the root, with the lead's two among them."""
    length, h = 1e3 * tooth["length_m"], 1e3 * tooth["thickness_m"]
    coarsest, finest = length / (12 * fineness), h / (3 * fineness)
    lead = tooth["lead"]
    if not lead:
        return graded(0, length, finest, coarsest)
    inner = 1e3 * (lead["center_m"] - lead["length_m"] / 2)
    outer = inner + 1e3 * lead["length_m"]
    steps = [graded(0, inner, finest, coarsest)]
    middle = even(inner, outer, min(coarsest, (outer - inner) / (2 * fineness)))
    steps.append(middle[1:])
    if length - outer > 1e-6:
        steps.append(even(outer, length, coarsest)[1:])
    return np.concatenate(steps)


class Grid:
    """Bricks picked from a grid of cells (along, across, down); a brick's corners are mapped into
    space by a function of the corner's place in the grid."""

    def __init__(self, corner):
        self.corner, self.numbers = corner, {}
        self.nodes = {}

    def number(self, key, place):
        if key not in self.numbers:
            self.numbers[key] = len(self.numbers) + 1
            self.nodes[self.numbers[key]] = place
        return self.numbers[key]

    def brick(self, i, j, k):
        keys = [(2 * i + a, 2 * j + b, 2 * k + c) for a, b, c in BRICK]
        places = [np.array(self.corner(a // 2, b // 2, c // 2)) for a, b, c in keys[:8]]
        places += [(places[a] + places[b]) / 2 for a, b in EDGES]
        return [self.number(key, place) for key, place in zip(keys, places)]


def mesh(tooth, plate=None, fineness=1):
    """The tooth held by its plate, or with its whole root face fixed if there is none, with about
    `fineness` times as many bricks along each edge as the coarsest mesh has."""
    h_root, h_tip = 1e3 * tooth["thickness_m"], 1e3 * tooth["tip_thickness_m"]
    length, half = 1e3 * tooth["length_m"], 5e2 * tooth["width_m"]
    lead = tooth["lead"]
    down, across = 2 * fineness, fineness  # cells in the tooth's thickness and half width
    x, y = along_tooth(tooth, fineness), np.linspace(0, half, across + 1)
    behind = 0
    below_plate = np.zeros(0)
    if plate:
        x_behind = graded(0, -plate.depth_mm, h_root / (3 * fineness), 2.5 / fineness)
        behind = len(x_behind) - 1
        x = np.concatenate([x_behind[:0:-1], x])
        if plate.breadth_mm / 2 > half + 1e-3:
            beside = graded(half, plate.breadth_mm / 2, h_root / (2 * fineness), 3.0 / fineness)
            y = np.concatenate([y, beside[1:]])
        if plate.thickness_mm > h_root + 1e-3:
            below_plate = graded(h_root, plate.thickness_mm, h_root / (3 * fineness),
                                 1.5 / fineness)[1:]
    below_lead, inner, outer = [], 0.0, 0.0
    if lead:
        height = 1e3 * lead["height_m"]
        below_lead = even(0, height, max(height / 3, length / 12) / fineness)[1:]
        inner = 1e3 * (lead["center_m"] - lead["length_m"] / 2)
        outer = 1e3 * (lead["center_m"] + lead["length_m"] / 2)

    def corner(i, j, k):
        h = h_root + (h_tip - h_root) * max(x[i], 0) / length
        if k <= down:
            z = -h * k / down
        elif x[i] > 0:
            z = -h - below_lead[k - down - 1]
        else:
            z = -below_plate[k - down - 1]
        return x[i], y[j], z

    grid = Grid(corner)
    steel, soft = [], []
    for i in range(len(x) - 1):
        middle = (x[i] + x[i + 1]) / 2
        if i < behind:
            steel += [grid.brick(i, j, k) for j in range(len(y) - 1)
                      for k in range(down + len(below_plate))]
            continue
        steel += [grid.brick(i, j, k) for j in range(across) for k in range(down)]
        if inner < middle < outer:
            soft += [grid.brick(i, j, down + k) for j in range(across)
                     for k in range(len(below_lead))]
    # Without a plate, this is the root face alone.
    bottom = 2 * (down + len(below_plate))
    fixed = [n for (a, _, c), n in grid.numbers.items()
             if a == 0 or (plate and a <= 2 * behind and c == bottom)]
    symmetric = [n for (_, b, _), n in grid.numbers.items() if b == 0]
    line = [n for (a, b, c), n in sorted(grid.numbers.items())
            if b == 0 and c == 0 and a >= 2 * behind]
    return Mesh(grid.nodes, steel, soft, fixed, symmetric, line)
