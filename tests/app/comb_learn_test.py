# SPDX-License-Identifier: Apache-2.0
"""comb_learn_test.py PROGRAM SOURCE_DIR: what `comb --learn` makes of pitches that a beam model of
its own computes for combs of known steel, root and weights."""
import functools
import hashlib
import json
import math
import pathlib
import random
import re
import subprocess
import tempfile
import tomllib
import unittest

import numpy as np
import scipy.integrate
import scipy.optimize
import scipy.stats

from beam_model import modes_hz
from program import BRAMBLE, LARKSPUR, PROGRAM, ProgramTest

# The defaults of docs/box.md: root yield, modulus and density with one standard deviation each, and
# the scatter of one tooth.
PRIOR = np.array([0.44, 0.0, 0.0])
SPREAD = np.array([0.10, 0.015, 0.02])
SCATTER = 5.0


SCRATCH = tempfile.TemporaryDirectory()


@functools.cache
def drawn():
    """bramble with the lines that the search finds for it, so that no call searches again."""
    lines = ", ".join(f'"{100 * share:.6g} %"' for share in designed(BRAMBLE)["combs"][0]["lines"])
    path = pathlib.Path(SCRATCH.name) / "drawn.toml"
    path.write_text(BRAMBLE.read_text().replace("[[comb]]", f"[[comb]]\nlines = [{lines}]"))
    return path


@functools.cache
def designed(box):
    run = subprocess.run([PROGRAM, "comb", box, "--json"], capture_output=True, text=True)
    return json.loads(run.stdout)


def as_cut_hz(tooth, steel, truth):
    """The designed tooth, if root yield and logarithms of modulus and density are these."""
    root_yield, modulus, density = truth
    steel = {**steel, "modulus_pa": steel["modulus_pa"] * math.exp(modulus)}
    inertia = tooth["width_m"] * tooth["thickness_m"]**3 / 12
    # The model takes no rigid root; one that yields by a millionth of the thickness is as good.
    stiffness = steel["modulus_pa"] * inertia / (max(root_yield, 1e-6) * tooth["thickness_m"])
    tooth = {**tooth, "root_stiffness_n_m": stiffness}
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


def pasted(box, keys):
    """The box file with the keys written in as the answer says: each below its own heading and in
    place of a key of that name; headings that the file lacks are added."""
    lines, stands = box.splitlines(), {}
    for line in keys.splitlines():
        if line.startswith("["):
            heading = line.split("#")[0].strip()
            stands[heading] = stands.get(heading, -1) + 1
        elif line:
            key = line.split("=")[0].strip()
            places = [i for i, other in enumerate(lines) if other.split("#")[0].strip() == heading]
            if not places:
                lines += ["", heading]
                places = [len(lines) - 1]
            begin = places[stands[heading]] + 1
            end = next((i for i in range(begin, len(lines)) if lines[i].startswith("[")), len(lines))
            kept = [old for old in lines[begin:end] if old.split("=")[0].strip() != key]
            lines[begin:end] = [line] + kept
    return "\n".join(lines) + "\n"


