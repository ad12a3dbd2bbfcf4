#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""tines_test.py LISTEN TINES: what the ear hears in sounds that share no code with it: real plucked
tines of sound fonts (tests/corpus/tines.sh), a bar model of csound, and decaying tones of sox. No
recording of a steel comb is among them. Exit 77 if there are no tines."""
import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

import numpy
from scipy.io import wavfile

LISTEN, TINES = sys.argv[1], pathlib.Path(sys.argv[2])
NOTES = "C C# D D# E F F# G G# A A# B".split()
# The ear is told nothing of so short a sound.
SHORTEST_S = 0.05

BAR = """<CsoundSynthesizer>
<CsInstruments>
sr = 48000
ksmps = 1
nchnls = 1
0dbfs = 1
instr 1
  aout barmodel 1, 3, p4, 0.0001, 0, 3, 0.3, 3000, 0.1
  out aout
endin
</CsInstruments>
<CsScore>
i1 0.2 3 {stiffness}
e 3.3
</CsScore>
</CsoundSynthesizer>
"""


def listen(paths, how="one"):
    run = subprocess.run([LISTEN, how, *paths], capture_output=True, text=True)
    if run.returncode:
        raise AssertionError(run.stderr)
    return [json.loads(line) for line in run.stdout.splitlines()]


def surest(heard):
    return None if heard["surest"] is None else heard["plucks"][heard["surest"]]


def cents(hz, other):
    return 1200 * math.log2(hz / other)


def strongest_hz(rate, samples, least_hz=60.0, most_hz=math.inf):
    """The largest line of a long windowed Fourier transform between two pitches."""
    padded = 1 << 19
    power = numpy.abs(numpy.fft.rfft(samples * numpy.hanning(len(samples)), padded)) ** 2
    bins = numpy.arange(len(power)) * rate / padded
    top = int(numpy.argmax(numpy.where((bins > least_hz) & (bins < most_hz), power, 0.0)))
    a, b, c = numpy.log(power[top - 1:top + 2])
    return (top + 0.5 * (a - c) / (a - 2 * b + c)) * rate / padded


def read(path):
    rate, samples = wavfile.read(path)
    return rate, samples.astype(float)


class Tines(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        paths = sorted(TINES.glob("*/*.wav"))
        cls.heard = dict(zip(paths, listen(paths)))
        cls.long = [p for p in paths if len(read(p)[1]) / read(p)[0] >= SHORTEST_S]
        assert len(cls.long) >= 20, "tests/corpus/tines.sh brings them"

    # Where the pitch of a tine moves as it dies, it depends on which part of it counts how much: by
    # as much as it moves from the whole to its second half, or as the ear says.
    def test_the_pitch_is_that_of_a_long_fourier_transform(self):
        for path in self.long:
            with self.subTest(tine=f"{path.parent.name}/{path.name}"):
                rate, samples = read(path)
                rung = samples[int(0.01 * rate):]
                whole = strongest_hz(rate, rung)
                half = strongest_hz(rate, rung[len(rung) // 2:])
                own = surest(self.heard[path])["own"][0]
                off = abs(cents(own["frequency_hz"], whole))
                stated = cents(whole + own["stderr_hz"], whole)
                self.assertLess(off, 0.3 + max(abs(cents(half, whole)), 3 * stated))

    # The samples are named after the key they are for, C5 being 261.63 Hz, and lie within 10 cents
    # of it (NumPy); but for one, G8, which is named after its second mode, four times its first.
    def test_no_octave_and_no_mode_is_mistaken(self):
        named = [path for path in self.long if path.parent.name.startswith("fluid")]
        self.assertEqual(len(named), 17)
        for path in named:
            with self.subTest(tine=path.name):
                note, octave = re.search(r"-([A-G]#?)(\d)\.wav", path.name).groups()
                nominal = 440 * 2 ** ((NOTES.index(note) + 12 * int(octave) - 69) / 12)
                if (note, octave) == ("G", "8"):
                    nominal /= 4
                own = surest(self.heard[path])["own"][0]
                self.assertLess(abs(cents(own["frequency_hz"], nominal)), 10)

    def test_the_strongest_higher_mode_is_heard(self):
        for path in self.long:
            own = surest(self.heard[path])["own"][0]["frequency_hz"]
            rate, samples = read(path)
            rung = samples[int(0.01 * rate):]
            if path.name.startswith("kalimba") or 5.5 * own > rate / 2:
                continue
            with self.subTest(tine=f"{path.parent.name}/{path.name}"):
                second = strongest_hz(rate, rung, 2.8 * own)
                partials = [p["frequency_hz"] for p in surest(self.heard[path])["partials"]]
                self.assertLess(min(abs(hz / second - 1) for hz in partials), 3e-3)

    def test_a_snippet_too_short_is_no_pitch(self):
        short = [path for path in self.heard if path not in self.long]
        self.assertEqual(len(short), 3)
        for path in short:
            self.assertIsNone(self.heard[path]["surest"], path.name)


class Made(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)

    def bar(self, stiffness):
        path = self.folder / "bar.wav"
        (self.folder / "bar.csd").write_text(BAR.format(stiffness=stiffness))
        subprocess.run(["csound", "-d", "-W", "-3", "-o", path, self.folder / "bar.csd"], check=True,
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        return path

    # Its fall by 60 dB takes the 3 s that the score says; modes 2 and 1 of a bar clamped at one end:
    # 6.2669 (Thomson, Theory of Vibration with Applications, appendix D).
    def test_the_bar_model_of_csound(self):
        for stiffness in (100, 200, 300):
            path = self.bar(stiffness)
            rate, samples = read(path)
            pluck = surest(listen([path])[0])
            own = pluck["own"][0]
            self.assertTrue(pluck["sure"], stiffness)
            by_fourier = strongest_hz(rate, samples[int(0.25 * rate):], least_hz=40.0, most_hz=240.0)
            self.assertLess(abs(cents(own["frequency_hz"], by_fourier)), 0.02, stiffness)
            self.assertAlmostEqual(own["decay_s"], 3 / math.log(1000), delta=2e-3)
            self.assertAlmostEqual(pluck["partials"][0]["frequency_hz"] / own["frequency_hz"], 6.2669,
                                   delta=0.01)

    # `fade l` falls by 100 dB over its length (sox's manual: logarithmic), so these are decaying
    # tones to the last bit of 24.
    def test_decaying_tones_of_sox(self):
        for hz in (65.406, 523.251, 4186.009):
            for rate in (44100, 48000, 96000):
                path = self.folder / "tone.wav"
                self.sox(path, rate, [hz])
                own = surest(listen([path])[0])["own"][0]
                self.assertLess(abs(cents(own["frequency_hz"], hz)), 1e-4, (hz, rate))
                self.assertAlmostEqual(own["decay_s"], 2 / (5 * math.log(10)), delta=1e-5)
                self.assertAlmostEqual(own["amplitude"], 0.5, delta=1e-3)

    def test_pairs_of_sox(self):
        for apart in (0.5, 1.0, 3.0):
            path = self.folder / "pair.wav"
            self.sox(path, 48000, [440.0, 440.0 + apart])
            own = sorted(o["frequency_hz"] for o in surest(listen([path], "pair")[0])["own"])
            self.assertEqual(len(own), 2)
            self.assertAlmostEqual(own[0], 440.0, delta=1e-3)
            self.assertAlmostEqual(own[1] - own[0], apart, delta=1e-3)

    def sox(self, path, rate, pitches):
        synth = [word for hz in pitches for word in ("sine", str(hz))]
        mix = ["remix", "-"] if len(pitches) > 1 else []
        subprocess.run(["sox", "-D", "-n", "-r", str(rate), "-b", "24", "-c", str(len(pitches)), path,
                        "synth", "2", *synth, *mix, "fade", "l", "0", "2", "2", "vol", "0.5", "pad",
                        "0.3", "0"], check=True)


if __name__ == "__main__":
    if not list(TINES.glob("*/*.wav")):
        print("no tines; tests/corpus/tines.sh brings them")
        sys.exit(77)
    unittest.main(argv=sys.argv[:1])
