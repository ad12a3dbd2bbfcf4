#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""midi_corpus_test.py DUMP CORPUS: compares our MIDI reader, note for note, with two independent
readers, mido and midicsv, on every real file below CORPUS; and has the two read what our MIDI
writer makes of every tenth tune. DUMP is the program midi_dump.

Each reader's events are turned into notes here: a note-off ends the oldest note still sounding on
its track, channel and pitch; a note never released ends with its track; channel 10 is left out.
Exits 77 (skipped) if CORPUS is missing.
"""
import bisect
import collections
import math
import pathlib
import subprocess
import sys
import tempfile

SKIPPED = 77
PERCUSSION = 9
TOLERANCE = 1e-6  # of the time, or a microsecond near 0
WRITTEN_TICKS_PER_SECOND = 10000  # of write_midi

# What mido can't read, and why; for these midicsv alone is the reference.
MIDO_REFUSES = {
    # A key signature whose mode byte is neither 0 nor 1.
    "simutrans-data/games-simutrans-music-05-Boring-afternoon.mid",
    "simutrans-data/games-simutrans-music-30-On-the-waterfront.mid",
    # A time signature of two bytes instead of four.
    *(f"musescore3/test-midi-midi{number}.mid" for number in range(1, 6)),
}

Event = collections.namedtuple("Event", "track tick channel pitch velocity")


class Song:
    """What an independent reader says: note events in file order, tempos, the end of each track."""

    def __init__(self):
        self.events = []
        self.tempos = []
        self.track_ends = {}


def read_mido(path):
    import mido
    song = Song()
    for number, track in enumerate(mido.MidiFile(path, clip=True).tracks):
        tick = 0
        for message in track:
            tick += message.time
            if message.type == "note_on" or message.type == "note_off":
                velocity = message.velocity if message.type == "note_on" else 0
                song.events.append(Event(number, tick, message.channel, message.note, velocity))
            elif message.type == "set_tempo":
                song.tempos.append((tick, message.tempo))
        song.track_ends[number] = tick
    return song


def read_midicsv(path):
    run = subprocess.run(["midicsv", path], capture_output=True, check=True)
    song = Song()
    for line in run.stdout.decode("latin-1").splitlines():
        fields = line.split(", ")
        if len(fields) < 3:
            continue
        kind = fields[2]
        if kind == "Note_on_c" or kind == "Note_off_c":
            track, tick, channel, pitch, velocity = (int(fields[i]) for i in (0, 1, 3, 4, 5))
            song.events.append(
                Event(track, tick, channel, pitch, velocity if kind == "Note_on_c" else 0))
        elif kind == "Tempo":
            song.tempos.append((int(fields[1]), int(fields[3])))
        elif kind == "End_track":
            song.track_ends[int(fields[0])] = int(fields[1])
    return song


def timeline(tempos, division):
    """A function from ticks to seconds; sums are whole numbers until the last division."""
    if division & 0x8000:
        frames, per_frame = 256 - (division >> 8), division & 0xFF
        rate = 30000 / 1001 if frames == 29 else frames
        return lambda tick: tick / (rate * per_frame)
    starts, sums, quarters = [0], [0], [500000]
    for tick, quarter in sorted(tempos, key=lambda tempo: tempo[0]):
        sums.append(sums[-1] + (tick - starts[-1]) * quarters[-1])
        starts.append(tick)
        quarters.append(quarter)

    def seconds(tick):
        i = bisect.bisect_right(starts, tick) - 1
        return (sums[i] + (tick - starts[i]) * quarters[i]) / (1e6 * division)
    return seconds


def notes_of(song, division):
    """(onset, duration, pitch, velocity) in order of tick, pitch, track and channel."""
    sounding = collections.defaultdict(collections.deque)
    notes = []
    for event in song.events:
        if event.channel == PERCUSSION:
            continue
        key = (event.track, event.channel, event.pitch)
        if event.velocity > 0:
            note = [event.tick, event.pitch, event.track, event.channel, None, event.velocity]
            notes.append(note)
            sounding[key].append(note)
        elif sounding[key]:
            sounding[key].popleft()[4] = event.tick
    seconds = timeline(song.tempos, division)
    result = []
    for onset, pitch, track, _, end, velocity in sorted(notes, key=lambda note: note[:4]):
        start = seconds(onset)
        stop = seconds(song.track_ends[track] if end is None else end)
        result.append((start, stop - start, pitch, velocity))
    return result


def read_ours(dump, paths, folder):
    """{path: notes or the text of the error}; writes the tunes to the folder, too."""
    run = subprocess.run([dump, folder], input="\n".join(map(str, paths)) + "\n", capture_output=True,
                         check=True, text=True)
    songs = {}
    for line in run.stdout.splitlines():
        kind, _, rest = line.partition(" ")
        if kind == "file":
            songs[rest] = notes = []
        elif kind == "note":
            onset, duration, pitch, velocity = rest.split()
            notes.append((float(onset), float(duration), int(pitch), int(velocity)))
        else:
            songs[list(songs)[-1]] = rest
    return songs


def difference(ours, theirs):
    if isinstance(ours, str):
        return ours
    if len(ours) != len(theirs):
        return f"{len(ours)} notes against {len(theirs)}"
    for number, (our, their) in enumerate(zip(ours, theirs)):
        slack = TOLERANCE * max(1.0, their[0] + their[1])
        if our[2:] != their[2:] or any(abs(our[i] - their[i]) > slack for i in (0, 1)):
            return f"note {number}: {our} against {their}"
    return None


def rounded(notes):
    """(onset in ticks of our writer, pitch, velocity), sorted"""
    ticks = ((math.floor(note[0] * WRITTEN_TICKS_PER_SECOND + 0.5), note[2], note[3])
             for note in notes)
    return sorted(ticks)


READERS = (("mido", read_mido, MIDO_REFUSES), ("midicsv", read_midicsv, set()))


def compare_reader(paths, ours):
    """Lines on what differs, and how many files each reader was asked about."""
    compared, failures = collections.Counter(), []
    for path in paths:
        name = f"{path.parent.name}/{path.name}"
        division = int.from_bytes(path.read_bytes()[12:14], "big")
        for reader, read, refused in READERS:
            if name in refused:
                continue
            compared[reader] += 1
            try:
                wrong = difference(ours[str(path)], notes_of(read(path), division))
            except Exception as error:  # whatever a reader throws, the file needs looking at
                wrong = repr(error)
            if wrong:
                failures.append(f"{name}: {reader}: {wrong}")
    return failures, compared


def compare_writer(paths, ours, folder):
    failures = []
    for number, path in list(enumerate(paths, 1))[::10]:
        written = pathlib.Path(folder, f"{number}.mid")
        for reader, read, _ in READERS:
            notes = notes_of(read(written), WRITTEN_TICKS_PER_SECOND)
            if rounded(notes) != rounded(ours[str(path)]):
                failures.append(f"{path.name} written again: {reader} reads other notes")
    return failures


def main():
    dump, corpus = sys.argv[1], pathlib.Path(sys.argv[2])
    paths = sorted(path for path in corpus.glob("*/*") if path.suffix.lower() in (".mid", ".kar"))
    if not paths:
        print(f"no files below {corpus}; tests/corpus/midi.sh brings them")
        return SKIPPED
    with tempfile.TemporaryDirectory() as folder:
        ours = read_ours(dump, paths, folder)
        failures, compared = compare_reader(paths, ours)
        failures += compare_writer(paths, ours, folder)
    print(f"{len(paths)} files, {sum(map(len, ours.values()))} notes;",
          ", ".join(f"{count} against {reader}" for reader, count in compared.items()))
    print("\n".join(failures))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