def independent_fit(measured, errors, prior=PRIOR, box=None):
    """Huber's proposal 2 (Robust Statistics, 1981, section 7.7) by SciPy: for a scatter the values
    that minimise the sum of Huber's rho, and the scatter at which the mean square of psi is what it is
    for normal readings, with 5 cents known before that count as four readings. `measured` in Hz and
    `errors` in cents, by track."""
    limit = 1.345
    answer = designed(box or drawn())
    teeth = [tooth for tooth in answer["teeth"] if tooth["track"] in measured]
    hz = [measured[tooth["track"]] for tooth in teeth]
    error = np.array([errors.get(tooth["track"], 0.0) for tooth in teeth])
    beta = scipy.integrate.quad(lambda z: min(abs(z), limit)**2 * scipy.stats.norm.pdf(z), -9, 9,
                                points=[-limit, limit], epsabs=1e-12)[0]

    # x counts spreads from the prior, and 10 more, so that relative steps are no rounding.
    def left(x):
        at = prior + SPREAD * (x - 10)
        return np.array([cents(f / as_cut_hz(tooth, answer["steel"], at))
                         for f, tooth in zip(hz, teeth)])

    def huber(squares):
        # As SciPy's own loss "huber", but least squares for what was known before.
        off = squares > limit**2
        off[len(teeth):] = False
        root = np.sqrt(np.where(off, squares, 1.0))
        return np.array([np.where(off, 2 * limit * root - limit**2, squares),
                         np.where(off, limit / root, 1.0),
                         np.where(off, -0.5 * limit / root**3, 0.0)])

    least = 10 - prior[0] / SPREAD[0]

    def at_scatter(scatter):
        spread = np.hypot(scatter, error)
        fit = scipy.optimize.least_squares(
            lambda x: np.concatenate([left(x) / spread, x - 10]),
            np.maximum([10.0, 10.0, 10.0], least + 1e-6), loss=huber, diff_step=1e-3,
            bounds=([least, 0, 0], [least + 1 / SPREAD[0], 20, 20]), xtol=1e-6, ftol=1e-8)
        off = left(fit.x)
        weight = np.minimum(1.0, limit * spread / np.maximum(np.abs(off), 1e-9))
        # Cents for one spread of each unknown, by differences inwards of the bounds.
        slope = np.array([(left(fit.x) - left(fit.x + step)) / 0.01
                          for step in 0.01 * np.eye(3)]).T
        covariance = np.linalg.inv(np.eye(3) + slope.T @ (slope * (weight / spread**2)[:, None]))
        share = scatter**2 / spread**2
        settled = np.einsum("ij,jk,ik->i", slope, covariance, slope)
        own = share**2 * ((weight * off)**2 / beta + weight * settled) + share * error**2
        return fit.x, covariance, weight, (4 * SCATTER**2 + sum(own)) / (4 + len(teeth))

    scatter = scipy.optimize.brentq(lambda s: at_scatter(s)[3] - s**2, 2.0, 15.0, rtol=1e-3)
    x, covariance, weight, _ = at_scatter(scatter)
    spread = np.sqrt(np.diag(covariance))
    return (prior + SPREAD * (x - 10), SPREAD * spread, covariance / np.outer(spread, spread), weight,
            scatter)


