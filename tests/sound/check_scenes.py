# SPDX-License-Identifier: Apache-2.0
"""check_scenes.py CHECK FOLDER: one check of the WAV files that sound_scenes wrote, by numpy,
scipy, Python's wave module and sox, none of which share code with us."""
import json
import subprocess
import sys
import wave

import numpy as np
import scipy.linalg

FOLDER = sys.argv[2]
SCENES = json.load(open(f"{FOLDER}/scenes.json"))
TEETH = ("bass", "middle", "treble")
# Equal temperament on A4 = 440 Hz (definition): C4, C5, C6.
NOTE_HZ = {"bass": 261.625565, "middle": 523.251131, "treble": 1046.502261}


def read(name):
    """Left channel, -1..1."""
    with wave.open(f"{FOLDER}/{name}.wav") as file:
        raw = np.frombuffer(file.readframes(file.getnframes()), np.uint8).reshape(-1, 2, 3)
    padded = np.zeros(raw.shape[:2] + (4,), np.uint8)
    padded[..., 1:] = raw
    return padded.view("<i4")[:, 0, 0] / 2.0**31


def cents(a, b):
    return 1200 * np.log2(a / b)


def require(good, text):
    print(("ok   " if good else "WRONG ") + text)
    if not good:
        sys.exit(1)


def peak_near(x, rate, hz):
    """Frequency and level of the spectrum's peak within 4 % of hz: the parabola through the three
    highest points of the logarithm (Gaussian window, for which it is exact)."""
    n = len(x)
    window = np.exp(-0.5 * ((np.arange(n) - n / 2) / (n / 8)) ** 2)
    spectrum = np.log(np.abs(np.fft.rfft(x * window, 4 * n)) + 1e-300)
    first, last = int(0.96 * hz * 4 * n / rate), int(1.04 * hz * 4 * n / rate)
    k = first + int(np.argmax(spectrum[first:last]))
    a, b, c = spectrum[k - 1 : k + 2]
    shift = 0.5 * (a - c) / (a - 2 * b + c)
    return (k + shift) * rate / (4 * n), 20 / np.log(10) * (b - 0.25 * (a - c) * shift)


