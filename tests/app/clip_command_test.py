#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""clip_command_test.py PROGRAM SOURCE_DIR: what the command clip answers. Teeth are tuned by it from
their first reading to the end, their pitches by a beam model of the test's own."""
import json
import math
import unittest

from beam_model import modes_hz
from program import BRAMBLE, EXAMPLES, LARKSPUR, ProgramTest

READINGS = EXAMPLES / "bramble-c4.json"


class TrueTooth:
    """A tooth of the design with a steel, a root and a weight of its own, and what was clipped."""

    def __init__(self, answer, tooth, modulus, root, weight):
        self.steel = {**answer["steel"], "modulus_pa": answer["steel"]["modulus_pa"] * modulus}
        self.tooth = {**tooth, "root_stiffness_n_m": tooth["root_stiffness_n_m"] * modulus / root}
        self.weight = weight
        self.clipped_m = 0.0

    def hz(self):
        lead = self.tooth["lead"]
        length = lead["as_cut_length_m"] - self.clipped_m
        mass = lead["as_cut_mass_kg"] * self.weight * length / lead["as_cut_length_m"]
        inner = lead["as_cut_center_m"] - lead["as_cut_length_m"] / 2
        now = {**lead, "length_m": length, "mass_kg": mass, "center_m": inner + length / 2}
        return modes_hz({**self.tooth, "lead": now}, self.steel)[0]


class Clip(ProgramTest):
    def setUp(self):
        super().setUp()
        # Its lines given, so that nothing is searched.
        text = BRAMBLE.read_text()
        self.assertEqual(text.count("[[comb]]"), 1)
        lines = self.answer("comb", BRAMBLE)["combs"][0]["lines"]
        shares = ", ".join(f'"{100 * share:.6g} %"' for share in lines)
        self.box = self.folder / "box.toml"
        self.box.write_text(text.replace("[[comb]]", f"[[comb]]\nlines = [{shares}]"))

    def clip(self, track, readings, *more):
        (self.folder / "r.json").write_text(json.dumps(readings))
        return self.answer("clip", self.box, "--track", track, "--readings", "r.json", *more)

    def test_a_beam_of_ones_own_is_tuned_in_a_few_clips(self):
        answer = self.answer("comb", self.box)
        for track, modulus, root, weight, hand in [(1, 0.98, 1.1, 1.05, 1.07),
                                                   (4, 1.01, 0.9, 0.97, 0.94)]:
            with self.subTest(track=track):
                tooth = TrueTooth(answer, answer["teeth"][track - 1], modulus, root, weight)
                target = tooth.tooth["target_hz"]
                readings = [{"frequency_hz": tooth.hz(), "stderr_hz": tooth.hz() * 1e-4}]
                for _ in range(5):
                    told = self.clip(track, readings)
                    self.assertEqual(told["findings"], [])
                    self.assertAlmostEqual(told["offset_cents"],
                                           1200 * math.log2(tooth.hz() / target), delta=0.01)
                    if told["advice"]["do"] != "clip":
                        break
                    self.assertLessEqual(told["advice"]["overshoot_probability"], 0.005)
                    length = told["advice"]["length_m"]
                    tooth.clipped_m += length * hand
                    readings.append({"frequency_hz": tooth.hz(), "stderr_hz": tooth.hz() * 1e-4,
                                     "clipped_length_m": length})
                self.assertEqual(told["advice"]["do"], "stop")
                self.assertLessEqual(abs(1200 * math.log2(tooth.hz() / target)), 2.0)

    def test_the_text_begins_with_what_to_do_and_ends_with_the_cautions(self):
        run = self.run_program("clip", self.box, "--track", 1, "--readings", READINGS)
        self.assertEqual((run.returncode, run.stderr), (0, ""))
        self.assertRegex(run.stdout, r"^Do +clip 0\.\d\d mm off the tip end of the weight")
        self.assertIn("CAUTION", run.stdout)
        self.assertIn("do not eat or drink at the bench", run.stdout)

    def test_a_tooth_that_cannot_be_tuned_is_a_fault(self):
        told = self.clip(30, [{"frequency_hz": 1400.0}])
        self.assertEqual(told["advice"]["do"], "stop")
        self.assertIn("fault", [finding["level"] for finding in told["findings"]])
        run = self.run_program("clip", self.box, "--track", 30, "--readings", "r.json")
        self.assertEqual(run.returncode, 1)

    def test_what_is_asked_wrongly_is_refused_in_one_line(self):
        for words, line in [
                ([LARKSPUR, "--track", 1, "--readings", READINGS],
                 '--comb is missing; the box has "front" or "back"'),
                ([self.box, "--comb", "side", "--track", 1, "--readings", READINGS],
                 '--comb is "side"; the box has "comb 1"'),
                ([self.box, "--track", 31, "--readings", READINGS],
                 "--track is 31; the box has 1 to 30"),
                ([self.box, "--track", 1],
                 "no reading of the tooth is given; name a file of them with --readings FILE"),
                ([self.box, "--track", 1, "--readings", READINGS, "--risk", "30 %"],
                 '--risk "30 %" must be a chance from 0.001 % to 20 %'),
                ([self.box, "--track", 1, "--readings", READINGS, "--beside", "262 Hz"],
                 "the box has no pairs; leave the pitch of a pair's other tooth out"),
                ([self.box, "--track", 30, "--readings", READINGS],
                 "reading 1 is 252.41 Hz, over an octave from the tooth's 1567.98 Hz; look at its "
                 "track")]:
            with self.subTest(line=line):
                self.assert_refused(self.run_program("clip", *words), line)

    def test_a_pair_is_tuned_by_its_beat(self):
        (self.folder / "r.json").write_text('[{"frequency_hz": 131.0}]')
        words = ["clip", LARKSPUR, "--comb", "back", "--track", "11", "--readings", "r.json"]
        plain = self.answer(*words)
        paired = self.answer(*words, "--beside", "131.05 Hz")
        self.assertAlmostEqual(paired["target_hz"], 131.05 + plain["target_beat_hz"], places=6)
        self.assertAlmostEqual(paired["beat_hz"], 131.0 - 131.05, places=6)


if __name__ == "__main__":
    unittest.main()
