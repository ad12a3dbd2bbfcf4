#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""action_command_test.py PROGRAM SOURCE_DIR: whole runs of `action`, against a solver that moves plain
polygons (wheel_model.py) and shares no formula with the program."""
import math
import re
import shutil
import subprocess
import unittest
import xml.etree.ElementTree as xml

from program import BRAMBLE, LARKSPUR, WALTZ, ProgramTest
from wheel_model import Model, Tooth, shortening

SVG = "{http://www.w3.org/2000/svg}"

# How closely the two agree on a place: what the polygons are off, and halving to some digits.
PLACE_M = 1e-9

# Keys of a box besides bramble's own, that change how things meet.
VARIED = {
    "thin points": {"star_wheel": {"tip_rounding": "0 mm", "flank": "0 deg"}},
    "stout points": {"star_wheel": {"tip_rounding": "0.1 mm", "flank": "14 deg"}},
    "rounded projections": {"projection": {"corner": "0.2 mm"}},
    "six points": {"star_wheel": {"points": "6", "axis_below_disc": "2.8 mm"},
                   "projection": {"height": "0.9 mm"}},
    "a comb set towards the points": {"comb": {"level": "0.1 mm"}},
    "a comb plucked up, set back": {"comb": {"plucked": '"up"', "level": "-0.1 mm"}},
    "short teeth": {"comb": {"longest_tooth": "12 mm", "shortest_tooth": "8 mm"}},
}


def box_text(changes):
    """bramble with keys set anew."""
    parts = re.split(r"(?m)^(?=\[)", BRAMBLE.read_text())
    for section, keys in changes.items():
        at = next(i for i, part in enumerate(parts) if re.match(rf"\[+{section}\]", part))
        head, _, body = parts[at].partition("\n")
        for key, value in keys.items():
            value = value if value.isdigit() or value.startswith('"') else f'"{value}"'
            body = f"{key} = {value}\n" + re.sub(rf"(?m)^{key} = .*\n", "", body)
        parts[at] = f"{head}\n{body}"
    return "".join(parts)


class Kinematics(ProgramTest):
    def compare(self, changes):
        path = self.folder / "box.toml"
        path.write_text(box_text(changes))
        box = self.answer("check", path)["box"]
        # Short teeth make no comb: a fault of that is no matter here.
        answer = self.answer("action", path)
        model = Model(box)
        wheel = answer["wheel"]
        rest = model.rest()
        self.assertAlmostEqual(wheel["leave_rad"], model.leave(), delta=1e-6)
        self.assertAlmostEqual(wheel["rest_rad"], rest, delta=1e-6)
        start = model.face(rest)
        comb = box["combs"][0]
        count = len(answer["tracks"])
        for track in (answer["tracks"][0], answer["tracks"][count // 2], answer["tracks"][-1]):
            # The root line is straight (no comb.lines), the lowest note on track 1.
            share = (track["track"] - 1) / (count - 1)
            length = comb["longest_tooth_m"] + share * (comb["shortest_tooth_m"] -
                                                        comb["longest_tooth_m"])
            tooth = Tooth(model, length, comb["level_m"])
            past, lift = tooth.slips()
            self.assertAlmostEqual(track["lift_m"], lift, delta=PLACE_M)
            side = math.pi / 2 if comb["plucked"] == "down" else -math.pi / 2
            # The first point that meets the tooth when the wheel turns on from where it waits.
            meet = tooth.meets(past)
            meets = side + meet
            meets += math.ceil((rest - meets) / model.pitch - 1e-9) * model.pitch
            self.assertAlmostEqual(track["teeth"][0]["meet_arc_m"], model.face(meets) - start,
                                   delta=PLACE_M)
            # Near its greatest the lift is flat, and the angle of that known the less sharply.
            slips = meets - meet + past
            self.assertEqual(track["teeth"][0]["let_go"], slips <= model.leave())
            if slips <= model.leave():
                self.assertAlmostEqual(track["release_arc_m"], model.face(slips) - start,
                                       delta=2e-7)
            # So is the angle near where the face slips off a rounded tip.
            self.assertAlmostEqual(track["work_arc_m"], model.face(model.leave() - 1e-12) - start,
                                   delta=1e-6)

    def test_polygons_moved_step_by_step_meet_where_it_says(self):
        for name, changes in {"as it is": {}, **VARIED}.items():
            with self.subTest(name):
                self.compare(changes)

    def test_the_limits(self):
        # Thin points and teeth as long as may be: r (1 - cos a) = e less what 300 mm still draw back,
        # 0.6 d^2 / L, and the face at d tan a (geometry).
        path = self.folder / "box.toml"
        path.write_text(box_text({**VARIED["thin points"],
                                  "comb": {"longest_tooth": "300 mm", "shortest_tooth": "300 mm"},
                                  "cabinet": {"length": "2 m", "width": "1 m"}}))
        track = self.answer("action", path)["tracks"][-1]
        r, e, d = 2.55e-3, 0.06e-3, 2.2e-3
        rest = math.acos(d / r) - math.pi / 4
        slip = math.acos(1 - (e - 0.6 * track["lift_m"]**2 / 0.3) / r)
        self.assertAlmostEqual(track["lift_m"], r * math.sin(slip), delta=1e-12)
        self.assertAlmostEqual(track["release_arc_m"], d * math.tan(slip) - r * math.sin(rest),
                               delta=1e-12)

    def test_the_tip_draws_back_by_what_the_arc_is_longer(self):
        for path in (LARKSPUR, BRAMBLE):
            box = self.answer("check", path)["box"]
            r, e = box["star_wheel"]["tip_radius_m"], box["star_wheel"]["tooth_overlap_m"]
            lengths = [box["combs"][0][key] for key in ("longest_tooth_m", "shortest_tooth_m")]
            tracks = self.answer("action", path)["tracks"]
            for length, track in zip(lengths, (tracks[0], tracks[-1])):
                lift = track["lift_m"]
                used = r - math.sqrt(r**2 - lift**2) + shortening(length, lift)
                self.assertAlmostEqual(used, e, delta=1e-10)


class Answers(ProgramTest):
    def test_comb_and_action_lift_alike(self):
        action = self.answer("action", LARKSPUR)
        lifts = {(tooth["comb"], track["track"]): tooth["lift_m"]
                 for track in action["tracks"] for tooth in track["teeth"]}
        teeth = self.answer("comb", LARKSPUR)["teeth"]
        for tooth in teeth:
            self.assertEqual(tooth["lift_m"], lifts[tooth["comb"], tooth["track"]])
        # The teeth take what bends them: k d^2 / 2 of each of the pair.
        energy = dict.fromkeys(range(1, 77), 0.0)
        for tooth in teeth:
            energy[tooth["track"]] += tooth["tip_stiffness_n_m"] * tooth["lift_m"]**2 / 2
        for track in action["tracks"]:
            self.assertAlmostEqual(track["teeth_j"] / energy[track["track"]], 1, delta=1e-6)
            parts = sum(track[key] for key in ("teeth_j", "damper_j", "brake_j", "friction_j"))
            self.assertAlmostEqual(parts / track["work_j"], 1, delta=1e-6)
            # A feeler gauge sets the next step below.
            steps = track["feeler_m"] / 5e-5
            self.assertAlmostEqual(steps, round(steps), delta=1e-6)
            self.assertTrue(-1e-9 <= track["gap_m"] - track["feeler_m"] < 5e-5)

    def test_the_examples_are_in_order(self):
        for path in (LARKSPUR, BRAMBLE):
            found = self.answer("action", path, status=(0,))["findings"]
            self.assertEqual([finding for finding in found if finding["level"] != "note"], [])

    def test_tolerances_agree_with_the_boxes_drawn(self):
        words = ("action", LARKSPUR, "--tolerances", "--boxes=4000")
        tolerances = self.answer(*words)["tolerances"]
        self.assertEqual((tolerances["boxes"], tolerances["seed"]), (4000, 1))
        # 4000 boxes know a standard deviation to 1 in sqrt(8000); the rest is the model's bend.
        for tooth in tolerances["teeth"]:
            for key in ("loudness_db", "timing_s"):
                self.assertAlmostEqual(tooth["trials"][key] / tooth["first_order"][key], 1,
                                       delta=0.08)
        shares = [part["loudness_share"] for part in tolerances["contributions"]]
        self.assertAlmostEqual(sum(shares), 1)
        self.assertEqual(self.answer(*words)["tolerances"], tolerances)
        self.assertNotEqual(self.answer(*words, "--seed=2")["tolerances"], tolerances)

    def test_teeth_that_tolerances_miss_are_a_finding(self):
        (self.folder / "shop.toml").write_text(
            '[tolerance]\naxle_play = "0.15 mm"\ncomb_overlap = "0.1 mm"\n')
        for more, told in (["--shop", "shop.toml"], True), ([], False):
            answer = self.answer("action", LARKSPUR, "--tolerances", "--boxes", "1000", *more)
            whats = " ".join(finding["what"] for finding in answer["findings"])
            self.assertEqual("of the teeth are missed" in whats, told)

    def test_a_pair_of_unequal_loudness_is_told(self):
        text = LARKSPUR.read_text()
        first = text.index("[[comb]]") + len("[[comb]]")
        box = self.folder / "box.toml"
        box.write_text(text[:first] + '\nlevel = "-0.6 mm"' + text[first:])
        whats = [finding["what"] for finding in self.answer("action", box)["findings"]]
        self.assertTrue(any("one drowns the other by" in what for what in whats))

    def test_a_tighter_shop_spreads_less(self):
        shop = self.folder / "shop.toml"
        shop.write_text('[tolerance]\naxle_play = "0 mm"\ncomb_overlap = "0.005 mm"\n')
        words = ("action", BRAMBLE, "--tolerances", "--boxes=200")
        loose = self.answer(*words)["tolerances"]
        tight = self.answer(*words, "--shop", shop)["tolerances"]
        self.assertEqual(loose["contributions"][0]["what"], "play of the star wheels' axles")
        self.assertLess(tight["teeth"][0]["first_order"]["loudness_db"],
                        0.7 * loose["teeth"][0]["first_order"]["loudness_db"])


class Pack(ProgramTest):
    def test_the_pack_tells_the_gap_of_every_track(self):
        if shutil.which("pdftotext") is None:
            self.skipTest("pdftotext is not installed")
        self.answer("pack", BRAMBLE, WALTZ, "--out", "pack")
        plan = self.folder / "pack/pack.pdf"
        pages = subprocess.run(["pdftotext", "-layout", plan, "-"], capture_output=True, text=True,
                               check=True).stdout.split("\f")
        page = next(page for page in pages if "Star wheels and dampers" in page)
        rows = re.findall(r"(\d+) +([A-G][b#]?\d) +(\d\.\d\d) +(\d\.\d{3}) +\d+", page)
        self.assertEqual(sorted(int(row[0]) for row in rows), list(range(1, 31)))
        for _, _, feeler, gap in rows:
            self.assertTrue(-1e-9 <= float(gap) - float(feeler) < 0.0506, (feeler, gap))


class Reach(ProgramTest):
    def test_whoever_makes_a_disc_or_a_motor_hears_that_teeth_are_not_let_go(self):
        box = self.folder / "box.toml"
        box.write_text(box_text({"comb": {"plucked": '"up"'}, "star_wheel": {"points": "9"}}))
        for words in (["action", box], ["motor", box], ["disc", box, WALTZ, "--out", "disc"],
                      ["pack", box, WALTZ, "--out", "pack"]):
            with self.subTest(command=words[0]):
                run = self.run_program(*words)
                self.assertEqual(run.returncode, 1, run.stderr)
                self.assertIn("slips off the star wheel before the tooth is let go", run.stdout)


class Drawings(ProgramTest):
    def test_the_drawing_is_to_scale(self):
        for at, on in (("0 mm", 0), ("0.8 mm", 0.8)):
            run = self.run_program("action", LARKSPUR, "--track", 40, "--at", at, "--svg", "a.svg")
            self.assertEqual(run.returncode, 0, run.stderr)
            root = xml.parse(self.folder / "a.svg").getroot()
            # One user unit is a millimetre on paper.
            self.assertEqual(root.get("width"), root.get("viewBox").split()[2] + "mm")
            scale = float(re.search(r"scale (\d+) : 1", "".join(root.itertext()))[1])
            ring = next(circle for circle in root.iter(SVG + "circle")
                        if circle.get("stroke-dasharray") == "1 2")
            self.assertAlmostEqual(float(ring.get("r")), 3.3 * scale, delta=0.011)
            # First the projection as it touched, then as it stands.
            outlines = [[float(point.split(",")[0]) for point in polygon.get("points").split()]
                        for polygon in root.iter(SVG + "polygon")]
            self.assertAlmostEqual(max(outlines[1]) - max(outlines[0]), on * scale, delta=0.011)
            self.assertAlmostEqual(max(outlines[0]) - min(outlines[0]), 1.6 * scale, delta=0.011)

    def test_the_plot_is_drawn(self):
        self.run_program("action", BRAMBLE, "--track", 3, "--plot", "p.svg")
        text = (self.folder / "p.svg").read_text()
        self.assertIn("force at the projection, N", text)
        self.assertNotIn("nan", text)

    def test_what_does_not_go_together_is_refused(self):
        for words, line in [
                (["--svg", "a.svg"], "--svg and --plot draw one track; say which with --track"),
                (["--track", 3], "--track chooses what --svg or --plot draws; name a file with one "
                                 "of them"),
                (["--at", "1 mm"], "--at says where a drawing stands; add --track and --svg"),
                (["--track", 31, "--svg", "a.svg"], "--track is 31; the box has tracks 1 to 30")]:
            with self.subTest(words):
                self.assert_refused(self.run_program("action", BRAMBLE, *words), line)
                self.assertFalse((self.folder / "a.svg").exists())

    def test_no_file_of_another_is_overwritten(self):
        (self.folder / "a.svg").write_text("<svg/>")
        run = self.run_program("action", BRAMBLE, "--track", 3, "--svg", "a.svg")
        self.assertEqual(run.returncode, 2)
        self.assertEqual((self.folder / "a.svg").read_text(), "<svg/>")
        for _ in range(2):
            run = self.run_program("action", BRAMBLE, "--track", 3, "--svg", "b.svg")
            self.assertEqual(run.returncode, 0, run.stderr)


if __name__ == "__main__":
    unittest.main()