def bar_by_finite_elements(bar, count=60):
    """Frequencies and forces at the root after release of a clamped-free bar with a tip mass, by
    Hermite beam elements (text-book stiffness and consistent mass matrices)."""
    h = bar["length_m"] / count
    area = bar["width_m"] * bar["thickness_m"]
    bending = bar["modulus_pa"] * area * bar["thickness_m"] ** 2 / 12
    line_mass = bar["density_kg_m3"] * area
    stiffness = bending / h**3 * np.array(
        [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
         [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
    mass = line_mass * h / 420 * np.array(
        [[156, 22 * h, 54, -13 * h], [22 * h, 4 * h * h, 13 * h, -3 * h * h],
         [54, 13 * h, 156, -22 * h], [-13 * h, -3 * h * h, -22 * h, 4 * h * h]])
    size = 2 * count + 2
    k, m = np.zeros((size, size)), np.zeros((size, size))
    for e in range(count):
        part = slice(2 * e, 2 * e + 4)
        k[part, part] += stiffness
        m[part, part] += mass
    m[size - 2, size - 2] += bar["mass_ratio"] * line_mass * bar["length_m"]
    held, held_mass = k[0, 2:], m[0, 2:]
    k, m = k[2:, 2:], m[2:, 2:]
    values, shapes = scipy.linalg.eigh(k, m, subset_by_index=[0, 3])
    force = np.zeros(size - 2)
    force[-2] = 1.0
    lift = np.linalg.solve(k, force)
    lift *= bar["lift_m"] / lift[-2]
    found = []
    for n in range(4):
        swing = shapes[:, n] * (shapes[:, n] @ m @ lift)
        root = abs(held @ swing - values[n] * (held_mass @ swing))
        found.append((np.sqrt(values[n]) / (2 * np.pi),
                      root / (1 + values[n] * bar["release_time_s"] ** 2)))
    return found


def check_forces_by_finite_elements():
    for bar in SCENES["bars"]:
        for n, (found, ours) in enumerate(zip(bar_by_finite_elements(bar), bar["forces"])):
            require(abs(ours[0] / found[0] - 1) < 1e-6,
                    f"mass ratio {bar['mass_ratio']}: partial {n + 1} at {ours[0]:.4f} Hz")
            require(abs(ours[1] / found[1] - 1) < 1e-5, f"  force at the root {ours[1]:.6f} N")


def check_pitch_and_partials():
    # f_n / f_1 from Thomson, Theory of Vibration with Applications, app. D (bare), and from
    # Mathematical Problems in Engineering 2017, 1568019, table 1 (mass ratio 1).
    ratios = {"treble": [61.6972 / 3.5160, 22.0345 / 3.5160][::-1],
              "bass": [16.25009 / 1.557298, 50.89584 / 1.557298, 105.1983 / 1.557298],
              "middle": []}
    for tooth in TEETH:
        rate = SCENES[tooth]["rate_hz"]
        x = read(tooth)[int(0.1 * rate) :]
        f1, level1 = peak_near(x[: 2 * rate], rate, NOTE_HZ[tooth])
        require(abs(cents(f1, NOTE_HZ[tooth])) < 0.5, f"{tooth}: {f1:.4f} Hz, {cents(f1, NOTE_HZ[tooth]):+.4f} cent")
        for ratio in ratios[tooth]:
            f, level = peak_near(x[: rate // 4], rate, ratio * f1)
            require(abs(cents(f, ratio * f1)) < 0.5,
                    f"  partial {f:.2f} Hz, {cents(f, ratio * f1):+.4f} cent from {ratio:.5f} times")


def amplitude_over_time(x, rate, hz, times_s, length_s=0.05):
    n = int(length_s * rate)
    window = np.hanning(n)
    turn = np.exp(-2j * np.pi * hz * np.arange(n) / rate)
    return np.array([abs(np.sum(x[int(t * rate) :][:n] * window * turn)) for t in times_s])


def check_decay():
    # The rule in sound/partials.h: 6 s at C2 to 1 s at C8 on logarithmic scales.
    for tooth in TEETH:
        rate = SCENES[tooth]["rate_hz"]
        x = read(tooth)
        times = np.arange(0.3, 3.0, 0.05)
        levels = np.log10(amplitude_over_time(x, rate, NOTE_HZ[tooth], times)) * 20
        ring_s = -60 / np.polyfit(times, levels, 1)[0]
        rule_s = 6 * (1 / 6) ** (np.log2(NOTE_HZ[tooth] / 65.406391) / 6)
        require(abs(ring_s / rule_s - 1) < 0.02, f"{tooth}: to -60 dB in {ring_s:.4f} s, rule {rule_s:.4f} s")


def check_damper():
    rate = SCENES["repeat"]["rate_hz"]
    x = read("repeat")
    for pluck in SCENES["repeat"]["times_s"][1:]:
        # 20 ms of damping with 3 ms to a factor e; the last 4 ms lie 14 to 20 ms after the touch.
        ringing, damped = amplitude_over_time(x, rate, NOTE_HZ["middle"], (pluck - 0.03, pluck - 0.005), 0.004)
        require(damped < 0.02 * ringing, f"before {pluck} s: {20 * np.log10(damped / ringing):.1f} dB")


def check_onsets():
    """What rings on is predictable from what has rung (linear prediction); a pluck is not."""
    rate = SCENES["onsets"]["rate_hz"]
    x = read("onsets")[:: 2]
    rate //= 2
    order, history, frame = 60, int(0.04 * rate), int(0.01 * rate)
    limit = 0.01 * np.max(np.abs(x))
    found, at = [], int(np.argmax(np.abs(x) > 1e-4))
    found.append(at)
    at += history + order
    while at + frame < 5 * rate:
        past = np.lib.stride_tricks.sliding_window_view(x[at - history - order : at], order + 1)
        taps = np.linalg.lstsq(past[:, :-1], past[:, -1], rcond=1e-9)[0]
        now = np.lib.stride_tricks.sliding_window_view(x[at - order : at + frame], order + 1)
        jump = np.abs(now[:, -1] - now[:, :-1] @ taps) > limit
        if jump.any():
            found.append(at + int(np.argmax(jump)))
            at = found[-1] + history + order
        else:
            at += frame
    expected = np.array(SCENES["onsets"]["times_s"])
    require(len(found) == len(expected), f"{len(found)} onsets found, {len(expected)} put in")
    worst = np.max(np.abs(np.array(found) / rate - expected))
    require(worst < 0.001, f"largest error {1000 * worst:.3f} ms")


def check_header():
    for name in (*TEETH, "full"):
        scene, path = SCENES[name], f"{FOLDER}/{name}.wav"
        frames = round(scene["duration_s"] * scene["rate_hz"])
        with wave.open(path) as file:
            got = (file.getframerate(), file.getnchannels(), file.getsampwidth(), file.getnframes())
        require(got == (scene["rate_hz"], 2, 3, frames), f"{name}: wave module reads {got}")
        got = tuple(int(subprocess.check_output(["soxi", flag, path])) for flag in ("-r", "-c", "-b", "-s"))
        require(got == (scene["rate_hz"], 2, 24, frames), f"{name}: soxi reads {got}")


def check_peak():
    for name in (*TEETH, "full"):
        text = subprocess.run(["sox", f"{FOLDER}/{name}.wav", "-n", "stats"], capture_output=True, text=True).stderr
        peak = float(next(line for line in text.splitlines() if line.startswith("Pk lev dB")).split()[3])
        asked = SCENES[name]["peak_dbfs"]
        require(abs(peak - asked) < 0.01, f"{name}: sox finds {peak} dBFS, answered {asked:.4f}")


globals()[f"check_{sys.argv[1]}"]()
