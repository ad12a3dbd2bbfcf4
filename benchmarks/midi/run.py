#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""run.py BENCH [OUT.json]: times our MIDI reader and its peers on the same real files in one run.

BENCH is the program bench_midi; the files are those of tests/corpus/midi.sh. First every contestant
counts the pitched notes of every file; files that one of them refuses or counts otherwise are left
out for all and named, with who said what. Then each reads all files from memory, several times;
the median of the processor time counts. What each does: ours gives a whole tune, sorted, in
seconds; libsmf, events in order of time, in seconds; @tonejs/midi, notes in seconds by track; mido,
events merged in order of time; midi-file and midifile-ts, events by track in ticks.
"""
import json
import pathlib
import statistics
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
BUILD = HERE.parent.parent / "build"
NPM = BUILD / "bench" / "midi-peers"
PACKAGES = {"midi-file": "1.2.4", "@tonejs/midi": "2.0.28", "midifile-ts": "1.5.2"}


def contestants(bench):
    """(name, command, rounds)"""
    found = [("combwright", [bench, "ours"], 25), ("libsmf", [bench, "libsmf"], 3),
             ("mido", [sys.executable, HERE / "peers.py", "mido"], 1)]
    NPM.mkdir(parents=True, exist_ok=True)
    wanted = [f"{name}@{version}" for name, version in PACKAGES.items()]
    (NPM / "package.json").write_text('{"private": true}')
    got = subprocess.run(["npm", "install", "--silent", "--no-audit", "--no-fund", *wanted], cwd=NPM)
    if got.returncode == 0:
        found += [(name, ["node", HERE / "peers.mjs", name], 5) for name in PACKAGES]
    else:
        print("the peers from npm could not be installed", file=sys.stderr)
    return found


def ask(command, arguments, paths):
    run = subprocess.run([*command, *arguments], input="\n".join(map(str, paths)), cwd=NPM, text=True,
                         stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=True)
    return run.stdout.split()


def agreed(players, paths):
    """The files of which all contestants count the same notes, and the number of notes."""
    counts = [ask(command, ["count"], paths) for _, command, _ in players]
    kept, notes = [], 0
    for path, answers in zip(paths, zip(*counts)):
        if len(set(answers)) == 1:
            kept.append(path)
            notes += int(answers[0])
        else:
            said = ", ".join(f"{player[0]} {answer}" for player, answer in zip(players, answers)
                             if answer != answers[0])
            print(f"left out {path.parent.name}/{path.name}: combwright {answers[0]}, {said}",
                  file=sys.stderr)
    return kept, notes


def main():
    bench = pathlib.Path(sys.argv[1]).resolve()
    out = pathlib.Path(sys.argv[2]) if len(sys.argv) > 2 else BUILD / "bench" / "midi.json"
    paths = sorted(path for path in (BUILD / "corpus" / "midi").glob("*/*")
                   if path.suffix.lower() in (".mid", ".kar"))
    if not paths:
        sys.exit("no files; tests/corpus/midi.sh brings them")
    players = contestants(bench)
    kept, notes = agreed(players, paths)
    size = sum(path.stat().st_size for path in kept)
    print(f"{len(kept)} of {len(paths)} files, {size} bytes, {notes} pitched notes")
    results = []
    for name, command, rounds in players:
        seconds = statistics.median(map(float, ask(command, ["time", str(rounds)], kept)))
        results.append({"name": name, "seconds": seconds, "mb_per_s": size / seconds / 1e6,
                        "times_ours": seconds / results[0]["seconds"] if results else 1.0})
        print("{name:14} {mb_per_s:9.2f} MB/s, {times_ours:8.1f} times our time".format(**results[-1]))
    out.parent.mkdir(parents=True, exist_ok=True)
    out.write_text(json.dumps({"files": len(kept), "files_left_out": len(paths) - len(kept),
                               "bytes": size, "notes": notes, "contestants": results}, indent=2) + "\n")


if __name__ == "__main__":
    main()
