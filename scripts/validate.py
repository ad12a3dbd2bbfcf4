#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""validate.py [BUILD_DIR]: measures our files and readers against programs that nobody here wrote
and writes docs/validation.md. Needs the release built with its tests and benchmarks,
and the packages and real files that scripts/test.sh brings."""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests/app"))
ARGUMENTS, sys.argv = sys.argv[1:], ["validate", "", ""]  # for tests/app/program.py, not used here
import readers
sys.path.insert(0, str(ROOT / "scripts/validation"))
import beams
import solids
from tables import table

BUILD = pathlib.Path(ARGUMENTS[0] if ARGUMENTS else ROOT / "build/release").resolve()
PROGRAM = BUILD / "combwright"
CASES = [("larkspur", "hedgerow-morning.musicxml"), ("bramble", "bramble-waltz.musicxml")]

HEAD = """# Validation

Our figures beside those of independent programs and published sources. Written by
`scripts/validate.py` from what it measured; don't edit.
"""


def answer(*words):
    run = subprocess.run([PROGRAM, *words, "--json"], capture_output=True, text=True,
                         env={**os.environ, "SOURCE_DATE_EPOCH": "1700000000"})
    return json.loads(run.stdout)


def worst_place_mm(hits, plan):
    """Largest distance between a hit read and the hit of the plan."""
    if len(hits) != len(plan["projections"]):
        raise SystemExit(f"{len(hits)} hits read of {len(plan['projections'])}")
    worst = 0.0
    for (radius_mm, angle), hit in zip(hits, plan["projections"]):
        wanted_mm = hit["radius_m"] * 1000
        along = ((angle - hit["angle_rad"] + 3) % readers.TURN - 3) * wanted_mm
        worst = max(worst, abs(radius_mm - wanted_mm), abs(along))
    return worst


def worst_time_ms(played, wanted):
    """Largest difference in time between what a file plays and the arrangement."""
    by_tooth = lambda pluck: (pluck[1], pluck[0])
    pairs = list(zip(sorted(played, key=by_tooth), sorted(wanted, key=by_tooth), strict=True))
    if any(one[1] != other[1] for one, other in pairs):
        raise SystemExit("a file plays another tooth")
    return max(abs(one[0] - other[0]) for one, other in pairs) * 1000


def files_rows(box, tune, folder):
    box_path, tune_path = ROOT / f"examples/{box}.toml", ROOT / "examples/tunes" / tune
    answer("pack", box_path, tune_path, "--out", folder)
    plan = json.loads((folder / "plan.json").read_text())
    arrangement = answer("arrange", box_path, tune_path)
    action = answer("action", box_path)
    for track in action["tracks"]:
        track["release_delay_s"] *= plan["turn_time_s"] / action["turn_time_s"]
    action["turn_time_s"] = plan["turn_time_s"]
    turning = plan["geometry"]["disc"]["turning"]
    wanted = [(pluck["time_s"], pluck["track"]) for pluck in arrangement["plucks"]]
    rows = []
    for name, reader, read in [("disc.dxf", "ezdxf", readers.dxf_hits),
                               ("disc.svg", "svgelements", readers.svg_hits),
                               ("disc.pdf", "Poppler", readers.pdf_hits),
                               ("punch.ngc", "LinuxCNC's interpreter", readers.rs274_hits),
                               ("projections.csv", "Python's csv", readers.csv_hits)]:
        hits = read(folder / name)
        rows.append([box, name, reader, str(len(hits)), f"{1000 * worst_place_mm(hits, plan):.2f}",
                     f"{worst_time_ms(readers.plucks(hits, action, turning), wanted):.4f}"])
    midi = {track["track"]: track["midi"] for track in arrangement["tracks"]}
    notes = readers.midi_notes(folder / "arrangement.mid")
    wanted = [(time, midi[track]) for time, track in wanted]
    rows.append([box, "arrangement.mid", "mido", str(len(notes)), "",
                 f"{worst_time_ms(notes, wanted):.4f}"])
    return rows


def corpus_row(what, readers_named, test, program, corpus):
    run = subprocess.run(["/usr/bin/python3", ROOT / "tests/music" / test, BUILD / "tests/music" / program,
                          ROOT / "build/corpus" / corpus], capture_output=True, text=True)
    first = run.stdout.splitlines()[0] if run.stdout else "not measured"
    return [what, readers_named, first]


def tour_rows():
    with tempfile.NamedTemporaryFile(suffix=".json") as out:
        subprocess.run([BUILD / "benchmarks/tour/bench_tour", out.name], check=True,
                       stdout=subprocess.DEVNULL)
        measured = json.load(open(out.name))
    return [[each["stops"], str(each["hits"]), str(each["discs"]),
             f"{100 * each['punch_tour']['median_gap']:.2f} %",
             f"{100 * each['punch_tour']['worst_gap']:.2f} %",
             f"{100 * each['nearest_2_exchange']['median_gap']:.2f} %"] for each in measured]


def main():
    rows = []
    with tempfile.TemporaryDirectory() as scratch:
        for box, tune in CASES:
            rows += files_rows(box, tune, pathlib.Path(scratch) / box)
    text = HEAD
    text += "\n## Files written, read back by others\n\n"
    text += ("The hits as the reader finds them, beside the plan (distance), and the tune rebuilt from "
             "that file\nalone beside the arrangement (time). Coordinates are rounded to 0.1 um; the "
             "PDF library keeps 1.4 um.\n\n")
    text += table(["box", "file", "read by", "hits", "largest distance, um", "largest time, ms"], rows)
    text += "\n## Tunes read, beside other readers of the same files\n\n"
    text += table(["files", "independent readers", "outcome"], [
        corpus_row("MIDI files from Debian and npm", "mido, midicsv", "midi_corpus_test.py",
                   "midi_dump", "midi"),
        corpus_row("MusicXML scores from Debian and npm", "MuseScore 3, then mido",
                   "musicxml_corpus_test.py", "musicxml_dump", "musicxml")])
    text += "\n## The punch's tour, beside a lower bound for any order\n\n"
    text += table(["stops", "hits", "discs", "median over the bound", "worst over the bound",
                   "nearest neighbour and 2-exchange, median"], tour_rows())
    text += beams.text(PROGRAM)
    text += solids.text(PROGRAM, BUILD / "benchmarks/steel/bench_steel")
    (ROOT / "docs/validation.md").write_text(text)
    print(text)


if __name__ == "__main__":
    main()
