#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""musicxml_corpus_test.py DUMP CORPUS: compares our MusicXML reader, note for note, with
musescore3 (through the MIDI files it writes, read by mido) on every real file below CORPUS. DUMP is
the program musicxml_dump.

What is compared is the written music with its repeats and jumps: from a copy of every score,
ElementTree takes out what each player times in a way of its own (grace notes, arpeggios) or adds
notes for (trills, mordents, tremolos, glissandi), and makes cue notes and percussion rests. Both
readers read the copy. Onsets in quarter notes agree when they differ by no more than TOLERANCE,
one and a half of the 480 ticks to a quarter that musescore3 rounds to, and in seconds by no more
than TOLERANCE_S, which is that at 20 quarter notes a minute. One MIDI channel cannot hold a pitch
twice: unisons count once, and a note that begins while its part already holds the pitch need not
be in the MIDI file.

Copies and MIDI files are kept in CORPUS-plain for the next run. Exits 77 (skipped) if CORPUS or
musescore3 is missing.
"""
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
import zipfile

SKIPPED = 77
TOLERANCE = 1.5 / 480
TOLERANCE_S = 0.01
PERCUSSION = 9

ADDS_NOTES = {"ornaments", "glissando", "slide", "arpeggiate", "non-arpeggiate"}

NO_TIME = ("a bar before any time signature is as long as its contents; musescore3 makes it four "
           "quarter notes")
SHORT_BAR = ("bars too short for their time signature are filled up, as the notation means; "
             "musescore3 shortens them")
ROUNDED = ("a bar of 2 1/32 quarter notes (<duration> 65 in 32 divisions) keeps its length; "
           "musescore3 rounds it up to 2 1/16")
FIVE_VOICES = "musescore3 drops the fifth voice of a staff"
VOLTA = ("a repeat sign without a beginning goes back to the end of the last group of endings: bars "
         "1 2 1 3 4 5 6 7 4 5 8 9 10; musescore3 leaves the first ending out")

# Files on which we differ, and why we are right or chose so.
DIFFERENCES = {
    "io/testDivsDefinedTooLate1.xml": NO_TIME,
    "io/testDivsDefinedTooLate2.xml": NO_TIME,
    "io/testTuplets2.xml": SHORT_BAR,
    "io/testTuplets2_ref.xml": SHORT_BAR,
    "musicxml/testTuplets2.xml": SHORT_BAR,
    "musicxml/testTuplets2_ref.xml": SHORT_BAR,
    "lilyxml/00h-Basics-TimeSignatures.xml": SHORT_BAR,
    "lilyxml/04d-Spanners-JScore.xml": SHORT_BAR + "; its tuplet of 3 x 319/960 also leaves a gap",
    "vexflow/mock1.xml": SHORT_BAR + "; it also drops notes whose type contradicts their duration",
    "io/testUnusualDurations.xml": ROUNDED,
    "musicxml/testUnusualDurations.xml": ROUNDED,
    "io/testVoiceMapper1.xml": FIVE_VOICES,
    "io/testVoiceMapper3.xml": FIVE_VOICES,
    "musicxml/testVoiceMapper1.xml": FIVE_VOICES,
    "musicxml/testVoiceMapper3.xml": FIVE_VOICES,
    "vexflow/Telemann.mxl": FIVE_VOICES,
    "vexflow/Telemann.xml": FIVE_VOICES,
    "io/testVolta1.xml": VOLTA,
    "musicxml/testVolta1.xml": VOLTA,
}

# Files that agree in quarter notes and not in seconds.
TEMPO_DIFFERENCES = {
    "lilyxml/03c-MetronomeMarks.xml": "a long at 100 is 1600 quarter notes a minute; musescore3 "
                                      "stops short of it",
}

# Files that neither reader accepts.
REFUSED = {
    "musicxml/testPartsSpecialCases.xml": "has a part that is not in the part list",
}


def score_text(path):
    """The score's text, whatever its container and encoding label."""
    data = path.read_bytes()
    if path.suffix == ".mxl":
        with zipfile.ZipFile(path) as archive:
            container = ElementTree.fromstring(archive.read("META-INF/container.xml"))
            data = archive.read(container.find(".//{*}rootfile").get("full-path"))
    utf16 = data[:2] in (b"\xff\xfe", b"\xfe\xff")
    text = data.decode("utf-16" if utf16 else "utf-8-sig")
    return re.sub(r"^<\?xml[^>]*\?>", "", text)


