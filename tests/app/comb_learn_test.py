# SPDX-License-Identifier: Apache-2.0
"""comb_learn_test.py PROGRAM SOURCE_DIR: what `comb --learn` makes of pitches that a beam model of
its own computes for combs of known steel, root and weights."""
import functools
import json
import math
import random
import subprocess
import tomllib
import unittest

import numpy as np
import scipy.optimize

from beam_model import modes_hz
from program import BRAMBLE, PROGRAM, ProgramTest

# The defaults of docs/box.md: root yield, modulus and density with one standard deviation each.
PRIOR = np.array([0.44, 0.0, 0.0])
SPREAD = np.array([0.10, 0.015, 0.02])


@functools.cache
def designed():
    run = subprocess.run([PROGRAM, "comb", BRAMBLE, "--json"], capture_output=True, text=True)
    return json.loads(run.stdout)


def as_cut_hz(tooth, steel, truth):
    """The designed tooth, if root yield and logarithms of modulus and density are these."""
    root_yield, modulus, density = truth
    steel = {**steel, "modulus_pa": steel["modulus_pa"] * math.exp(modulus)}
    inertia = tooth["width_m"] * tooth["thickness_m"]**3 / 12
    tooth = {**tooth, "root_stiffness_n_m":
             steel["modulus_pa"] * inertia / (root_yield * tooth["thickness_m"])}
    if tooth["lead"]:
        lead = dict(tooth["lead"])
        for key in ("mass_kg", "as_cut_mass_kg"):
            lead[key] *= math.exp(density)
        tooth["lead"] = lead
    return modes_hz(tooth, steel, as_cut=True)[0]


def cents(ratio):
    return 1200 * math.log2(ratio)


def found(answer):
    return np.array([learnt["value"] if learnt["key"] == "comb.root_yield"
                     else math.log(learnt["value"] / learnt["before"])
                     for learnt in answer["learnt"]])


def spreads(answer):
    return np.array([learnt["spread"] if learnt["key"] == "comb.root_yield"
                     else learnt["spread"] / learnt["value"] for learnt in answer["learnt"]])


