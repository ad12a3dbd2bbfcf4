# SPDX-License-Identifier: Apache-2.0
"""A projection, a star wheel and a tooth as plain polygons that are moved and looked at, without a
formula of src/action: every contact is the nearest of all corners of one outline to the other, every
greatest lift found by trying angles."""
import math

import numpy as np
from scipy.optimize import brentq, minimize_scalar

# Corners on a rounding. The polygon lies inside the arc by radius * (pi / corners)^2 / 8.
CORNERS = 2001


class Model:
    """Of a box as `check --json` gives it; lengths in metres."""

    def __init__(self, box):
        wheel, projection = box["star_wheel"], box["projection"]
        self.pitch = 2 * math.pi / wheel["points"]
        self.tip = wheel["tip_radius_m"]
        self.overlap = wheel["tooth_overlap_m"]
        self.depth = wheel["axis_below_disc_m"] - projection["height_m"]
        rounding, flank = wheel["tip_rounding_m"], wheel["flank_rad"]
        # A point of the wheel, upright: from its left root over the tip to its right root.
        centre = self.tip - rounding
        turn = np.linspace(flank - math.pi / 2, math.pi / 2 - flank, CORNERS)
        aside, out = rounding * np.sin(turn), centre + rounding * np.cos(turn)
        long = 0.8 * self.tip
        self.aside = np.concatenate(([aside[0] - long * math.sin(flank)], aside,
                                     [aside[-1] + long * math.sin(flank)]))
        self.out = np.concatenate(([out[0] - long * math.cos(flank)], out,
                                   [out[-1] - long * math.cos(flank)]))
        # The leading lower corner of a projection: how far back from its face, at which height.
        turn = np.linspace(0, math.pi / 2, CORNERS)
        self.back = projection["corner_m"] * (1 - np.cos(turn))
        self.rise = self.depth + projection["corner_m"] * (1 - np.sin(turn))

    def outline(self, angle):
        """The corners of a point at that angle from upright: x along the disc, y up."""
        return (self.out * math.sin(angle) + self.aside * math.cos(angle),
                self.out * math.cos(angle) - self.aside * math.sin(angle))

    def face(self, angle):
        """Where the leading face stands when the projection, coming from the left, first touches the
        point held at that angle; counted over the corners of both."""
        x, y = self.outline(angle)
        top = int(np.argmax(y))
        left_x, left_y = x[:top + 1], y[:top + 1]
        places = [np.interp(height, left_y, left_x) + back
                  for height, back in zip(self.rise, self.back) if height <= left_y[-1]]
        above = left_y >= self.depth
        back = np.interp(left_y[above], self.rise[::-1], self.back[::-1], right=0.0)
        return min(np.min(left_x[above] + back), min(places, default=math.inf))

    def leave(self):
        """Where the top of the point sinks below the lower edge."""
        return brentq(lambda angle: self.outline(angle)[1].max() - self.depth, 0, math.pi / 2,
                      xtol=1e-12)

    def rest(self):
        return self.leave() - self.pitch


def shortening(length, lift):
    """How much the end of a cantilever of that length draws back that is pulled aside at its end: the
    sum of half the square of its slope, the arc less the span to second order."""
    x = np.linspace(0, length, 20001)
    slope = lift * (6 * x * length - 3 * x**2) / (2 * length**3)
    half_square = slope**2 / 2
    return float(np.sum(half_square[1:] + half_square[:-1]) / 2 * (x[1] - x[0]))


class Tooth:
    """A tooth beside such a wheel. `past` is the angle of a point past the level of the axis; s runs
    outwards, z the way the points move. The struck face lies `level` before the axis' level."""

    def __init__(self, model, length, level=0.0):
        self.model, self.level = model, level
        self.end = model.tip - model.overlap
        self.back = shortening(length, 1e-3) / 1e-6

    def lift(self, past):
        """The least lift at which no part of the point is in the tooth: what of the point reaches
        past the tooth's end lies before its face."""
        z, s = self.model.outline(past)

        def inside(lift):
            end = self.end + self.back * lift**2
            over = s >= end
            if not over.any():
                return -1.0
            reach = z[over].max()
            # Where sides of the polygon cross the line of the end.
            for i in np.nonzero(over[1:] != over[:-1])[0]:
                share = (end - s[i]) / (s[i + 1] - s[i])
                reach = max(reach, z[i] + share * (z[i + 1] - z[i]))
            return reach + self.level - lift

        if inside(0.0) <= 0:
            return 0.0
        return brentq(inside, 0.0, self.model.tip, xtol=1e-14)

    def slips(self):
        """The angle of the greatest lift, and that lift."""
        angles = np.linspace(-0.4, 0.6, 101)
        best = angles[int(np.argmax([self.lift(angle) for angle in angles]))]
        found = minimize_scalar(lambda past: -self.lift(past), bounds=(best - 0.01, best + 0.01),
                                method="bounded", options={"xatol": 1e-9})
        return found.x, -found.fun

    def meets(self, slips):
        """The angle from which on there is a lift."""
        low, high = slips - 0.6, slips - 0.03
        while high - low > 1e-11:
            middle = (low + high) / 2
            low, high = (low, middle) if self.lift(middle) > 0 else (middle, high)
        return high
