#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""run.py BENCH OUT: what bench_ear measures, and the errors of general pitch detectors over ours on
the same files: aubio (python3-aubio), pitchy and pitchfinder (npm), and the parabola through the
largest bin of a windowed Fourier transform (NumPy).

The peers are told where the pluck begins and get the 1.2 s from 30 ms after it on, past the click,
in frames of 8192 samples; the median over frames is their answer. Ours gets the file. Errors are
compared by their medians over the files, so that octaves missed don't count against anyone; how
often a contestant is more than half a semitone off stands beside it."""
import json
import pathlib
import statistics
import subprocess
import sys

import numpy
from scipy.io import wavfile

HERE = pathlib.Path(__file__).resolve().parent
BUILD = HERE.parent.parent / "build"
NPM = BUILD / "bench" / "ear-peers"
PACKAGES = {"pitchy": "4.1.0", "pitchfinder": "2.3.4"}
DETECTORS = ["pitchy", "pitchfinder YIN", "pitchfinder AMDF", "pitchfinder wavelet"]
FRAME, HOP = 8192, 4096
LEAST_HZ, MOST_HZ = 50.0, 5000.0


def cut(folder, entry):
    """The rate and the samples that the peers get."""
    rate, samples = wavfile.read(folder / entry["file"])
    begin = int((entry["onset_s"] + 0.03) * rate)
    return rate, samples[begin:begin + int(1.2 * rate)].astype(float) / 2.0 ** 31


def fourier(rate, samples):
    power = numpy.abs(numpy.fft.rfft(samples * numpy.hanning(len(samples)))) ** 2
    bins = numpy.arange(len(power)) * rate / len(samples)
    power[(bins < LEAST_HZ) | (bins > MOST_HZ)] = 0.0
    top = int(numpy.argmax(power))
    a, b, c = numpy.log(power[top - 1:top + 2] + 1e-300)
    return (top + 0.5 * (a - c) / (a - 2 * b + c)) * rate / len(samples)


def aubio_pitches(method, cuts):
    import aubio
    for rate, samples in cuts:
        detector = aubio.pitch(method, FRAME, FRAME // 8, rate)
        hops = samples[:len(samples) // (FRAME // 8) * (FRAME // 8)].reshape(-1, FRAME // 8)
        heard = [float(detector(hop.astype(numpy.float32))[0]) for hop in hops]
        # The detector's window fills up first.
        yield [hz for hz in heard[8:] if hz > 0]


def npm_pitches(name, cuts, folder):
    lines = []
    for i, (rate, samples) in enumerate(cuts):
        path = folder / f"cut{i}.f32"
        samples.astype(numpy.float32).tofile(path)
        lines.append(f"{path}\t{rate}\t{HOP}")
    run = subprocess.run(["node", HERE / "peers.mjs", name], input="\n".join(lines), text=True,
                         cwd=NPM, stdout=subprocess.PIPE, check=True)
    for line in run.stdout.split("\n")[:len(cuts)]:
        yield [float(word) for word in line.split()]


def npm_installed():
    NPM.mkdir(parents=True, exist_ok=True)
    (NPM / "package.json").write_text('{"private": true}')
    wanted = [f"{name}@{version}" for name, version in PACKAGES.items()]
    try:
        got = subprocess.run(["npm", "install", "--silent", "--no-audit", "--no-fund", *wanted], cwd=NPM)
        return got.returncode == 0
    except FileNotFoundError:
        return False


def contestants(cuts, folder):
    """(name, the pitch heard in each file, 0 where none was)"""
    def medians(answers):
        return [statistics.median(heard) if heard else 0.0 for heard in answers]

    yield "Fourier parabola", [fourier(*one) for one in cuts]
    try:
        import aubio  # noqa: F401
        for method in ("yin", "yinfft", "mcomb"):
            yield f"aubio {method}", medians(aubio_pitches(method, cuts))
    except ImportError:
        print("aubio: left out, python3-aubio is not installed", file=sys.stderr)
    if npm_installed():
        for name in DETECTORS:
            yield name, medians(npm_pitches(name, cuts, folder))
    else:
        print("pitchy, pitchfinder: left out, npm could not install them", file=sys.stderr)


def errors(pitches, truth):
    """Median distance in cents, and the share that is more than half a semitone off."""
    cents = [abs(1200 * numpy.log2(hz / entry["hz"])) if hz > 0 else numpy.inf
             for hz, entry in zip(pitches, truth)]
    return statistics.median(cents), sum(error > 50 for error in cents) / len(cents)


def peer_rows(bench, folder):
    subprocess.run([bench, "files", folder], check=True)
    truth = json.loads((folder / "truth.json").read_text())
    heard = subprocess.run([bench, "listen", folder], text=True, stdout=subprocess.PIPE, check=True)
    heard = [float(line) for line in heard.stdout.split()]
    for kind in ("quiet", "disturbed"):
        chosen = [i for i, entry in enumerate(truth) if entry["set"] == kind]
        entries = [truth[i] for i in chosen]
        ours, ours_off = errors([heard[i] for i in chosen], entries)
        for name, pitches in contestants([cut(folder, entry) for entry in entries], folder):
            theirs, off = errors(pitches, entries)
            yield {"figure": f"error of {name} over ours, {kind}", "reach": ">= 50 x",
                   "measured": f"{theirs / ours:.0f} x ({theirs:.3g} c, {100 * off:.0f} % mistaken; "
                               f"ours {ours:.2g} c, {100 * ours_off:.0f} %)"}


def main():
    bench, out = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2])
    subprocess.run([bench, out], check=True)
    rows = json.loads(out.read_text())
    for row in peer_rows(bench, BUILD / "bench" / "ear-files"):
        rows.append(row)
        print(f"{row['figure']:58} {row['reach']:10} {row['measured']}", flush=True)
    out.write_text(json.dumps(rows, indent=2) + "\n")


if __name__ == "__main__":
    main()
