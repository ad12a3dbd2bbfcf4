#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""font_tines.py FONT OUT_DIR: writes the samples of a sound font's music box and kalimba (General
MIDI programs 11 and 109, counted from 1) as 16-bit WAV.

Chunks and records as in the SoundFont Technical Specification 2.01 (1998), chapters 4 to 8; an .sf3
font has its samples packed as Ogg Vorbis, which sox unpacks."""
import pathlib
import re
import struct
import subprocess
import sys
import wave

PROGRAMS = {10: "music-box", 108: "kalimba"}  # counted from 0
INSTRUMENT, SAMPLE = 41, 53  # generators
PACKED = 0x10  # a flag of a sample's type


def chunks(data):
    """The leaves of a RIFF file by name."""
    at, found = 0, {}
    while at + 8 <= len(data):
        name, size = data[at:at + 4], struct.unpack_from("<I", data, at + 4)[0]
        body = data[at + 8:at + 8 + size]
        if name in (b"RIFF", b"LIST"):
            found.update(chunks(body[4:]))
        else:
            found[name.decode("ascii")] = body
        at += 8 + size
        if size % 2 and data[at:at + 1] == b"\0":  # some writers forget to pad
            at += 1
    return found


def generators(bags, gens, first, last, wanted):
    """Values of one generator in the zones from first to last."""
    for bag in range(first, last):
        for gen in range(bags[bag][0], bags[bag + 1][0]):
            if gens[gen][0] == wanted:
                yield gens[gen][1]


def samples_of(font, program):
    def records(name, form):
        size = struct.calcsize(form)
        return [struct.unpack_from(form, font[name], at) for at in range(0, len(font[name]), size)]

    presets, instruments = records("phdr", "<20sHHHIII"), records("inst", "<20sH")
    preset_bags, bags = records("pbag", "<HH"), records("ibag", "<HH")
    preset_gens, gens = records("pgen", "<HH"), records("igen", "<HH")
    headers = records("shdr", "<20sIIIIIBbHH")
    chosen = set()
    for preset, following in zip(presets, presets[1:]):
        if (preset[1], preset[2]) != (program, 0):
            continue
        for i in generators(preset_bags, preset_gens, preset[3], following[3], INSTRUMENT):
            chosen.update(generators(bags, gens, instruments[i][1], instruments[i + 1][1], SAMPLE))
    return [headers[i] for i in sorted(chosen)]


def write_wav(path, samples, rate):
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(samples)


def main():
    font = chunks(pathlib.Path(sys.argv[1]).read_bytes())
    out = pathlib.Path(sys.argv[2])
    out.mkdir(parents=True, exist_ok=True)
    for program, kind in PROGRAMS.items():
        for name, begin, end, _, _, rate, _, _, _, form in samples_of(font, program):
            title = re.sub(r"[^A-Za-z0-9#]+", "-", name.split(b"\0")[0].decode("latin-1")).strip("-")
            path = out / f"{kind}-{title}.wav"
            if form & PACKED:
                subprocess.run(["sox", "-t", "ogg", "-", "-b", "16", path], check=True,
                               input=font["smpl"][begin:end])
            else:
                write_wav(path, font["smpl"][2 * begin:2 * end], rate)


if __name__ == "__main__":
    main()