def strip(measure):
    for note in list(measure.findall("note")):
        if note.find("grace") is not None:
            measure.remove(note)
            continue
        sounding = note.find("pitch")
        if note.find("cue") is not None or note.find("unpitched") is not None:
            for tag in ("pitch", "unpitched", "chord", "cue"):
                for child in note.findall(tag):
                    index = list(note).index(child)
                    note.remove(child)
                    if tag in ("pitch", "unpitched"):
                        note.insert(index, ElementTree.Element("rest"))
        for notations in note.findall("notations"):
            for child in list(notations):
                if child.tag in ADDS_NOTES:
                    notations.remove(child)


def write_plain(path, target):
    root = ElementTree.fromstring(score_text(path))
    for measure in root.iter("measure"):
        strip(measure)
        for part in measure.findall("part"):
            strip(part)
    ElementTree.ElementTree(root).write(target, encoding="UTF-8", xml_declaration=True)


def convert(plain):
    """Lets musescore3 write a MIDI file beside every plain score that has none. It may crash on
    one; then the rest is given to it again."""
    log = plain / "musescore.log"
    todo = [p for p in sorted(plain.glob("*.xml")) if not p.with_suffix(".mid").exists()]
    with open(log, "a") as out:
        while todo:
            job = plain / "job.json"
            job.write_text(json.dumps(
                [{"in": str(p), "out": str(p.with_suffix(".mid"))} for p in todo]))
            run = subprocess.run(["musescore3", "-j", str(job)], stdout=subprocess.PIPE,
                                 stderr=subprocess.STDOUT, timeout=600, text=True,
                                 env=dict(os.environ, QT_QPA_PLATFORM="offscreen"))
            out.write(run.stdout)
            if run.returncode == 0:
                break
            reached = re.findall(r"convert <(.*?)>", run.stdout)
            if not reached:
                break
            todo = todo[todo.index(pathlib.Path(reached[-1])) + 1:]


def reference(path):
    """Sorted (quarter, second, pitch) of every note-on."""
    import mido
    song = mido.MidiFile(path)
    events = []
    tempos = [(0, 500000)]
    for track in song.tracks:
        tick = 0
        for message in track:
            tick += message.time
            if message.type == "set_tempo":
                tempos.append((tick, message.tempo))
            elif (message.type == "note_on" and message.velocity > 0 and
                  message.channel != PERCUSSION):
                events.append((tick, message.note))
    tempos.sort(key=lambda tempo: tempo[0])
    notes = []
    index, at_tick, at_s = 0, 0, 0.0
    for tick, pitch in sorted(set(events)):
        while index + 1 < len(tempos) and tempos[index + 1][0] <= tick:
            next_tick = tempos[index + 1][0]
            at_s += (next_tick - at_tick) * tempos[index][1] * 1e-6 / song.ticks_per_beat
            at_tick = next_tick
            index += 1
        second = at_s + (tick - at_tick) * tempos[index][1] * 1e-6 / song.ticks_per_beat
        notes.append((tick / song.ticks_per_beat, second, pitch))
    return notes


def dump(program, paths):
    run = subprocess.run([program], input="".join(f"{p}\n" for p in paths), capture_output=True,
                         text=True, check=True)
    tunes = {}
    current = None
    for line in run.stdout.splitlines():
        kind, rest = line.split(" ", 1)
        if kind == "file":
            current = tunes[rest] = {"notes": [], "error": None}
        elif kind == "note":
            quarter, second, pitch, part, duration = rest.split()
            current["notes"].append((float(quarter), float(second), int(pitch), part,
                                     float(duration)))
        elif kind == "error":
            current["error"] = rest
    return tunes


