#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""files_test.py PROGRAM SOURCE_DIR: every file of a pack read by a program or library that nobody
here wrote, and the tune rebuilt from that file alone compared with the arrangement."""
import csv
import json
import subprocess
import unittest
import wave

import readers
from program import BRAMBLE, HEDGEROW, LARKSPUR, WALTZ, ProgramTest

# interface.md: time and angle agree to better than 0.1 ms.
TIME_S = 0.1e-3
# Coordinates are rounded to 0.1 um each way, angles in tables to 0.00001 deg.
PLACE_MM = 0.0002
# The PDF library keeps points in steps of 1/256 typographic point, and Poppler prints six decimals.
PDF_PLACE_MM = 0.003
# 1.4 um (one such step) on the innermost track of larkspur, 30 mm at 70 s a turn, is 0.5 ms.
PDF_TIME_S = 0.5e-3


class Files(ProgramTest):
    CASES = [(LARKSPUR, HEDGEROW), (BRAMBLE, WALTZ)]

    def packs(self):
        for box, tune in self.CASES:
            out = self.folder / box.stem
            run = self.run_program("pack", box, tune, "--out", out)
            self.assertIn(run.returncode, (0, 1), run.stderr)
            plan = json.loads((out / "plan.json").read_text())
            action = self.answer("action", box)
            turn_s = plan["turn_time_s"]
            # The box's action is told for its own turn time; arcs stay, delays scale with it.
            for track in action["tracks"]:
                track["release_delay_s"] *= turn_s / action["turn_time_s"]
            action["turn_time_s"] = turn_s
            turning = self.answer("check", box)["box"]["disc"]["turning"]
            yield out, plan, action, turning, self.answer("arrange", box, tune)

    def assert_places(self, hits, plan, within_mm=PLACE_MM):
        """The hits are the plan's, in its order."""
        self.assertEqual(len(hits), len(plan["projections"]))
        for (radius_mm, angle), projection in zip(hits, plan["projections"]):
            self.assertAlmostEqual(radius_mm, projection["radius_m"] * 1000, delta=within_mm)
            off = (angle - projection["angle_rad"] + 3) % readers.TURN - 3
            self.assertAlmostEqual(off * radius_mm, 0, delta=within_mm)

    def assert_plays(self, hits, action, turning, arrangement, within_s=TIME_S):
        """A disc with these hits plays the arrangement."""
        played = readers.plucks(hits, action, turning)
        wanted = sorted((pluck["time_s"], pluck["track"]) for pluck in arrangement["plucks"])
        self.assertEqual(len(played), len(wanted))
        by_track = lambda pluck: (pluck[1], pluck[0])
        for one, other in zip(sorted(played, key=by_track), sorted(wanted, key=by_track)):
            self.assertEqual(one[1], other[1])
            self.assertAlmostEqual(one[0], other[0], delta=within_s)

    def test_the_tune_comes_back_from_each_file_that_holds_the_hits(self):
        for out, plan, action, turning, arrangement in self.packs():
            for hits in (readers.dxf_hits(out / "disc.dxf"),
                         readers.dxf_leading_edges(out / "disc.dxf"),
                         readers.svg_hits(out / "disc.svg"),
                         readers.csv_hits(out / "projections.csv"),
                         readers.rs274_hits(out / "punch.ngc")):
                self.assert_places(hits, plan)
                self.assert_plays(hits, action, turning, arrangement)
            hits = readers.pdf_hits(out / "disc.pdf")
            self.assert_places(hits, plan, PDF_PLACE_MM)
            self.assert_plays(hits, action, turning, arrangement, PDF_TIME_S)

    def test_the_midi_file_holds_the_arrangement(self):
        for out, _, _, _, arrangement in self.packs():
            midi = {track["track"]: track["midi"] for track in arrangement["tracks"]}
            wanted = sorted((pluck["time_s"], midi[pluck["track"]])
                            for pluck in arrangement["plucks"])
            notes = readers.midi_notes(out / "arrangement.mid")
            self.assertEqual(len(notes), len(wanted))
            for note, pluck in zip(sorted(notes, key=lambda n: (n[1], n[0])),
                                   sorted(wanted, key=lambda n: (n[1], n[0]))):
                self.assertEqual(note[1], pluck[1])
                self.assertAlmostEqual(note[0], pluck[0], delta=TIME_S)

    def test_angle_and_time_keep_the_contract_of_the_plan(self):
        for _, plan, action, turning, _ in self.packs():
            arc = {track["track"]: track["release_arc_m"] for track in action["tracks"]}
            turn_s = plan["turn_time_s"]
            sign = 1 if turning == "clockwise" else -1
            constants = []
            for hit in plan["projections"]:
                lag = arc[hit["track"]] / hit["radius_m"] * turn_s / readers.TURN
                constant = sign * hit["angle_rad"] * turn_s / readers.TURN - hit["time_s"] + lag
                constants.append((constant + turn_s / 2) % turn_s)
            self.assertLess(max(constants) - min(constants), TIME_S)

    def test_the_pdfs_are_sound(self):
        for out, *_ in self.packs():
            for path in sorted(out.glob("*.pdf")):
                subprocess.run(["qpdf", "--check", path], check=True, capture_output=True)

    def test_the_one_page_pdf_has_room_for_the_disc_at_true_scale(self):
        for out, plan, *_ in self.packs():
            info = subprocess.run(["pdfinfo", out / "disc.pdf"], capture_output=True, text=True,
                                  check=True).stdout
            size = next(line for line in info.splitlines() if line.startswith("Page size"))
            width_mm, height_mm = (float(word) * 25.4 / 72 for word in
                                   (size.split()[2], size.split()[4]))
            for side_mm in (width_mm, height_mm):
                self.assertGreater(side_mm, 2000 * plan["outer_radius_m"])
                self.assertLess(side_mm, 2000 * plan["outer_radius_m"] + 60)

    def test_the_papers_speak_of_notes_and_bars_as_people_do(self):
        run = self.run_program("pack", BRAMBLE, HEDGEROW, "--out", "pack")
        text = " ".join(subprocess.run(["pdftotext", self.folder / "pack/pack.pdf", "-"],
                                       capture_output=True, text=True, check=True).stdout.split())
        self.assertNotIn("dropped", text)
        self.assertIn("left out", text)
        for words in (text, run.stdout):
            self.assertIn("an octave or two away", words)
        self.assertIn("other bars can be chosen", text)

    def test_the_table_of_tracks_has_one_unit_a_column(self):
        for out, *_ in self.packs():
            lines = [" ".join(line.split()) for line in subprocess.run(
                ["pdftotext", "-layout", out / "pack.pdf", "-"], capture_output=True, text=True,
                check=True).stdout.splitlines()]
            with open(out / "tracks.csv", newline="") as table:
                for row in csv.DictReader(table):
                    closest = f"{float(row['closest_s']):.3f}" if row["closest_s"] else "-"
                    wanted = (f"{float(row['radius_mm']):.2f} {row['plucks']} "
                              f"{float(row['min_interval_s']):.3f} {closest}")
                    self.assertTrue(any(wanted in line for line in lines), wanted)

    def test_a_disc_that_fits_one_sheet_needs_no_glue(self):
        self.run_program("disc", BRAMBLE, WALTZ, "--out", "disc")
        text = subprocess.run(["pdftotext", self.folder / "disc/disc-tiled.pdf", "-"],
                              capture_output=True, text=True, check=True).stdout
        self.assertIn("One sheet", text)
        for words in ("Row", "glue", "cut here"):
            self.assertNotIn(words, text)

    def test_the_svg_is_well_formed(self):
        for out, *_ in self.packs():
            subprocess.run(["xmllint", "--nonet", "--noout", out / "disc.svg"], check=True)

    def test_the_sound_lasts_a_turn_and_its_tail(self):
        for out, plan, *_ in self.packs():
            run = subprocess.run(["sox", "--i", "-D", out / "preview.wav"], capture_output=True,
                                 text=True, check=True)
            self.assertGreater(float(run.stdout), plan["turn_time_s"])
            with wave.open(str(out / "preview.wav")) as sound:
                self.assertEqual(sound.getnchannels(), 2)

    def test_every_paper_names_the_plan_it_belongs_to(self):
        for out, *_ in self.packs():
            sum_ = subprocess.run(["sha256sum", out / "plan.json"], capture_output=True,
                                  text=True).stdout[:64]
            self.assertIn(sum_, (out / "README.txt").read_text())
            self.assertIn(sum_[:12], (out / "punch.ngc").read_text())
            text = subprocess.run(["pdftotext", out / "pack.pdf", "-"], capture_output=True,
                                  text=True, check=True).stdout
            self.assertIn(sum_[:12], text)


if __name__ == "__main__":
    unittest.main()
