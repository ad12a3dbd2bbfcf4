#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""pitch_command_test.py PROGRAM SOURCE_DIR: what the command pitch hears in the examples and in a
recording by another program, and what it refuses. The truth of the examples stands in
examples/recordings/README.md."""
import math
import struct
import unittest
import wave

from program import BRAMBLE, EXAMPLES, ProgramTest

RECORDINGS = EXAMPLES / "recordings"


def cents(hz, truth):
    return 1200 * math.log2(hz / truth)


class Pitch(ProgramTest):
    def write_wav(self, name, samples, rate=44100):
        """A mono WAV of 16 bit by Python's own writer."""
        with wave.open(str(self.folder / name), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(rate)
            file.writeframes(b"".join(struct.pack("<h", round(32767 * s)) for s in samples))
        return name

    def test_a_tooth(self):
        found = self.answer("pitch", RECORDINGS / "tooth.flac")
        self.assertEqual((found["note"], found["sure"], found["findings"]), ("G#4", True, []))
        self.assertLess(abs(cents(found["components"][0]["frequency_hz"], 425)), 0.001)
        self.assertAlmostEqual(found["offset_cents"], cents(425, 440 * 2 ** (-1 / 12)), places=2)
        self.assertAlmostEqual(found["onset_s"], 0.3, places=2)

    def test_a_sinusoid_that_dies_by_another_writer(self):
        rate, hz, decay_s = 44100, 523.25, 0.4
        samples = [0.5 * math.exp(-n / rate / decay_s) * math.cos(2 * math.pi * hz * n / rate)
                   for n in range(rate)]
        found = self.answer("pitch", self.write_wav("tone.wav", [0.0] * 9000 + samples))
        self.assertLess(abs(cents(found["components"][0]["frequency_hz"], hz)), 0.001)
        self.assertAlmostEqual(found["components"][0]["decay_s"], decay_s, places=4)
        self.assertAlmostEqual(found["components"][0]["amplitude"], 0.5, places=3)
        self.assertAlmostEqual(found["onset_s"], 9000 / rate, places=3)

    def test_a_pair(self):
        found = self.answer("pitch", RECORDINGS / "pair.flac", "--pair")
        self.assertAlmostEqual(found["beat_hz"], 1.2, places=3)
        heard = sorted(tooth["frequency_hz"] for tooth in found["components"])
        for hz, truth in zip(heard, [782.1, 783.3], strict=True):
            self.assertLess(abs(cents(hz, truth)), 0.005)

    def test_warmth_is_taken_off(self):
        cold = self.answer("pitch", RECORDINGS / "tooth.flac")
        warm = self.answer("pitch", RECORDINGS / "tooth.flac", "--temperature", "26 C")
        per_k = self.answer("tooth", "--length=30mm", "--width=2mm", "--thickness=1mm")["cents_per_k"]
        self.assertAlmostEqual(warm["offset_cents"] - cold["offset_cents"], -6 * per_k, places=9)
        self.assertLess(warm["stderr_cents"], cold["stderr_cents"])

    def test_a_comb(self):
        found = self.answer("pitch", RECORDINGS / "comb.flac", "--comb", BRAMBLE)
        self.assertEqual([t["track"] for t in found["teeth"] if t["state"] != "heard"], [12])
        self.assertEqual(found["teeth"][11]["frequency_hz"], None)
        for tooth in found["teeth"]:
            if tooth["state"] == "heard":
                self.assertLess(abs(tooth["offset_cents"]), 5)

    def test_silence_is_a_fault(self):
        found = self.answer("pitch", self.write_wav("silence.wav", [0.0] * 5000), status=(1,))
        self.assertEqual(found["components"], [])
        self.assertEqual(found["findings"][0]["level"], "fault")

    def test_what_is_wrong_is_said_in_one_line(self):
        tooth = RECORDINGS / "tooth.flac"
        (self.folder / "text.wav").write_text("not a sound")
        for words in (["text.wav"], ["missing.wav"], [self.folder], [tooth, "--near", "440"],
                      [tooth, "--near", "H4"], [tooth, "--temperature", "300 C"],
                      [tooth, "--which", "front"], [tooth, "--comb", BRAMBLE, "--pair"],
                      [tooth, "--comb", BRAMBLE, "--which", "nine"], [tooth, "--comb", tooth]):
            run = self.run_program("pitch", *words)
            with self.subTest(words=words):
                self.assertEqual((run.returncode, run.stdout), (2, ""))
                self.assertEqual(len(run.stderr.splitlines()), 1, run.stderr)

    def test_a_damaged_recording_is_heard_as_far_as_it_is_sound_or_refused(self):
        whole = (RECORDINGS / "tooth.flac").read_bytes()
        for size in (3, 40, 100, 3000, len(whole) // 2):
            (self.folder / "cut.flac").write_bytes(whole[:size])
            run = self.run_program("pitch", "cut.flac")
            with self.subTest(size=size):
                self.assertIn(run.returncode, (0, 1, 2))
                if run.returncode != 2:
                    self.assertIn("cut short", run.stdout)

class Options(ProgramTest):
    def test_what_would_do_nothing_is_refused(self):
        for option, needed in (("--shop", "--comb"), ("--who", "--db"), ("--remark", "--db")):
            run = self.run_program("pitch", EXAMPLES / "recordings/tooth.flac", option, "x")
            with self.subTest(option=option):
                self.assertEqual((run.returncode, run.stdout), (2, ""))
                self.assertIn(needed, run.stderr)


if __name__ == "__main__":
    unittest.main()