def without_unisons(notes):
    kept = []
    last = {}
    for note in sorted(notes):
        if note[0] - last.get(note[2], -1.0) > TOLERANCE:
            kept.append(note)
        last[note[2]] = note[0]
    return kept


def is_held(note, notes):
    """True if its part already holds the note's pitch when it begins."""
    return any(n[2:4] == note[2:4] and n[0] < note[0] < n[0] + n[4] for n in notes)


def unmatched(ours, theirs):
    """Notes of either side without a partner on the other, and the pairs."""
    waiting = {}
    for note in theirs:
        waiting.setdefault(note[2], []).append(note)
    missing, pairs = [], []
    for note in ours:
        partners = [n for n in waiting.get(note[2], []) if abs(n[0] - note[0]) <= TOLERANCE]
        if partners:
            waiting[note[2]].remove(partners[0])
            pairs.append((note, partners[0]))
        else:
            missing.append(note)
    return missing, sorted(n for notes in waiting.values() for n in notes), pairs


class Report:
    def __init__(self):
        self.agreed = self.notes = self.held = 0
        self.faults = []

    def compare(self, name, ours, midi):
        if name in REFUSED:
            if not ours["error"] or midi.exists():
                self.faults.append(f"{name}: is read now; take it off the list")
            return
        if ours["error"] or not midi.exists():
            self.faults.append(f"{name}: {ours['error'] or 'musescore3 wrote no MIDI file'}")
            return
        theirs = without_unisons(reference(midi))
        mine = without_unisons(ours["notes"])
        missing, extra, pairs = unmatched(mine, theirs)
        struck = [note for note in missing if not is_held(note, ours["notes"])]
        differs = bool(struck or extra)
        if differs and name not in DIFFERENCES:
            self.faults.append(f"{name}: {len(mine)} notes, musescore3 {len(theirs)}; only ours "
                               f"{struck[:3]}; only theirs {extra[:3]}")
        if not differs and name in DIFFERENCES:
            self.faults.append(f"{name}: agrees now; take it off the list")
        if differs:
            return
        self.agreed += 1
        self.notes += len(mine)
        self.held += len(missing)
        off_s = max((abs(a[1] - b[1]) for a, b in pairs), default=0.0)
        if (off_s > TOLERANCE_S) != (name in TEMPO_DIFFERENCES):
            self.faults.append(f"{name}: off by {off_s:.3f} s")


def main(program, corpus):
    if not corpus.is_dir() or shutil.which("musescore3") is None:
        print("skipped: run tests/corpus/musicxml.sh and install musescore3 and python3-mido")
        return SKIPPED
    plain = corpus.with_name(corpus.name + "-plain")
    plain.mkdir(exist_ok=True)
    originals = sorted(p for p in corpus.glob("*/*.*") if p.suffix in (".xml", ".mxl"))
    copies = {}
    for path in originals:
        copy = plain / f"{path.parent.name}-{path.stem}{'-mxl' if path.suffix == '.mxl' else ''}.xml"
        copies[copy] = f"{path.parent.name}/{path.name}"
        if not copy.exists():
            write_plain(path, copy)
    convert(plain)

    tunes = dump(program, copies)
    report = Report()
    for copy, name in copies.items():
        report.compare(name, tunes[str(copy)], copy.with_suffix(".mid"))
    print(f"{len(copies)} scores: {report.agreed} agree note for note ({report.notes} notes, "
          f"{report.held} of them held in another voice), {len(DIFFERENCES)} differ for the "
          f"reasons listed, {len(REFUSED)} refused by both")
    for name, reason in sorted(DIFFERENCES.items()):
        print(f"  {name}: {reason}")
    for fault in report.faults:
        print(f"FAULT {fault}")
    return 1 if report.faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], pathlib.Path(sys.argv[2])))