class Learn(ProgramTest):
    def measured(self, truth, scatter_cents, seed, spoilt=None):
        """Writes readings of every tooth of bramble, each off by its own cut."""
        rng = random.Random(seed)
        answer = designed()
        lines = ["comb,track,frequency_hz"]
        for tooth in answer["teeth"]:
            off = rng.gauss(0, scatter_cents) + (spoilt or {}).get(tooth["track"], 0)
            hz = as_cut_hz(tooth, answer["steel"], truth) * 2**(off / 1200)
            lines.append(f"{tooth['comb']},{tooth['track']},{hz:.6f}")
        (self.folder / "readings.csv").write_text("\n".join(lines) + "\n")

    def learnt(self):
        return self.answer("comb", BRAMBLE, "--learn", "readings.csv")

    def test_exact_readings_of_the_design_change_nothing(self):
        self.measured(PRIOR, 0, 1)
        answer = self.learnt()
        self.assertLess(np.max(np.abs(found(answer) - PRIOR) / spreads(answer)), 0.01)
        for reading in answer["readings"]:
            self.assertLess(abs(reading["off_cents"]), 0.02)

    def test_spreads_are_honest(self):
        # Combs drawn from what the box says of them: the errors over their stated spreads have a
        # mean square of 1 (definition of a standard deviation).
        rng = random.Random(20)
        squares = []
        for seed in range(16):
            truth = PRIOR + SPREAD * [rng.gauss(0, 1) for _ in range(3)]
            truth[0] = max(truth[0], 0.02)
            self.measured(truth, 5.0, seed)
            answer = self.learnt()
            squares += list(((found(answer) - truth) / spreads(answer))**2)
        self.assertGreater(np.mean(squares), 0.5)
        self.assertLess(np.mean(squares), 1.6)

    def test_an_independent_fit_agrees(self):
        truth = np.array([0.56, 0.02, -0.03])
        self.measured(truth, 4.0, 5)
        answer, design = self.learnt(), designed()
        measured = [reading["frequency_hz"] for reading in answer["readings"]]
        weights = np.array([reading["weight"] for reading in answer["readings"]])

        # In spreads from the prior and 10 more, so that relative steps are no rounding.
        def at(x):
            return PRIOR + SPREAD * (x - 10)

        def residuals(x):
            off = [cents(hz / as_cut_hz(tooth, design["steel"], at(x)))
                   for hz, tooth in zip(measured, design["teeth"])]
            return np.concatenate([np.sqrt(weights) * off / answer["scatter_cents"], x - 10])

        theirs = scipy.optimize.least_squares(residuals, np.full(3, 10.0), diff_step=1e-3)
        covariance = np.linalg.inv(theirs.jac.T @ theirs.jac) * np.outer(SPREAD, SPREAD)
        theirs_spread = np.sqrt(np.diag(covariance))
        self.assertLess(np.max(np.abs(found(answer) - at(theirs.x)) / theirs_spread), 0.05)
        self.assertLess(np.max(np.abs(spreads(answer) / theirs_spread - 1)), 0.05)
        self.assertLess(np.max(np.abs(np.array(answer["correlation"]) - covariance /
                                      np.outer(theirs_spread, theirs_spread))), 0.05)

    def test_a_tooth_that_was_cut_wrong_is_named_and_spoils_nothing(self):
        self.measured(PRIOR, 3.0, 7, spoilt={12: -90})
        answer = self.learnt()
        warnings = [f["where"] for f in answer["findings"] if "other teeth" in f["what"]]
        self.assertEqual(len(warnings), 1)
        self.assertTrue(warnings[0].endswith("track 12"))
        self.assertLess(np.max(np.abs(found(answer) - PRIOR) / spreads(answer)), 2.5)

    def test_readings_make_the_next_comb_better_known(self):
        self.measured(np.array([0.54, 0.01, 0.01]), 3.0, 9)
        answer = self.learnt()
        before, after = answer["spread_before"][0], answer["spread_after"][0]
        self.assertLess(after["common_cents"], 0.4 * before["common_cents"])
        # What is to be pasted is TOML, and the next comb is the one that these values make: its
        # expected pitches are the readings.
        keys = tomllib.loads(answer["box_keys"])
        self.assertEqual(set(keys), {"comb", "steel", "lead"})
        for section, key in (("steel", "modulus"), ("lead", "density")):
            self.assertIn(key, keys[section])
            self.assertIn(key + "_spread", keys[section])

    def test_teeth_drawn_from_the_spreads_lie_within_the_stated_ones(self):
        # The least well known tooth has the spread that is stated: standard deviation over combs
        # drawn from the box's spreads, each tooth with a scatter of 5 cents of its own.
        answer, rng = designed(), random.Random(3)
        drawn = []
        for _ in range(300):
            truth = PRIOR + SPREAD * [rng.gauss(0, 1) for _ in range(3)]
            drawn.append([cents(as_cut_hz(tooth, answer["steel"], truth) / tooth["modes_as_cut_hz"][0])
                          + rng.gauss(0, 5) for tooth in answer["teeth"]])
        widest = 1.96 * max(np.std(drawn, axis=0))
        # 300 draws know a standard deviation to 4 %.
        self.assertLess(abs(widest / answer["combs"][0]["cut_spread_cents"] - 1), 0.12)

    def test_a_margin_smaller_than_the_spread_is_warned_of(self):
        text = BRAMBLE.read_text()
        for flat, spreads_too, warned in [((5, 20), "", True), ((60, 100), "", False),
                                          ((5, 20), "0.1 %", False)]:
            box = text.replace("[[comb]]", f'[[comb]]\nleast_flat = "{flat[0]} cent"\n'
                               f'most_flat = "{flat[1]} cent"' +
                               (f'\nroot_yield_spread = "{spreads_too}"' if spreads_too else ""))
            if spreads_too:
                box += f'\n[steel]\nmodulus_spread = "{spreads_too}"\n'
                box += f'[lead]\ndensity_spread = "{spreads_too}"\n'
            (self.folder / "box.toml").write_text(box)
            found = [f for f in self.answer("comb", "box.toml")["findings"]
                     if "come off the saw sharp" in f["what"]]
            self.assertEqual(len(found), int(warned), (flat, spreads_too))

    def test_what_pitch_cannot_tell_apart_is_said(self):
        self.measured(np.array([0.54, 0.0, 0.0]), 3.0, 11)
        texts = " ".join(finding["what"] for finding in self.learnt()["findings"])
        self.assertRegex(texts, "hardly tells|tell little")

    def test_bad_readings(self):
        self.measured(PRIOR, 0, 1)
        good = (self.folder / "readings.csv").read_text().splitlines()
        name = designed()["teeth"][0]["comb"]
        hz = good[1].split(",")[2]
        for line, message in [
                (f"other,1,{hz}", f'comb is "other"; the box has "{name}"'),
                (f"{name},99,{hz}", "track is 99; the box has 1 to 30"),
                (f"{name},1,1e9", "frequency_hz is 1e+09, over an octave from the tooth's"),
                (f"{name},1,nan", "frequency_hz is nan, over an octave"),
                (f"{name},1,abc", 'frequency_hz is "abc"; write a number'),
                (f"{name},1", "has 2 cells; the first line has 3"),
                (f'"{name},1,{hz}', "a quote is opened and not closed"),
                (f"{name},2,{good[2].split(',')[2]}\n{name},2,{good[2].split(',')[2]}",
                 "track 2 stands here a second time")]:
            with self.subTest(line=line):
                (self.folder / "readings.csv").write_text(f"{good[0]}\n{line}\n")
                run = self.run_program("comb", BRAMBLE, "--learn", "readings.csv")
                self.assertEqual((run.returncode, run.stdout), (2, ""))
                self.assertRegex(run.stderr, r"^readings\.csv:[23]: [^\n]+\n$")
                self.assertIn(message, run.stderr)
        for text, message in [("", "holds no reading"), ("comb,track\n", "has no column frequency_hz")]:
            (self.folder / "readings.csv").write_text(text)
            run = self.run_program("comb", BRAMBLE, "--learn", "readings.csv")
            self.assertEqual(run.returncode, 2)
            self.assertIn(message, run.stderr)


if __name__ == "__main__":
    unittest.main()
