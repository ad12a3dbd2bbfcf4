#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""comb_command_test.py PROGRAM SOURCE_DIR: what the command comb answers, with every tooth rebuilt
from the answer and computed again by a beam model of its own."""
import csv
import functools
import json
import math
import os
import re
import subprocess
import tomllib
import unittest

import ezdxf
import svgelements

from beam_model import modes_hz, tip_stiffness_n_m
from program import BRAMBLE, LARKSPUR, PROGRAM, WALTZ, ProgramTest, snapshot

STEP_M = 1e-4


@functools.cache
def designed(path):
    run = subprocess.run([PROGRAM, "comb", path, "--json"], capture_output=True, text=True)
    return json.loads(run.stdout), tomllib.loads(path.read_text())


def cents(hz, target_hz):
    return 1200 * math.log2(hz / target_hz)


def tracks_words(cut):
    """"front 3, 7; back 4" for the tracks of a weight to cut."""
    combs = {}
    for tooth in cut["tracks"]:
        combs.setdefault(tooth["comb"], []).append(str(tooth["track"]))
    return "; ".join(f"{comb} {', '.join(tracks)}" for comb, tracks in combs.items())


class Comb(ProgramTest):
    def each_box(self):
        for path in (BRAMBLE, LARKSPUR):
            with self.subTest(box=path.stem):
                yield designed(path)

    def teeth(self):
        for answer, box in self.each_box():
            for tooth in answer["teeth"]:
                with self.subTest(comb=tooth["comb"], track=tooth["track"]):
                    yield tooth, answer, box

    def test_the_example_boxes_come_out_sound(self):
        for answer, box in self.each_box():
            self.assertEqual([f["level"] for f in answer["findings"]], ["note"])
            self.assertEqual(len(answer["teeth"]), box["tracks"]["count"] * len(box["comb"]))
            for comb in answer["combs"]:
                self.assertEqual([limit["broken"] for limit in comb["limits"]], [0] * 11)

    def test_every_tooth_is_in_tune(self):
        # The targets: equal temperament on A4 = 440 Hz by its definition, the second comb of
        # larkspur 4 cents above.
        for tooth, answer, _ in self.teeth():
            offset = 4 if tooth["comb"] == "back" else 0
            self.assertAlmostEqual(tooth["target_hz"],
                                   440 * 2**((tooth["midi"] - 69) / 12 + offset / 1200), places=8)
            found = modes_hz(tooth, answer["steel"])
            self.assertLess(abs(cents(found[0], tooth["target_hz"])), 0.01)
            for ours, theirs in zip(tooth["modes_hz"], found):
                self.assertLess(abs(ours / theirs - 1), 1e-6)

    def test_every_tooth_is_cut_flat(self):
        for tooth, answer, _ in self.teeth():
            found = modes_hz(tooth, answer["steel"], as_cut=True)
            flat = -cents(found[0], tooth["target_hz"])
            self.assertLess(abs(flat - tooth["flat_cents"]), 0.01)
            self.assertTrue(30 <= flat <= 80, flat)
            for ours, theirs in zip(tooth["modes_as_cut_hz"], found):
                self.assertLess(abs(ours / theirs - 1), 1e-6)

    def test_tuning_only_ever_takes_off(self):
        for tooth, _, _ in self.teeth():
            lead = tooth["lead"]
            if lead is None:
                self.assertLess(tooth["tip_thickness_m"], tooth["as_cut_tip_thickness_m"])
                continue
            self.assertEqual(tooth["tip_thickness_m"], tooth["as_cut_tip_thickness_m"])
            self.assertTrue(STEP_M < lead["length_m"] < lead["as_cut_length_m"])
            steps = lead["as_cut_length_m"] / STEP_M
            self.assertAlmostEqual(steps, round(steps), places=6)
            # The root end stays where it is soldered.
            self.assertAlmostEqual(lead["center_m"] - lead["length_m"] / 2,
                                   lead["as_cut_center_m"] - lead["as_cut_length_m"] / 2, places=12)

    def test_a_lead_is_its_bar(self):
        for tooth, answer, _ in self.teeth():
            lead = tooth["lead"]
            if lead is None:
                continue
            # Density of lead: 11340 kg/m3, the box file's.
            for key in ("", "as_cut_"):
                volume = lead["width_m"] * lead["height_m"] * lead[key + "length_m"]
                self.assertAlmostEqual(lead[key + "mass_kg"] / (11340 * volume), 1, places=9)
            self.assertAlmostEqual(lead["as_cut_center_m"] + lead["as_cut_length_m"] / 2,
                                   tooth["length_m"] - 1e-3, places=9)

    def test_a_tenth_of_a_millimetre_of_lead_is_never_worth_too_much(self):
        for tooth, answer, _ in self.teeth():
            lead = tooth["lead"]
            if lead is None:
                continue
            shorter = {**lead, "length_m": lead["length_m"] - STEP_M,
                       "center_m": lead["center_m"] - STEP_M / 2,
                       "mass_kg": lead["mass_kg"] * (1 - STEP_M / lead["length_m"])}
            found = modes_hz({**tooth, "lead": shorter}, answer["steel"], count=1)[0]
            self.assertAlmostEqual(cents(found, tooth["target_hz"]), lead["cents_per_step"],
                                   delta=0.01)
            self.assertLess(lead["cents_per_step"], 10)

    def test_a_hundredth_filed_off_the_tip_is_worth_what_it_says(self):
        for tooth, answer, _ in self.teeth():
            if tooth["lead"] is not None:
                self.assertIsNone(tooth["cents_per_file_step"])
                continue
            thinner = {**tooth, "tip_thickness_m": tooth["tip_thickness_m"] - 1e-5}
            found = modes_hz(thinner, answer["steel"], count=1)[0]
            self.assertAlmostEqual(cents(found, tooth["target_hz"]), tooth["cents_per_file_step"],
                                   delta=0.01)
            # Filing at the root undoes it.
            undone = {**thinner, "thickness_m": tooth["thickness_m"] - 1e-5}
            self.assertLess(modes_hz(undone, answer["steel"], count=1)[0], found)

    def test_force_is_stiffness_times_lift(self):
        for tooth, answer, box in self.teeth():
            wheel = {key: float(value.split()[0]) / 1000
                     for key, value in box["star_wheel"].items() if key != "points"}
            overlap, radius = wheel["tooth_overlap"], wheel["tip_radius"]
            # The point's arc and the drawing back of the tip, 0.6 d^2 / L, use up the overlap; the
            # length is that of a straight root line, at most a fifth shorter where it is bent.
            used = radius - math.sqrt(radius**2 - tooth["lift_m"]**2)
            back = 0.6 * tooth["lift_m"]**2 / tooth["length_m"]
            self.assertLess(used, overlap - 0.7 * back)
            # Lengths are rounded to 0.01 mm afterwards.
            self.assertLess(overlap - used - back, 5e-9)
            stiffness = tip_stiffness_n_m(tooth, answer["steel"])
            self.assertAlmostEqual(tooth["tip_stiffness_n_m"] / stiffness, 1, places=7)
            self.assertAlmostEqual(tooth["pluck_force_n"] / (stiffness * tooth["lift_m"]), 1,
                                   places=7)

    def test_the_root_bears_any_number_of_plucks(self):
        # Stress of a bar bent at its root; endurance limit after Shigley, Mechanical Engineering
        # Design, ch. 6: half the tensile strength times 1.58 R^-0.085 for a ground surface.
        limit = 0.5 * 1340e6 * 1.58 * 1340**-0.085
        for tooth, _, _ in self.teeth():
            bent = (6 * tooth["pluck_force_n"] * tooth["length_m"] /
                    (tooth["width_m"] * tooth["thickness_m"]**2))
            self.assertAlmostEqual(tooth["root_stress_pa"] / bent, 1, places=9)
            self.assertGreater(tooth["ring_stress_pa"], tooth["root_stress_pa"])
            self.assertAlmostEqual(tooth["safety_factor"] * tooth["ring_stress_pa"] / limit, 1,
                                   places=9)
            self.assertGreaterEqual(tooth["safety_factor"], 1.5)

    def test_the_root_gives_way_by_its_share_of_the_thickness(self):
        # M / (E I) over three tenths of the thickness: the length by which a bar in a block seems
        # longer, 0.28 to 0.44 of its thickness in 3-D solutions with 20-node bricks.
        for tooth, answer, _ in self.teeth():
            bending = (answer["steel"]["modulus_pa"] * tooth["width_m"] *
                       tooth["thickness_m"]**3 / 12)
            self.assertAlmostEqual(tooth["root_stiffness_n_m"] * 0.44 * tooth["thickness_m"] /
                                   bending, 1, places=9)

    def test_nothing_touches_at_full_swing(self):
        for tooth, _, box in self.teeth():
            gap = float(box["comb"][0]["tooth_gap"].split()[0]) / 1000
            self.assertGreater(gap - 2 * tooth["sideways_m"], 1e-4)
            if tooth["lead"] is not None:
                self.assertLess(tooth["lead"]["height_m"] + tooth["lift_m"] + 1e-4, 14e-3)

    def test_the_root_line_is_smooth_and_force_even(self):
        for answer, box in self.each_box():
            for i, comb in enumerate(box["comb"]):
                teeth = answer["teeth"][i * box["tracks"]["count"]:][:box["tracks"]["count"]]
                lengths = [tooth["length_m"] for tooth in teeth]
                self.assertEqual(lengths[0], float(comb["longest_tooth"].split()[0]) / 1000)
                self.assertEqual(lengths[-1], float(comb["shortest_tooth"].split()[0]) / 1000)
                steps = [a - b for a, b in zip(lengths, lengths[1:])]
                # Drawn to 0.01 mm; the steps grow towards the bass and never jump.
                self.assertTrue(all(a - b > -2.1e-5 for a, b in zip(steps, steps[1:])))
                self.assertGreater(min(steps), 0)
                forces = [tooth["pluck_force_n"] for tooth in teeth]
                self.assertAlmostEqual(answer["combs"][i]["force_ratio"], max(forces) / min(forces))
                self.assertLess(max(forces) / min(forces), 2)

    def changed(self, old, new, path=LARKSPUR):
        text = path.read_text()
        self.assertIn(old, text)
        (self.folder / "box.toml").write_text(text.replace(old, new))
        return self.answer("comb", "box.toml")

    def targets(self, answer):
        return {tooth["midi"]: tooth["target_hz"] for tooth in answer["teeth"]
                if tooth["comb"] == "front"}

    def test_a_historic_temperament_from_a_tonic(self):
        # Meantone has pure major thirds by its definition, from D on those of D, A, E ...
        answer = self.changed('a4 = "440 Hz"', 'a4 = "415 Hz"\ntemperament = "quarter-comma '
                              'meantone"\ntonic = "D"')
        targets = self.targets(answer)
        self.assertAlmostEqual(targets[69], 415, places=9)
        for low, high in ((50, 54), (57, 61), (64, 68)):
            self.assertAlmostEqual(targets[high] / targets[low], 1.25, places=12)
        for tooth in answer["teeth"]:
            self.assertLess(abs(cents(tooth["modes_hz"][0], tooth["target_hz"])), 0.001)

    def test_a_scale_file(self):
        # Ptolemy's intense diatonic, as in any handbook, with sharps in between.
        ratios = ["16/15", "9/8", "6/5", "5/4", "4/3", "45/32", "3/2", "8/5", "5/3", "9/5", "15/8",
                  "2/1"]
        (self.folder / "just.scl").write_text("just\n12\n" + "\n".join(ratios) + "\n")
        targets = self.targets(self.changed('a4 = "440 Hz"', 'scl = "just.scl"'))
        for midi, ratio in ((64, 5 / 4), (67, 3 / 2), (71, 15 / 8)):
            self.assertAlmostEqual(targets[midi] / targets[60], ratio, places=12)
        first = self.answer("pack", "box.toml", WALTZ, "--out", "a")
        (self.folder / "just.scl").write_text("just\n12\n" + "\n".join(["17/16", *ratios[1:]]))
        second = self.answer("pack", "box.toml", WALTZ, "--out", "b")
        plans = [json.loads((self.folder / out / "plan.json").read_text()) for out in "ab"]
        self.assertNotEqual(plans[0]["checksums"]["box_sha256"], plans[1]["checksums"]["box_sha256"])
        self.assertEqual(first["plucks"], second["plucks"])

    def test_a_scale_file_that_is_missing_or_wrong(self):
        text = LARKSPUR.read_text().replace('a4 = "440 Hz"', 'scl = "just.scl"')
        (self.folder / "box.toml").write_text(text)
        self.assertRegex(self.run_program("comb", "box.toml").stderr, r"^just\.scl: [^\n]+\n$")
        (self.folder / "just.scl").write_text("nineteen\n19\n")
        self.assert_refused(self.run_program("comb", "box.toml"),
                            "just.scl:2:1: has 19 notes; a comb needs the twelve of an octave")
        (self.folder / "box.toml").write_text(
            text.replace('scl =', 'temperament = "Vallotti"\nscl ='))
        run = self.run_program("comb", "box.toml")
        self.assertEqual(run.returncode, 2)
        self.assertIn("leave one out", run.stderr)
        for elsewhere in ("/etc/passwd", "../just.scl"):
            (self.folder / "box.toml").write_text(text.replace("just.scl", elsewhere))
            run = self.run_program("comb", "box.toml")
            self.assertRegex(run.stderr, r"^box\.toml:\d+:\d+: scale\.scl must name a file in the "
                             r"folder of the box file or below it\n$")

    def test_pairs_apart_by_a_beat_profile(self):
        answer = self.changed('offset = "4 cent"', 'beat_low = "0.5 Hz"\nbeat_high = "2 Hz"')
        front, back = answer["teeth"][:76], answer["teeth"][76:]
        for a, b in zip(front, back):
            share = (a["midi"] - 36) / (88 - 36)
            self.assertAlmostEqual(b["target_hz"] - a["target_hz"], 0.5 + 1.5 * share, places=9)
            self.assertLess(abs(cents(b["modes_hz"][0], b["target_hz"])), 0.001)
            self.assertEqual(a["length_m"], b["length_m"])

    def test_a_wish_that_cannot_be_met_names_its_limit(self):
        faults = [f for f in self.changed('strength = "1340 MPa"', 'strength = "900 MPa"')["findings"]
                  if f["level"] == "fault"]
        self.assertTrue(any(f["what"].startswith("safety factor: it is ") and
                            "star_wheel.tooth_overlap" in f["do"] for f in faults), faults)
        faults = [f for f in self.changed('"88 mm"', '"45 mm"')["findings"]
                  if f["level"] == "fault"]
        self.assertTrue(any("comb.longest_tooth" in f["do"] for f in faults), faults)

    def test_weights_without_lead(self):
        answer = self.changed("[lead]\ndensity = \"11340 kg/m3\"", "[lead]\nmetal = \"tungsten\"")
        self.assertEqual([(f["where"], f["what"]) for f in answer["findings"]
                          if "tuning weights" in f["what"]],
                         [("weights", "tuning weights of tungsten are ground to length")])
        lead = next(tooth["lead"] for tooth in answer["teeth"] if tooth["lead"])
        # Density of tungsten from memory.
        volume = lead["width_m"] * lead["height_m"] * lead["length_m"]
        self.assertAlmostEqual(lead["mass_kg"] / volume / 19250, 1, places=9)

    def test_warmth_is_in_the_steel(self):
        # The modulus falls by 2.5e-4 for each kelvin (see the tooth's page); the pitch is held.
        answer = self.changed('temperature = "20 C"', 'temperature = "30 C"')
        self.assertAlmostEqual(answer["steel"]["modulus_pa"] / 205e9, 1 - 2.5e-3, places=12)
        tooth = answer["teeth"][0]
        self.assertLess(abs(cents(modes_hz(tooth, answer["steel"])[0], tooth["target_hz"])), 0.01)

    def test_lines_keep_the_comb_while_the_steel_changes(self):
        first = self.answer("comb", BRAMBLE)
        lines = ", ".join(f'"{100 * share:.6g} %"' for share in first["combs"][0]["lines"])
        text = BRAMBLE.read_text().replace("[[comb]]", f"[[comb]]\nlines = [{lines}]")
        (self.folder / "kept.toml").write_text(text)
        kept = self.answer("comb", "kept.toml")
        self.assertEqual(kept["teeth"], first["teeth"])
        (self.folder / "kept.toml").write_text(text + '\n[steel]\nmodulus = "202 GPa"\n')
        other = self.answer("comb", "kept.toml")
        leads = 0
        for was, now in zip(first["teeth"], other["teeth"]):
            self.assertEqual(now["length_m"], was["length_m"])
            self.assertLess(abs(1200 * math.log2(now["modes_hz"][0] / now["target_hz"])), 0.001)
            if was["lead"] and now["lead"]:
                self.assertEqual(now["thickness_m"], was["thickness_m"])
                leads += now["lead"]["mass_kg"] < was["lead"]["mass_kg"]
        # Softer steel rings lower and needs less weight.
        self.assertGreater(leads, 10)

    def test_the_same_twice(self):
        self.assertEqual(self.answer("comb", BRAMBLE), self.answer("comb", BRAMBLE))

    def test_the_lead_list_has_every_lead(self):
        for answer, _ in self.each_box():
            leads = [tooth["lead"] for tooth in answer["teeth"] if tooth["lead"]]
            self.assertEqual(sum(cut["count"] for cut in answer["lead_cuts"]), len(leads))
            self.assertAlmostEqual(sum(cut["count"] * cut["mass_kg"] for cut in answer["lead_cuts"]),
                                   sum(lead["as_cut_mass_kg"] for lead in leads), places=9)

    def test_the_drawing_has_every_cut_and_lead(self):
        self.run_program("comb", BRAMBLE, "--dxf", "comb.dxf")
        again = self.run_program("comb", BRAMBLE, "--dxf", "comb.dxf")
        self.assertEqual(again.returncode, 0, again.stderr)
        answer, _ = designed(BRAMBLE)
        space = ezdxf.readfile(self.folder / "comb.dxf").modelspace()
        *cuts, outline = space.query('POLYLINE[layer=="EDGE"]')
        self.assertEqual(len(cuts), 31)
        for cut, wanted in zip(cuts, answer["combs"][0]["saw_cuts"]):
            xs = [point[0] for point in cut.points()]
            ys = [point[1] for point in cut.points()]
            self.assertAlmostEqual((min(xs) + max(xs)) / 2, wanted["radius_m"] * 1e3, delta=1e-4)
            self.assertAlmostEqual(max(xs) - min(xs), 0.35, delta=2e-4)
            self.assertAlmostEqual(max(ys) - min(ys), wanted["length_m"] * 1e3, delta=1e-4)
        # Between them the tips, without a stretch that is cut twice.
        tips = [line.dxf for line in space.query('LINE[layer=="EDGE"]')]
        self.assertEqual(len(tips), 30)
        for tip, tooth in zip(tips, answer["teeth"]):
            self.assertAlmostEqual(tip.end.x - tip.start.x, tooth["width_m"] * 1e3, delta=2e-4)
        # Round the back from the outer wall of the first cut to that of the last, and the screws in
        # the plate behind the teeth.
        first, last = list(cuts[0].points()), list(cuts[-1].points())
        corners = [tuple(point)[:2] for point in outline.points()]
        self.assertEqual(corners[0], tuple(first[1])[:2])
        self.assertEqual(corners[-1], tuple(last[2])[:2])
        comb = answer["combs"][0]
        self.assertAlmostEqual(corners[1][1] - first[0][1], comb["plate_depth_m"] * 1e3, delta=2e-4)
        self.assertAlmostEqual(corners[2][0] - corners[1][0], comb["plate_width_m"] * 1e3, delta=2e-4)
        holes = space.query('CIRCLE[layer=="HOLES"]')
        for hole, radius_m in zip(holes, comb["screw_radius_m"], strict=True):
            self.assertAlmostEqual(hole.dxf.center.x, radius_m * 1e3, delta=1e-4)
            self.assertAlmostEqual(hole.dxf.radius, 2.25, delta=1e-4)
            self.assertGreater(hole.dxf.center.y - 2.25 - first[0][1],
                               max(tooth["length_m"] for tooth in answer["teeth"]) * 1e3)
            self.assertLess(hole.dxf.center.y + 2.25, corners[1][1])
        # Every tooth from the tips; every lead from below and from the tips.
        marks = [line for line in space.query('POLYLINE[layer=="MARKS"]') if line.is_closed]
        leads = sum(1 for tooth in answer["teeth"] if tooth["lead"])
        self.assertEqual(len(marks), len(answer["teeth"]) + 2 * leads)

    def test_the_view_from_the_tips_has_every_thickness_and_lead(self):
        self.run_program("comb", BRAMBLE, "--dxf", "comb.dxf")
        answer, _ = designed(BRAMBLE)
        space = ezdxf.readfile(self.folder / "comb.dxf").modelspace()
        found = []
        for line in space.query('POLYLINE[layer=="MARKS"]'):
            if line.is_closed:
                xs, ys = ([point[i] for point in line.points()] for i in (0, 1))
                found.append((round(0.5 * (min(xs) + max(xs)), 2), max(ys) - min(ys)))
        cuts = answer["combs"][0]["saw_cuts"]
        for tooth in answer["teeth"]:
            track = tooth["track"]
            middle = round(0.5e3 * (cuts[track - 1]["radius_m"] + cuts[track]["radius_m"]), 2)
            wanted = [tooth["thickness_m"]]
            if tooth["lead"]:
                wanted += [tooth["lead"]["as_cut_length_m"], tooth["lead"]["height_m"]]
            heights = sorted(height for x, height in found if abs(x - middle) < 0.02)
            with self.subTest(track=track):
                for height, metres in zip(heights, sorted(wanted), strict=True):
                    self.assertAlmostEqual(height, metres * 1e3, delta=2e-4)

    def test_the_folder_has_the_same_numbers_as_the_answer(self):
        # A name that a table calculator would take for a formula, and how it stands in the tables.
        shown = {"=1+1": "'=1+1", "back": "back"}
        box = self.folder / "box.toml"
        box.write_text(LARKSPUR.read_text().replace('name = "front"', 'name = "=1+1"'))
        answer = self.answer("comb", box, "--out", "combs")
        self.assertEqual({tooth["comb"] for tooth in answer["teeth"]}, set(shown))
        self.assertEqual(sorted(os.listdir(self.folder / "combs")),
                         ["SHA256SUMS", "comb.dxf", "comb.svg", "combs.pdf", "saw.csv", "teeth.csv",
                          "weights.csv"])
        rows = self.table("combs/teeth.csv")
        self.assertEqual(len(rows), len(answer["teeth"]))
        for row, tooth in zip(rows, answer["teeth"]):
            self.assertEqual((row["comb"], int(row["track"]), row["note"]),
                             (shown[tooth["comb"]], tooth["track"], tooth["note"]))
            wanted = {"length_mm": tooth["length_m"], "root_thickness_mm": tooth["thickness_m"],
                      "tip_as_cut_mm": tooth["as_cut_tip_thickness_m"]}
            if tooth["lead"]:
                wanted["bar_mm"] = tooth["lead"]["height_m"]
                wanted["weight_as_cut_mm"] = tooth["lead"]["as_cut_length_m"]
                wanted["weight_in_tune_mm"] = tooth["lead"]["length_m"]
            else:
                self.assertEqual(row["bar_mm"] + row["weight_as_cut_mm"], "")
                self.assertAlmostEqual(float(row["tip_cents_per_0.01mm"]),
                                       tooth["cents_per_file_step"], delta=6e-3)
                wanted["tip_in_tune_mm"] = tooth["tip_thickness_m"]
            for column, metres in wanted.items():
                self.assertAlmostEqual(float(row[column]), metres * 1e3, delta=6e-4)
            self.assertAlmostEqual(float(row["as_cut_cents"]), -tooth["flat_cents"], delta=0.06)
        cuts = [cut for comb in answer["combs"] for cut in comb["saw_cuts"]]
        for row, cut in zip(self.table("combs/saw.csv"), cuts, strict=True):
            self.assertAlmostEqual(float(row["radius_mm"]), cut["radius_m"] * 1e3, delta=6e-4)
            self.assertAlmostEqual(float(row["length_mm"]), cut["length_m"] * 1e3, delta=6e-4)
            self.assertAlmostEqual(float(row["from_edge_mm"]), cut["from_edge_m"] * 1e3, delta=6e-4)
            comb = next(comb for comb in answer["combs"] if shown[comb["comb"]] == row["comb"])
            self.assertAlmostEqual(cut["from_edge_m"],
                                   cut["radius_m"] - comb["plate_inner_radius_m"], places=12)
        for row, cut in zip(self.table("combs/weights.csv"), answer["lead_cuts"], strict=True):
            self.assertEqual(int(row["pieces"]), cut["count"])
            words = tracks_words(cut)
            self.assertEqual(row["tracks"], "'" + words if words.startswith("=") else words)
            self.assertAlmostEqual(float(row["length_mm"]), cut["length_m"] * 1e3, delta=6e-4)

    def table(self, name):
        with open(self.folder / name, newline="", encoding="ascii") as file:
            return list(csv.DictReader(file))

    def test_the_sheets_have_every_tooth_once(self):
        answer = self.answer("comb", LARKSPUR, "--out", "combs")
        text = self.pdf_text("combs/combs.pdf")
        rows = [line.split()[:4] for line in text.splitlines()]
        for tooth in answer["teeth"]:
            with self.subTest(comb=tooth["comb"], track=tooth["track"]):
                self.assertEqual(rows.count([str(tooth["track"]), tooth["note"],
                                             f"{tooth['target_hz']:.2f}",
                                             f"{tooth['length_m'] * 1e3:.2f}"]), 1)

    def pdf_text(self, name):
        return subprocess.run(["pdftotext", "-layout", self.folder / name, "-"],
                              capture_output=True, text=True, check=True).stdout

    def test_the_sheets_tell_how_to_saw_to_file_and_which_weight_is_whose(self):
        answer = self.answer("comb", LARKSPUR, "--out", "combs")
        lines = [" ".join(line.split()) for line in self.pdf_text("combs/combs.pdf").splitlines()]
        text = " ".join(lines)
        for comb in answer["combs"]:
            for cut in comb["saw_cuts"]:
                wanted = " ".join([str(cut["track"] or "inside"), *(
                    f"{cut[key] * 1e3:.2f}" for key in ("radius_m", "from_edge_m", "length_m"))])
                with self.subTest(comb=comb["comb"], cut=cut["track"]):
                    self.assertTrue(any(wanted in line for line in lines), wanted)
        for tooth in answer["teeth"]:
            if tooth["lead"] is None:
                row = next(line.split() for line in lines if line.startswith(
                    f"{tooth['track']} {tooth['note']} {tooth['target_hz']:.2f} "
                    f"{tooth['length_m'] * 1e3:.2f}"))
                self.assertEqual(row[6], f"{tooth['tip_thickness_m'] * 1e3:.3f}")
                self.assertEqual(row[-1], f"{tooth['cents_per_file_step']:.1f}")
        for cut in answer["lead_cuts"]:
            wanted = f"{cut['mass_kg'] * 1e6:.1f} {tracks_words(cut)}"
            self.assertTrue(any(wanted in line for line in lines), wanted)
        for words in ("its tip end 1 mm from the tip", "filing its underside",
                      "undone by filing a little at the root",
                      "7.5 mm from the back edge and 38.1 mm apart"):
            self.assertIn(words, text)

    def test_the_sheets_tell_the_pitch_of_a_comb_apart(self):
        # 4 cents above 440 Hz, C2 and E6 by the definition of equal temperament.
        self.answer("comb", LARKSPUR, "--out", "combs")
        above = 2**(4 / 1200)
        beats = [440 * 2**((midi - 69) / 12) * (above - 1) for midi in (36, 88)]
        wanted = (f"this comb 4 cents above, its A4 at {440 * above:.2f} Hz; beats with comb front: "
                  f"{beats[0]:.2f} Hz at C2, {beats[1]:.2f} Hz at E6")
        self.assertIn(wanted, " ".join(self.pdf_text("combs/combs.pdf").split()))
        self.assertIn(wanted, self.run_program("comb", LARKSPUR).stdout)

    def test_the_labels_on_the_sheets_can_be_read(self):
        answer = self.answer("comb", LARKSPUR, "--out", "combs")
        html = subprocess.run(["pdftotext", "-bbox", "-f", "1", "-l", "1",
                               self.folder / "combs/combs.pdf", "-"],
                              capture_output=True, text=True, check=True).stdout
        mm = 25.4 / 72
        words = [(text, *(float(edge) * mm for edge in edges)) for *edges, text in re.findall(
            r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)<', html)]
        for track in (1, *range(5, 75, 5), 76):
            note = answer["teeth"][track - 1]["note"]
            with self.subTest(track=track):
                # The number over its note, both at least as high as a font of 2 mm.
                self.assertTrue(any(
                    number == str(track) and under == note and 1 < below - top < 4 and
                    low - top > 2 and abs(left + right - left_too - right_too) < 6
                    for number, left, top, right, low in words
                    for under, left_too, below, right_too, _ in words))

    def test_cautions_go_with_the_metal(self):
        pack_words = {}
        for metal in ("lead", "tungsten", "tin-bismuth"):
            changed = BRAMBLE.read_text() + f'\n[lead]\nmetal = "{metal}"\n'
            (self.folder / f"{metal}.toml").write_text(changed)
            run = self.run_program("pack", f"{metal}.toml", WALTZ, "--out", f"pack-{metal}")
            combs = self.run_program("comb", f"{metal}.toml", "--out", f"combs-{metal}")
            papers = {"console": run.stdout, "comb": combs.stdout,
                      "readme": (self.folder / f"pack-{metal}/README.txt").read_text(),
                      "pack": self.pdf_text(f"pack-{metal}/pack.pdf"),
                      "combs": self.pdf_text(f"combs-{metal}/combs.pdf")}
            for name, words in papers.items():
                words = " ".join(words.split())
                with self.subTest(metal=metal, paper=name):
                    self.assertEqual("contain lead" in words, metal == "lead")
                    self.assertEqual("grind wet" in words, metal == "tungsten")
                    for told in ("a hard tooth can snap", "Hardening and blueing", "estimates",
                                 "Local rules"):
                        self.assertIn(told, words)
            if metal == "lead":
                weights = papers["combs"][papers["combs"].index("Tuning weights to cut"):]
                self.assertIn("contain lead", weights)

    def test_the_picture_is_as_wide_as_the_comb(self):
        for path in (BRAMBLE, LARKSPUR):
            answer = self.answer("comb", path, "--out", path.stem)
            svg = (self.folder / path.stem / "comb.svg").read_text()
            left, _, width, _ = map(float, re.search(r'viewBox="([^"]+)"', svg)[1].split())
            comb = answer["combs"][0]
            self.assertLess(left + width - (comb["plate_inner_radius_m"] +
                                            comb["plate_width_m"]) * 1e3, 12)
            self.assertNotIn("projections", svg)

    def test_every_tooth_and_edge_is_named_on_the_drawing(self):
        self.run_program("comb", BRAMBLE, "--dxf", "comb.dxf")
        answer, _ = designed(BRAMBLE)
        space = ezdxf.readfile(self.folder / "comb.dxf").modelspace()
        texts = [text.dxf.text for text in space.query('TEXT[layer=="TEXT"]')]
        for tooth in answer["teeth"]:
            self.assertEqual(texts.count(str(tooth["track"])), 1)
            self.assertIn(tooth["note"], texts)
        self.assertIn("tips", texts)
        self.assertIn("back", texts)

    def test_the_svg_has_the_shapes_of_the_dxf(self):
        self.run_program("comb", BRAMBLE, "--out", "combs")
        space = ezdxf.readfile(self.folder / "combs/comb.dxf").modelspace()
        # SVG counts y downwards.
        drawn = [sorted((x, -y) for x, y, *_ in line.points())
                 for line in space.query("POLYLINE") if line.is_closed]
        svg = svgelements.SVG.parse(self.folder / "combs/comb.svg", reify=False)
        shown = [sorted((point.x, point.y) for point in shape.points)
                 for shape in svg.elements() if isinstance(shape, svgelements.Polygon)]
        self.assertEqual(len(shown), len(drawn))
        for ours, theirs in zip(sorted(drawn), sorted(shown)):
            for (x, y), (u, v) in zip(ours, theirs):
                self.assertLess(math.hypot(x - u, y - v), 2e-4)

    def test_a_folder_of_something_else_is_left_alone(self):
        self.run_program("pack", BRAMBLE, WALTZ, "--out", "pack")
        before = snapshot(self.folder / "pack")
        run = self.run_program("comb", BRAMBLE, "--out", "pack")
        self.assertEqual((run.returncode, run.stdout), (2, ""))
        self.assertEqual(snapshot(self.folder / "pack"), before)

    def test_a_drawing_does_not_overwrite_anything_else(self):
        (self.folder / "mine.dxf").write_text("mine")
        self.assert_refused(
            self.run_program("comb", BRAMBLE, "--dxf", "mine.dxf"),
            "mine.dxf: is there already and is not this program's work; choose another name or give "
            "--force")


if __name__ == "__main__":
    unittest.main()
