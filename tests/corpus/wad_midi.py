#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""wad_midi.py FILE.wad OUT_DIR: writes each lump of a WAD file that is a Standard MIDI File.

A WAD file holds "IWAD" or "PWAD", the number of lumps and the offset of the directory (32-bit,
little-endian); a directory entry is offset, size and an eight-byte name.
"""
import pathlib
import struct
import sys

wad = pathlib.Path(sys.argv[1]).read_bytes()
out = pathlib.Path(sys.argv[2])
out.mkdir(parents=True, exist_ok=True)
count, directory = struct.unpack_from("<II", wad, 4)
for offset, size, name in struct.iter_unpack("<II8s", wad[directory:directory + 16 * count]):
    lump = wad[offset:offset + size]
    if lump.startswith(b"MThd"):
        (out / (name.rstrip(b"\0").decode("ascii") + ".mid")).write_bytes(lump)
