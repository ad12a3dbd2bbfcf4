#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""recording_files_test.py DUMP: files by writers that share no code with libsndfile (sox, and the
wave module, scipy and struct of Python) are read sample for sample as they were written."""
import pathlib
import struct
import subprocess
import sys
import tempfile
import unittest
import wave

import numpy
from scipy.io import wavfile

DUMP = sys.argv.pop()
RATE = 48000
RANDOM = numpy.random.default_rng(5)


def noise(bits, channels=2, frames=3001):
    """Whole numbers up to full scale, both ends among them."""
    top = 2 ** (bits - 1)
    values = RANDOM.integers(-top, top, (frames, channels))
    values[0, 0], values[1, 0] = -top, top - 1
    return values


def packed(values, size, order):
    return b"".join(int(v).to_bytes(size, order, signed=True) for v in values.ravel())


class Files(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)

    def check(self, path, values, scale, form, rate=RATE, cut_short=0):
        run = subprocess.run([DUMP, path], capture_output=True, text=True)
        self.assertEqual((run.returncode, run.stderr), (0, ""), path)
        head, *samples = run.stdout.split("\n")
        frames, channels = values.shape
        self.assertEqual(head, f"{rate} {channels} {frames} {cut_short} {form}", path)
        numpy.testing.assert_array_equal(numpy.array(samples[:-1], float),
                                         values.ravel() / scale, str(path))

    def wave_file(self, values, size):
        path = self.folder / "python.wav"
        with wave.open(str(path), "wb") as file:
            file.setnchannels(values.shape[1])
            file.setsampwidth(size)
            file.setframerate(RATE)
            file.writeframes(packed(values, size, "little"))
        return path

    def test_wav_of_the_wave_module(self):
        for size in (2, 3, 4):
            values = noise(8 * size)
            self.check(self.wave_file(values, size), values, 2.0 ** (8 * size - 1),
                       f"WAV, {8 * size} bit")

    def test_wav_of_scipy(self):
        path = self.folder / "scipy.wav"
        for kind, form in ((numpy.float32, "32-bit float"), (numpy.float64, "64-bit float")):
            values = RANDOM.normal(size=(2000, 1)).astype(kind)
            wavfile.write(path, 96000, values)
            self.check(path, values.astype(float), 1.0, f"WAV, {form}", 96000)
        values = noise(16, 3)
        wavfile.write(path, 44100, values.astype(numpy.int16))
        self.check(path, values, 32768.0, "WAV, 16 bit", 44100)

    def test_what_sox_makes_of_a_file(self):
        values = noise(24)
        source = self.wave_file(values, 3)
        for name, form, options in (("x.wav", "WAV, 24 bit", []), ("x.aiff", "AIFF, 24 bit", []),
                                    ("x.aifc", "AIFF, 24 bit", []), ("x.flac", "FLAC, 24 bit", []),
                                    ("y.wav", "WAV, 32-bit float", ["-e", "float", "-b", "32"]),
                                    ("z.wav", "WAV, 32 bit", ["-b", "32"])):
            path = self.folder / name
            subprocess.run(["sox", "-D", source, *options, path], check=True)
            self.check(path, values, 2.0 ** 23, form)

    def test_what_sox_writes_into_a_pipe_is_whole(self):
        values = noise(24)
        path = self.folder / "pipe.wav"
        with open(path, "wb") as out:
            subprocess.run(["sox", "-D", self.wave_file(values, 3), "-t", "wav", "-"], check=True,
                           stdout=out, stderr=subprocess.DEVNULL)
        self.check(path, values, 2.0 ** 23, "WAV, 24 bit")

    # Audio Interchange File Format 1.3 (1989): COMM with an 80-bit rate, then SSND.
    def test_aiff_by_its_specification(self):
        values = noise(16)
        frames, channels = values.shape
        rate = struct.pack(">HQ", 16383 + 15, RATE << 48)
        comm = b"COMM" + struct.pack(">IhIh", 18, channels, frames, 16) + rate
        sound = struct.pack(">II", 0, 0) + packed(values, 2, "big")
        body = b"AIFF" + comm + b"SSND" + struct.pack(">I", len(sound)) + sound
        path = self.folder / "spec.aiff"
        path.write_bytes(b"FORM" + struct.pack(">I", len(body)) + body)
        self.check(path, values, 32768.0, "AIFF, 16 bit")
        path.write_bytes(path.read_bytes()[:-2000])
        self.check(path, values[:-500], 32768.0, "AIFF, 16 bit", cut_short=1)

    # EBU Tech 3285: a bext chunk before the others; and an odd chunk, padded.
    def test_chunks_of_recorders_are_passed_over(self):
        values = noise(16, 1)
        sound = packed(values, 2, "little")
        fmt = b"fmt " + struct.pack("<IHHIIHH", 16, 1, 1, RATE, 2 * RATE, 2, 16)
        bext = b"bext" + struct.pack("<I", 602) + bytes(602)
        odd = b"note" + struct.pack("<I", 5) + b"12345\0"
        body = b"WAVE" + bext + fmt + odd + b"data" + struct.pack("<I", len(sound)) + sound
        path = self.folder / "chunks.wav"
        path.write_bytes(b"RIFF" + struct.pack("<I", len(body)) + body)
        self.check(path, values, 32768.0, "WAV, 16 bit")


if __name__ == "__main__":
    unittest.main()
