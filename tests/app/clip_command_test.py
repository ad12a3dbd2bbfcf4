#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""clip_command_test.py PROGRAM SOURCE_DIR: what the command clip answers. Teeth are tuned by it from
their first reading to the end, their pitches by a beam model of the test's own."""
import hashlib
import json
import math
import struct
import unittest
import wave

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


class WithBox(ProgramTest):
    def setUp(self):
        super().setUp()
        # Its lines given, so that nothing is searched.
        text = BRAMBLE.read_text()
        self.assertEqual(text.count("[[comb]]"), 1)
        lines = self.answer("comb", BRAMBLE)["combs"][0]["lines"]
        shares = ", ".join(f'"{100 * share:.6g} %"' for share in lines)
        self.box = self.folder / "box.toml"
        self.box.write_text(text.replace("[[comb]]", f"[[comb]]\nlines = [{shares}]"))


class Clip(WithBox):
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
        self.assertRegex(run.stdout, r"^Do +stop: see the fault below")

    def test_a_pitch_of_the_pair_far_from_its_own_target_is_told(self):
        words = ["clip", LARKSPUR, "--comb", "back", "--track", "11", "--readings", "r.json"]
        (self.folder / "r.json").write_text('[{"frequency_hz": 131.0}]')
        self.assertIn("the pair's other tooth is given as 134 Hz",
                      str(self.answer(*words, "--beside", "134 Hz", status=(0, 1))["findings"]))

    def test_what_is_asked_wrongly_is_refused_in_one_line(self):
        for words, line in [
                ([LARKSPUR, "--track", 1, "--readings", READINGS],
                 '--comb is missing; the box has "front" or "back"'),
                ([self.box, "--comb", "side", "--track", 1, "--readings", READINGS],
                 '--comb is "side"; the box has "comb 1"'),
                ([self.box, "--track", 31, "--readings", READINGS],
                 "--track is 31; the box has 1 to 30"),
                ([self.box, "--track", 1],
                 "no reading of the tooth is given; name a recording of its pluck, a file of readings with --readings, or the records with --db"),
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


class Recorded(WithBox):
    """From a recording to the records and back. The truth of the recording stands in
    examples/recordings/README.md."""

    TOOTH = EXAMPLES / "recordings/tooth.flac"

    def clip(self, *more, **settings):
        return self.answer("clip", self.box, "--track", "7", *more, **settings)

    def test_a_recording_is_a_reading(self):
        told = self.clip(self.TOOTH)
        self.assertAlmostEqual(told["measured_hz"], 425, places=3)
        self.assertEqual(told["advice"]["do"], "clip")
        reading = told["readings"][0]
        # What nobody's thermometer leaves is shared by all readings; a twentieth of a cent is its own.
        self.assertAlmostEqual(reading["common_cents"], 0.416, delta=0.01)
        self.assertAlmostEqual(reading["stderr_hz"] / 425 * 1731, 0.05, delta=0.01)
        typed = {key: reading[key] for key in ("frequency_hz", "stderr_hz", "common_cents", "decay_s", "partials_hz")}
        (self.folder / "r.json").write_text(json.dumps([typed]))
        self.assertEqual(self.clip("--readings", "r.json")["advice"], told["advice"])

    def test_it_is_in_the_records_by_the_time_it_is_shown(self):
        told = self.clip(self.TOOTH, "--db", "w.db", "--temperature", "24 C", "--who", "Wren")
        filed = self.answer("log", "list", "--db", "w.db")["readings"]
        self.assertEqual([(f["track"], f["who"], f["temperature_c"]) for f in filed],
                         [(7, "Wren", 24.0)])
        self.assertEqual(filed[0]["recording"]["sha256"],
                         hashlib.sha256(self.TOOTH.read_bytes()).hexdigest())
        self.assertAlmostEqual(filed[0]["frequency_hz"], 425, places=3)
        self.assertEqual(self.clip("--db", "w.db")["advice"], told["advice"])

    def test_the_same_recording_again_is_not_another_reading(self):
        self.clip(self.TOOTH, "--db", "w.db")
        again = self.clip(self.TOOTH, "--db", "w.db")
        self.assertEqual(len(again["readings"]), 1)
        self.assertEqual(len(again["findings"]), 1)
        self.assertIn("already", again["findings"][0]["what"])

    def test_work_told_with_a_known_recording_is_not_dropped(self):
        self.clip(self.TOOTH, "--db", "w.db")
        for words in ([self.TOOTH, "--db", "w.db", "--clipped", "0.3 mm"],
                      [self.TOOTH, self.TOOTH, "--db", "n.db", "--clipped", "0.3 mm"]):
            run = self.run_program("clip", self.box, "--track", "7", *words)
            self.assertEqual((run.returncode, run.stdout), (2, ""))
            self.assertIn('give --clipped "0.3 mm" with the next recording', run.stderr)
        self.assertFalse((self.folder / "n.db").exists())
        self.assertEqual(len(self.clip(self.TOOTH, self.TOOTH, "--db", "n.db")["readings"]), 1)

    def test_a_recording_that_is_not_there_leaves_no_records(self):
        run = self.run_program("clip", self.box, "--track", "7", "missing.wav", "--db", "n.db")
        self.assertEqual(run.returncode, 2)
        self.assertFalse((self.folder / "n.db").exists())

    def test_what_was_clipped_goes_with_the_recording_after_it(self):
        tone = [0.4 * math.exp(-n / 15000) * math.cos(2 * math.pi * 433 * n / 44100)
                for n in range(60000)]
        with wave.open(str(self.folder / "next.wav"), "wb") as file:
            file.setparams((1, 2, 44100, 0, "NONE", ""))
            file.writeframes(b"".join(struct.pack("<h", round(32767 * s)) for s in [0.0] * 9000 + tone))
        at_once = self.clip(self.TOOTH, "next.wav", "--clipped", "0.6 mm")
        self.assertEqual([r["clipped_length_m"] for r in at_once["readings"]], [0, 0.0006])
        self.clip(self.TOOTH, "--db", "w.db")
        later = self.clip("next.wav", "--clipped", "0.6 mm", "--db", "w.db")
        self.assertEqual(later["advice"], at_once["advice"])

    def test_what_is_wrong_is_said_in_one_line(self):
        (self.folder / "silence.wav").write_bytes(
            b"RIFF" + struct.pack("<I", 36 + 8000) + b"WAVEfmt " +
            struct.pack("<IHHIIHH", 16, 1, 1, 44100, 88200, 2, 16) + b"data" +
            struct.pack("<I", 8000) + bytes(8000))
        for words in ([], ["silence.wav"], ["--clipped", "1 mm"], [self.TOOTH, "--clipped", "1"],
                      [self.TOOTH, "--clipped", "-1 mm"], [self.TOOTH] + 3 * ["--clipped", "1 mm"],
                      ["--db", "missing.db"], [self.TOOTH, "--db", self.folder]):
            run = self.run_program("clip", self.box, "--track", "7", *words)
            with self.subTest(words=words):
                self.assertEqual((run.returncode, run.stdout), (2, ""))
                self.assertEqual(len(run.stderr.splitlines()), 1, run.stderr)
        self.assertFalse((self.folder / "missing.db").exists())

    def test_a_comb_in_one_take_is_filed_as_a_whole(self):
        found = self.answer("pitch", EXAMPLES / "recordings/comb.flac", "--comb", self.box, "--db",
                            "w.db")
        filed = self.answer("log", "list", "--db", "w.db")["readings"]
        self.assertEqual((found["filed"], [f["track"] for f in filed]),
                         (29, [t for t in range(1, 31) if t != 12]))
        again = self.answer("pitch", EXAMPLES / "recordings/comb.flac", "--comb", self.box, "--db",
                            "w.db")
        self.assertEqual(again["filed"], 0)
        self.assertEqual(len(self.answer("log", "list", "--db", "w.db")["readings"]), 29)


if __name__ == "__main__":
    unittest.main()
