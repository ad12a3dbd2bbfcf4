#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""tooth_command_test.py PROGRAM SOURCE_DIR: what the command tooth answers and what it refuses."""
import math
import unittest

from program import ProgramTest

BAR = ["--length", "30 mm", "--width", "2 mm", "--thickness", "1 mm"]


class Tooth(ProgramTest):
    def answer_of(self, *words):
        return self.answer("tooth", *BAR, *words)

    def test_a_plain_bar(self):
        # l_n^2 / (2 pi) sqrt(E I / (rho A L^4)) with l from W. T. Thomson, Theory of Vibration with
        # Applications, appendix D; k = 3 E I / L^3; -2 dm / m of the pitch for a mass at the tip.
        found = self.answer_of("--theory", "thin")
        unit = 0.001 * math.sqrt(205e9 / (12 * 7850)) / (2 * math.pi * 0.03**2)
        for hz, root in zip(found["modes_hz"], [1.875104069, 4.694091133, 7.854757438]):
            self.assertAlmostEqual(hz / (unit * root**2), 1, places=8)
        self.assertGreaterEqual(len(found["modes_hz"]), 4)
        self.assertAlmostEqual(found["tip_stiffness_n_m"], 3796.2963, places=4)
        self.assertAlmostEqual(found["cents_per_mg"], 34.62468 / 4.71, places=5)
        self.assertAlmostEqual(found["cents_per_k"], -0.20645, places=5)
        self.assertEqual(found["findings"], [])

    def test_thick_is_what_holds_if_nothing_is_said(self):
        # Timoshenko's beam, k = 5/6, by numerical integration.
        self.assertAlmostEqual(self.answer_of()["modes_hz"][0], 916.426247, places=5)
        self.assertEqual(self.answer_of(), self.answer_of("--theory", "thick"))

    def test_a_point_at_the_tip_and_a_soft_root_sound_alike(self):
        # l_1 = 1.247917410: Swaminadham & Michael, J. Sound Vib. 66 (1979) 144, for a tip mass as
        # heavy as the bar, and for a root of E I / L = 1.138888889 N m.
        unit = 0.001 * math.sqrt(205e9 / (12 * 7850)) / (2 * math.pi * 0.03**2)
        for words in (["--lead", "471 mg@30 mm"], ["--root-stiffness", "1.138888889 N m"]):
            found = self.answer_of("--theory", "thin", *words)
            self.assertAlmostEqual(found["modes_hz"][0] / unit, 1.247917410**2, places=7)

    def test_a_lead_block(self):
        # One 3-D solution with 20-node bricks: 429.93 Hz.
        found = self.answer_of("--lead", "544.32 mg@27 mm", "--lead-length", "6 mm")
        self.assertLess(abs(1200 * math.log2(found["modes_hz"][0] / 429.93)), 5)
        self.assertEqual([f["level"] for f in found["findings"]], ["note"])

    def test_leads_add_up(self):
        one = self.answer_of("--lead", "30 mg@20 mm")
        two = self.answer_of("--lead", "10 mg@20 mm", "--lead", "20 mg@20 mm")
        self.assertAlmostEqual(one["modes_hz"][0], two["modes_hz"][0], places=7)

    def test_warmth_flattens(self):
        cold, warm = self.answer_of()["modes_hz"][0], self.answer_of("--temperature", "30 C")["modes_hz"][0]
        # f^2 goes as modulus times length: -2.5e-4 and 1.15e-5 for each kelvin.
        self.assertAlmostEqual((warm / cold)**2, (1 - 2.5e-3) * (1 + 1.15e-4), places=9)

    def test_a_taper_of_thickness(self):
        # l_1^2 = 3.93428, 17.4879, 44.0248 for a loss of 60 %: Int. J. Mech. Materials Eng. 2015,
        # s40712-015-0040-0, table 1.
        unit = 0.001 * math.sqrt(205e9 / (12 * 7850)) / (2 * math.pi * 0.03**2)
        found = self.answer_of("--theory", "thin", "--tip-thickness", "0.4 mm")
        for hz, square in zip(found["modes_hz"], [3.93428, 17.4879, 44.0248]):
            self.assertAlmostEqual(hz / unit / square, 1, delta=4e-6)

    def test_a_deep_lead_is_seen(self):
        # 2 g / (11,340 kg/m3 * 10 mm * 1.8 mm) = 9.798 mm.
        words = ["--length", "30 mm", "--width", "1.8 mm", "--thickness", "1 mm",
                 "--lead", "2 g@25 mm", "--lead-length", "10 mm"]
        text = self.run_program("tooth", *words).stdout
        self.assertIn("2 g at 25 mm, 10 mm long, hangs 9.798 mm down under the steel", text)
        self.assertIn("for each mg off the lead's tip end", text)

    def test_a_tooth_without_a_lead_is_clipped_at_the_tip(self):
        text = self.run_program("tooth", *BAR).stdout
        self.assertIn("for each mg less at the tip", text)
        self.assertNotIn("lead", text)

    def test_what_cannot_be_is_refused(self):
        for words, line in [
                (["--lead", "5 mg"], '--lead "5 mg" names no place; write MASS@POSITION such as '
                                     '"540 mg@27 mm"'),
                (["--lead", "5 mg@"], '--lead "5 mg@" gives no place; write MASS@POSITION such as '
                                      '"540 mg@27 mm"'),
                (["--lead", " @27 mm"], '--lead " @27 mm" gives no mass; write MASS@POSITION such '
                                        'as "540 mg@27 mm"'),
                (["--lead", "5 mg@31 mm"], "a lead ends 31 mm from the root, beyond the tip at "
                                           "30 mm; move it inwards"),
                (["--lead", "50 mg@15 mm", "--lead-length", "40 mm"],
                 "a lead is 40 mm long, the tooth only 30 mm; give a shorter lead"),
                (["--lead", "0 mg@3 mm"], "a lead of 0 mg is no weight for this tooth; give one "
                                          "above 0 and up to 471 g"),
                (["--lead", "nan mg@3 mm"], '--lead "nan mg": "nan mg" is not a finite number; write '
                                            "a number of mg, g, kg or oz"),
                (["--lead-length", "5 mm"],
                 "--lead-length is given without a lead; add --lead MASS@POSITION"),
                (["--tip-thickness", "0 mm"],
                 "the thickness at the tip is 0 mm; give one between 1 um and 10 m"),
                (["--root-stiffness", "60"], '--root-stiffness "60": 60 is a bare number; write it '
                                             "with a unit: N m"),
                (["--root-stiffness=-1 N m"], "the root holds the tooth against turning with "
                                              "-1 N m for a radian; give at least 1.139e-06 N m"),
                (["--theory", "stout"], "--theory stout is unknown; write thin or thick"),
                (["--temperature", "300 C"], '--temperature "300 C" is not one for a musical box; '
                                             "give one between -50 C and 100 C")]:
            self.assert_refused(self.run_program("tooth", *BAR, *words), line)

    def test_sizes_that_cannot_be_are_refused(self):
        for option, value, line in [
                (1, "-3 mm", "the length is -3 mm; give one between 1 um and 10 m"),
                (3, "0 mm", "the width is 0 mm; give one between 1 um and 10 m"),
                (5, "40 mm", "the tooth is 40 mm thick and only 30 mm long; no beam theory holds "
                             "for it"),
                (1, "inf mm", '--length "inf mm": "inf mm" is not a finite number; write a number '
                              "of mm, cm, m, um or in")]:
            words = [f"{BAR[i]}={value if i + 1 == option else BAR[i + 1]}" for i in (0, 2, 4)]
            self.assert_refused(self.run_program("tooth", *words), line)


if __name__ == "__main__":
    unittest.main()
