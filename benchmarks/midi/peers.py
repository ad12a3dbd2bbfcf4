#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""peers.py mido count|time ROUNDS < LIST: as midi_bench, for mido."""
import io
import pathlib
import sys
import time


def mido_notes(file):
    import mido
    try:
        song = mido.MidiFile(file=io.BytesIO(file), clip=True)
        # Merging puts the events of all tracks in order of time.
        return sum(1 for message in mido.merge_tracks(song.tracks)
                   if message.type == "note_on" and message.velocity > 0 and message.channel != 9)
    except Exception:
        return -1


def main():
    read = {"mido": mido_notes}[sys.argv[1]]
    files = [pathlib.Path(line.rstrip("\n")).read_bytes() for line in sys.stdin]
    if sys.argv[2] == "count":
        for file in files:
            print(read(file))
        return
    for _ in range(int(sys.argv[3])):
        start = time.process_time()
        for file in files:
            read(file)
        print(time.process_time() - start)


if __name__ == "__main__":
    main()