class Learn(ProgramTest):
    def measured(self, truth, scatter_cents, seed, spoilt=None, tracks=range(1, 31), errors=None,
                 box=None):
        """Writes readings of teeth, each off by its own cut and by the error of its reading; their
        pitches by track."""
        rng = random.Random(seed)
        answer = designed(box or drawn())
        lines = ["comb,track,frequency_hz,stderr_hz"]
        pitches = {}
        for tooth in answer["teeth"]:
            track = tooth["track"]
            off = rng.gauss(0, scatter_cents) + (spoilt or {}).get(track, 0)
            error = (errors or {}).get(track, 0)
            off += rng.gauss(0, 1) * error
            if track not in tracks:
                continue
            pitches[track] = round(as_cut_hz(tooth, answer["steel"], truth) * 2**(off / 1200), 6)
            stderr = pitches[track] * (2**(error / 1200) - 1)
            lines.append(f"{tooth['comb']},{track},{pitches[track]:.6f},{stderr:.9f}")
        (self.folder / "readings.csv").write_text("\n".join(lines) + "\n")
        return pitches

    def learnt(self, box=None):
        return self.answer("comb", box or drawn(), "--learn", "readings.csv")

    def box_with(self, name="box.toml", comb="", source=None, **sections):
        """A box file with more keys."""
        text = (source or drawn()).read_text().replace("[[comb]]", "[[comb]]\n" + comb)
        for section, keys in sections.items():
            text += f"[{section}]\n{keys}\n"
        path = self.folder / name
        path.write_text(text)
        return path

    def what(self, answer):
        return [finding["what"] for finding in answer["findings"]]

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

    def assert_fits(self, answer, theirs):
        at, spread, correlation, weight, scatter = theirs
        self.assertLess(np.max(np.abs(found(answer) - at) / spread), 0.02)
        self.assertLess(np.max(np.abs(spreads(answer) / spread - 1)), 0.02)
        self.assertLess(np.max(np.abs(np.array(answer["correlation"]) - correlation)), 0.02)
        ours = [reading["weight"] for reading in answer["readings"]]
        self.assertLess(np.max(np.abs(ours - weight)), 0.02)
        self.assertLess(abs(answer["scatter_cents"] / scatter - 1), 0.01)

    def test_an_independent_fit_agrees(self):
        truth = np.array([0.56, 0.02, -0.03])
        tracks = range(1, 31, 3)
        for spoilt, errors in [({}, {}), ({10: 120, 19: -45}, {}),
                               ({}, {track: 2.0 + track % 5 for track in tracks})]:
            with self.subTest(spoilt=spoilt, errors=bool(errors)):
                pitches = self.measured(truth, 4.0, 5, spoilt, tracks, errors)
                self.assert_fits(self.learnt(), independent_fit(pitches, errors))

    def test_an_independent_fit_agrees_where_the_root_yields_no_less_than_nothing(self):
        box = self.box_with(comb='root_yield = "5 %"')
        pitches = self.measured(np.array([0.0, 0.02, 0.01]), 2.0, 21, tracks=range(1, 31, 3), box=box)
        answer = self.learnt(box)
        theirs = independent_fit(pitches, {}, prior=np.array([0.05, 0.0, 0.0]), box=box)
        self.assertEqual(found(answer)[0], 0.0)
        self.assertLess(np.max(np.abs(found(answer) - theirs[0]) / theirs[1]), 0.02)
        self.assertLess(abs(answer["scatter_cents"] / theirs[4] - 1), 0.01)

    def test_errors_of_the_readings_are_not_taken_for_scatter(self):
        errors = {track: 15.0 for track in range(1, 31)}
        scatters, squares = [], []
        rng = random.Random(4)
        for seed in range(12):
            truth = PRIOR + SPREAD * [rng.gauss(0, 1) for _ in range(3)]
            truth[0] = max(truth[0], 0.02)
            self.measured(truth, 5.0, 100 + seed, errors=errors)
            answer = self.learnt()
            scatters.append(answer["scatter_cents"])
            squares += list(((found(answer) - truth) / spreads(answer))**2)
        self.assertTrue(4.0 < np.mean(scatters) < 7.0, scatters)
        self.assertTrue(0.5 < np.mean(squares) < 1.6, np.mean(squares))

    def test_a_tooth_that_was_cut_wrong_is_named_and_spoils_nothing(self):
        # Against the same readings without that tooth.
        tracks = range(1, 31, 3)
        for seed, off in [(7, 150), (8, -200), (9, 300)]:
            with self.subTest(off=off):
                self.measured(PRIOR, 3.0, seed, spoilt={13: off}, tracks=tracks)
                answer = self.learnt()
                self.measured(PRIOR, 3.0, seed, tracks=set(tracks) - {13})
                without = self.learnt()
                warnings = [f["where"] for f in answer["findings"] if "other teeth" in f["what"]]
                self.assertEqual(len(warnings), 1)
                self.assertTrue(warnings[0].endswith("track 13"))
                self.assertLess(abs(answer["scatter_cents"] / without["scatter_cents"] - 1), 0.15)
                self.assertLess(np.max(np.abs(spreads(answer) / spreads(without) - 1)), 0.15)
                self.assertLess(
                    np.max(np.abs(found(answer) - found(without)) / spreads(without)), 0.5)

    def test_pasted_keys_keep_what_was_learnt(self):
        for source in (BRAMBLE, LARKSPUR):
            with self.subTest(box=source.stem):
                rng = random.Random(6)
                lines = ["comb,track,frequency_hz"]
                for tooth in designed(source)["teeth"][::4]:
                    hz = as_cut_hz(tooth, designed(source)["steel"], [0.54, 0.01, 0.01])
                    lines.append(f"{tooth['comb']},{tooth['track']},"
                                 f"{hz * 2**(rng.gauss(0, 3) / 1200):.6f}")
                (self.folder / "readings.csv").write_text("\n".join(lines) + "\n")
                answer = self.learnt(source)
                for before, after in zip(answer["spread_before"], answer["spread_after"]):
                    self.assertLess(after["common_cents"], 0.4 * before["common_cents"])
                # As JSON has them they are TOML, and a box of their own.
                keys = tomllib.loads(answer["box_keys"])
                self.assertEqual(set(keys), {"comb", "steel", "lead", "learnt"})
                self.assertEqual(len(keys["comb"]), len(answer["spread_after"]))

                told = self.run_program("comb", source, "--learn", "readings.csv").stdout
                printed = told[told.index("[[comb]]"):]
                (self.folder / "next.toml").write_text(pasted(source.read_text(), printed))
                following = self.answer("comb", "next.toml")
                for after, comb in zip(answer["spread_after"], following["combs"]):
                    self.assertLess(abs(1.96 * after["all_cents"] - comb["cut_spread_cents"]), 0.01)
                # In words: the column "Now" is what the next comb is known to.
                now = re.findall(r"^comb \S+ +[\d.]+ cents +([\d.]+) cents$", told, re.MULTILINE)
                then = re.findall(r"known to ([\d.]+) cents",
                                  self.run_program("comb", "next.toml").stdout)
                self.assertEqual(now, then)
                # The next lesson begins where this one ends.
                tooth = following["teeth"][0]
                (self.folder / "readings.csv").write_text(
                    f"comb,track,frequency_hz\n{tooth['comb']},1,{tooth['modes_as_cut_hz'][0]}\n")
                second = self.learnt("next.toml")
                for first, later in zip(answer["learnt"], second["learnt"]):
                    self.assertLess(abs(later["before"] / first["value"] - 1), 1e-4)
                    self.assertLess(abs(later["before_spread"] / first["spread"] - 1), 2e-4)
                for first, later in zip(answer["spread_after"], second["spread_before"]):
                    self.assertLess(abs(later["all_cents"] - first["all_cents"]), 0.01)
                    self.assertLessEqual(second["spread_after"][0]["common_cents"],
                                         later["common_cents"])

    def test_teeth_drawn_from_the_spreads_lie_within_the_stated_ones(self):
        # The least well known tooth has the spread that is stated: standard deviation over combs
        # drawn from the box's spreads, each tooth with a scatter of 5 cents of its own.
        answer, rng = designed(drawn()), random.Random(3)
        combs = []
        for _ in range(300):
            truth = PRIOR + SPREAD * [rng.gauss(0, 1) for _ in range(3)]
            combs.append([cents(as_cut_hz(tooth, answer["steel"], truth) / tooth["modes_as_cut_hz"][0])
                          + rng.gauss(0, 5) for tooth in answer["teeth"]])
        widest = 1.96 * max(np.std(combs, axis=0))
        # 300 draws know a standard deviation to 4 %.
        self.assertLess(abs(widest / answer["combs"][0]["cut_spread_cents"] - 1), 0.12)

    def test_a_margin_smaller_than_the_spread_is_warned_of(self):
        text = drawn().read_text()
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

    def test_the_sheets_warn_of_a_small_margin_too(self):
        self.box_with(comb='least_flat = "5 cent"\nmost_flat = "20 cent"')
        self.answer("comb", "box.toml", "--out", "combs")
        text = subprocess.run(["pdftotext", self.folder / "combs/combs.pdf", "-"],
                              capture_output=True, text=True).stdout
        self.assertIn("some teeth may come off the saw sharp", " ".join(text.split()))

    def test_what_pitch_cannot_tell_apart_is_said(self):
        self.measured(np.array([0.54, 0.0, 0.0]), 3.0, 11)
        self.assertTrue(any(re.match(r"pitch hardly tells the root yield of comb 1 from the steel's "
                                     r"modulus \(correlation 0\.9\d\)", what)
                            for what in self.what(self.learnt())))
        # Where the box says that the modulus is exact, nothing is left to tell.
        exact = self.box_with(steel='modulus_spread = "0 %"')
        self.assertEqual([what for what in self.what(self.learnt(exact)) if "hardly tells" in what],
                         [])

    def test_what_the_readings_tell_little_of_is_said(self):
        # The highest teeth have no weights.
        self.measured(PRIOR, 3.0, 12, tracks=[29, 30])
        little = "the readings tell little of the weights' density"
        self.assertIn(little, self.what(self.learnt()))
        exact = self.box_with(lead='density_spread = "0 %"')
        self.assertNotIn(little, self.what(self.learnt(exact)))
        # Nor is it asked for where no tooth has a weight.
        bare = self.box_with("bare.toml", source=BRAMBLE, lead='longest = "1 %"')
        answer = self.answer("comb", bare)
        self.assertEqual({tooth["lead"] is None for tooth in answer["teeth"]}, {True})
        tooth = answer["teeth"][0]
        (self.folder / "readings.csv").write_text(
            f"comb,track,frequency_hz\n{tooth['comb']},1,{tooth['modes_as_cut_hz'][0]}\n")
        self.assertNotIn(little, self.what(self.learnt(bare)))

    def test_readings_of_a_comb_from_another_box_file_are_warned_of(self):
        sheet = "box file " + hashlib.sha256(drawn().read_bytes()).hexdigest()
        hz = designed(drawn())["teeth"][0]["modes_as_cut_hz"][0]
        for box, warned in [(sheet[9:15], False), (sheet[9:21].upper(), False), ("", False),
                            ("0123456", True)]:
            (self.folder / "readings.csv").write_text(
                f"box,comb,track,frequency_hz\n{box},comb 1,1,{hz}\n")
            warnings = [what for what in self.what(self.learnt()) if "another box file" in what]
            self.assertEqual(len(warnings), int(warned), box)

    def test_readings_as_a_spreadsheet_writes_them(self):
        hz = designed(drawn())["teeth"][0]["modes_as_cut_hz"][0]
        (self.folder / "readings.csv").write_bytes(
            b"\xef\xbb\xbf\"comb\",remark,track,frequency_hz\r\n"
            + f'comb 1,"cut on Monday,\r\nblue ""new"" saw",1,{hz}\r\n'.encode())
        readings = self.learnt()["readings"]
        self.assertEqual([(r["comb"], r["track"], r["frequency_hz"]) for r in readings],
                         [("comb 1", 1, hz)])

    def test_bad_readings(self):
        self.measured(PRIOR, 0, 1)
        good = (self.folder / "readings.csv").read_text().splitlines()
        name = designed(drawn())["teeth"][0]["comb"]
        hz = good[1].split(",")[2]
        for line, message in [
                (f"other,1,{hz},", f'comb is "other"; the box has "{name}"'),
                (f"{name},99,{hz},", "track is 99; the box has 1 to 30"),
                (f"{name},x,{hz},", 'track is "x"; write a whole number'),
                (f"{name},1,1e9,", "frequency_hz is 1e+09 Hz, over an octave from the tooth's 261.626 Hz"),
                (f"{name},1,0,", "frequency_hz is 0 Hz; write a frequency above 0 Hz"),
                (f"{name},1,nan,", "frequency_hz is nan Hz; write a frequency above 0 Hz"),
                (f"{name},1,abc,", 'frequency_hz is "abc"; write a number of Hz, without the unit'),
                (f"{name},1", "has 2 cells; the first line has 4"),
                (f"{name},1,{hz},-1", "stderr_hz is -1 Hz; it must be 0 Hz or more"),
                (f'"{name},1,{hz},', "a quote is opened and not closed"),
                (f"{good[2]}\n{good[2]}",
                 "track 2 stands here a second time")]:
            with self.subTest(line=line):
                (self.folder / "readings.csv").write_text(f"{good[0]}\n{line}\n")
                run = self.run_program("comb", BRAMBLE, "--learn", "readings.csv")
                self.assertEqual((run.returncode, run.stdout), (2, ""))
                self.assertRegex(run.stderr, r"^readings\.csv:[23]: [^\n]+\n$")
                self.assertIn(message, run.stderr)
        for text, message in [
                ("", "holds no reading"), ("comb,track\n", "has no column frequency_hz"),
                (f"comb;track;frequency_hz\n{name};1;261,6\n", "commas are wanted"),
                (f"box,comb,track,frequency_hz\n4b49,{name},1,{hz}\n",
                 'box is "4b49"; write the first 6 letters or more of the checksum')]:
            (self.folder / "readings.csv").write_text(text)
            run = self.run_program("comb", BRAMBLE, "--learn", "readings.csv")
            self.assertEqual(run.returncode, 2)
            self.assertIn(message, run.stderr)


if __name__ == "__main__":
    unittest.main()
