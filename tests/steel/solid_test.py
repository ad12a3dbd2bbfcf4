#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""solid_test.py PROGRAM BOX: the program's teeth beside CalculiX's solids of them, coarsely meshed.
Skipped where ccx is missing."""
import math
import sys
import unittest

import calculix
import solid_teeth

PROGRAM, BOX = sys.argv.pop(1), sys.argv.pop(1)
SKIPPED = 77

BAR = {"length_m": 0.03, "width_m": 0.002, "thickness_m": 0.001, "tip_thickness_m": 0.001,
       "lead": None}
LEADED_BAR = {**BAR, "lead": {"mass_kg": 544.32e-6, "center_m": 0.027, "length_m": 0.006,
                              "height_m": 0.004, "width_m": 0.002, "modulus_pa": 16e9,
                              "poisson_ratio": 0.44}}
STEEL = {"steel": {"modulus_pa": 205e9, "poisson_ratio": 0.29, "density_kg_m3": 7850}}


class Solids(unittest.TestCase):
    def within(self, found, expected, share):
        self.assertLess(abs(found / expected - 1), share, f"{found} Hz, {expected} Hz")

    def test_a_bar_held_by_its_face(self):
        # The mesh against one made apart from it (20-node bricks; own computation, no published
        # source): 919.40 Hz, and 429.93 Hz with the lead.
        for bar, hz in ((BAR, 919.40), (LEADED_BAR, 429.93)):
            found = solid_teeth.solid(STEEL, bar).bending_hz[0]
            self.within(found, hz, 1e-3)
            self.within(solid_teeth.ours(PROGRAM, bar)[0], found, 5e-3)

    def test_bending_is_told_from_swinging_lengthwise(self):
        # A bar's first mode along itself: sqrt(E / density) / 4 L (text-book).
        found = solid_teeth.solid(STEEL, BAR)
        self.within(found.other_hz[0], math.sqrt(205e9 / 7850) / 4 / 0.03, 2e-3)
        for solid, ours in zip(found.bending_hz[:4], solid_teeth.ours(PROGRAM, BAR), strict=True):
            self.within(ours, solid, 1e-2)

    def test_the_first_mode_of_six_teeth_is_within_one_per_cent(self):
        answer = solid_teeth.designed(PROGRAM, BOX)
        teeth = solid_teeth.six(answer)
        self.assertTrue(all(tooth["lead"] for tooth in teeth[:4]))
        self.assertFalse(any(tooth["lead"] for tooth in teeth[4:]))
        for tooth in teeth:
            with self.subTest(note=tooth["note"]):
                self.within(solid_teeth.ours(PROGRAM, tooth)[0],
                            solid_teeth.solid(answer, tooth).bending_hz[0], 1e-2)
                # As the design has it, with its yielding root, in a plate of five tracks' breadth.
                plate = solid_teeth.plate(answer, 10)
                self.within(tooth["modes_hz"][0],
                            solid_teeth.solid(answer, tooth, plate).bending_hz[0], 1e-2)


if __name__ == "__main__":
    if not calculix.available():
        sys.exit(SKIPPED)
    unittest.main()
