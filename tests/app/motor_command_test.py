#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""motor_command_test.py PROGRAM SOURCE_DIR: the motor against SciPy on the same equations, the books,
the example boxes, a plain vane, a heavier tune, sizing, and requests that are wrong."""
import math
import unittest

import ezdxf
from motor_model import Machine
from program import BRAMBLE, EXAMPLES, HEDGEROW, LARKSPUR, MILLPOND, WALTZ, ProgramTest

# The largest relative error of a turn's time that src/motor/run.h claims.
TURN_TIME_ERROR = 1e-6


class Motor(ProgramTest):
    def box_with(self, box, *changes):
        """A copy of a box file with its one text of each pair replaced."""
        text = box.read_text()
        for old, new in changes:
            self.assertEqual(text.count(old), 1, old)
            text = text.replace(old, new)
        path = self.folder / "changed.toml"
        path.write_text(text)
        return path


class Solver(Motor):
    def test_turn_times_agree_with_an_independent_solver(self):
        answer = self.answer("motor", BRAMBLE, WALTZ)
        disc = self.answer("disc", BRAMBLE, WALTZ, "--out", "disc")
        actions = {t["track"]: t for t in self.answer("action", BRAMBLE)["tracks"]}
        machine = Machine(self.answer("check", BRAMBLE)["box"], actions,
                          self.answer("comb", BRAMBLE)["teeth"], disc["projections"],
                          disc["turn_time_s"])
        turns = 2
        self.assertGreaterEqual(len(answer["speed"]), turns)
        for (_, ours), theirs in zip(answer["speed"], machine.turn_times(turns)):
            self.assertLess(abs(ours / theirs - 1), TURN_TIME_ERROR)


class Train(Motor):
    def test_the_drawing_has_every_wheel_on_its_axis(self):
        self.answer("motor", LARKSPUR, "--dxf", "train.dxf")
        train = self.answer("check", LARKSPUR)["box"]["train"]
        space = ezdxf.readfile(self.folder / "train.dxf").modelspace()
        axes = [point.dxf.location.x for point in space.query('POINT[layer=="AXES"]')]
        self.assertEqual(len(axes), len(train["wheel_teeth"]) + 1)
        module = train["module_m"] * 1e3
        # Wheel by wheel the pitch circles touch; a blank stands out by a module.
        wanted, x = [], 0.0
        for wheel, pinion in zip(train["wheel_teeth"], train["pinion_teeth"]):
            wanted.append((x, wheel))
            x += module * (wheel + pinion) / 2
            wanted.append((x, pinion))
        blanks = [(c.dxf.center.x, c.dxf.radius) for c in space.query('CIRCLE[layer=="EDGE"]')]
        self.assertEqual(len(blanks), len(wanted))
        for (x, teeth), (drawn_x, radius) in zip(wanted, blanks):
            self.assertAlmostEqual(drawn_x, x, delta=1e-4)
            self.assertAlmostEqual(radius, module * (teeth + 2) / 2, delta=1e-4)
        spokes = [line for line in space.query('LINE[layer=="MARKS"]')
                  if abs(math.dist(line.dxf.start, line.dxf.end) - module) < 1e-3]
        self.assertEqual(len(spokes), sum(teeth for _, teeth in wanted))

    def test_a_barrel_in_the_way_of_its_pinion_is_told(self):
        # Axes (96 + 8) / 2 modules apart, the pinion's blank 5 modules: 37.6 and 47 mm.
        for module, warned in (("0.8 mm", True), ("1 mm", False)):
            box = self.box_with(LARKSPUR, ('module = "1 mm"', f'module = "{module}"'))
            run = self.run_program("motor", box)
            self.assertEqual("the pinion that its wheel drives stands at" in run.stdout, warned)

    def test_a_thin_arbor_is_told(self):
        for radius, warned in (("5.9 mm", True), ("6.1 mm", False)):
            box = self.box_with(LARKSPUR, ('arbor_radius = "12.5 mm"', f'arbor_radius = "{radius}"'))
            run = self.run_program("motor", box)
            self.assertEqual("make the arbor 6 mm in radius or more" in run.stdout, warned)

    def test_a_wheel_that_strikes_an_arbor_is_told(self):
        for wheels, warned in [("[96, 96, 90]", False), ("[96, 40, 220]", True)]:
            box = self.box_with(LARKSPUR, ("wheels = [96, 96, 90]", f"wheels = {wheels}"))
            run = self.run_program("motor", box)
            self.assertEqual("the arbor that drives it" in run.stdout, warned)


class Wind(Motor):
    def test_the_example_boxes_play_with_margin_and_in_tempo(self):
        for box, tunes, plays in [(LARKSPUR, [HEDGEROW, WALTZ, MILLPOND, None], 9),
                                  (BRAMBLE, [WALTZ, None], 6)]:
            for tune in tunes:
                answer = self.answer("motor", box, *([tune] if tune else []))
                with self.subTest(box=box.name, tune=tune):
                    self.assertFalse(answer["stalls"])
                    self.assertEqual(answer["plays"], plays)
                    self.assertGreater(answer["margin"], 1.2)
                    self.assertLess(answer["tempo_drop"], 0.025)
                    self.assertLess(abs(answer["mean_turn_time_s"] / answer["turn_time_s"] - 1),
                                    0.025)

    def test_the_long_strip_of_common_practice_is_usable(self):
        self.assertIn('strip_length = "6.1 m"', LARKSPUR.read_text())
        answer = self.answer("motor", LARKSPUR, HEDGEROW)
        self.assertGreater(answer["turns_usable"], answer["turns_used"] + 4)
        self.assertLess(answer["spring"]["greatest_stress_pa"], 1.4e9)

    def test_the_books_balance(self):
        for box in (LARKSPUR, BRAMBLE):
            energy = self.answer("motor", box, WALTZ)["energy_j"]
            taken = sum(energy[key] for key in ("plucks", "train", "governor", "disc", "left"))
            self.assertLess(abs(taken / energy["spring"] - 1), 1e-9)
            self.assertGreater(min(energy.values()), 0)

    def test_every_turn_takes_its_plucks(self):
        answer = self.answer("motor", BRAMBLE, WALTZ)
        self.assertAlmostEqual(answer["energy_j"]["plucks"],
                               answer["plays"] * answer["load"]["plucks_j"], delta=1e-9)

    def test_a_plain_vane_cannot_hold_the_tempo(self):
        blades = 'vane_pitch = "40 deg"\nvane_width = "40 mm"\nvane_outer_radius = "30 mm"'
        for box in (LARKSPUR, BRAMBLE):
            with self.subTest(box=box.name):
                vane = self.box_with(box, ('kind = "friction"', f'kind = "vane"\n{blades}'))
                told = self.answer("motor", vane, WALTZ)
                self.assertTrue(told["governor"]["holds"])
                pitch = math.degrees(told["governor"]["set_vane_pitch_rad"])
                vane = self.box_with(vane, ('vane_pitch = "40 deg"', f'vane_pitch = "{pitch} deg"'))
                answer = self.answer("motor", vane, WALTZ)
                self.assertLess(abs(answer["mean_turn_time_s"] / answer["turn_time_s"] - 1), 0.05)
                self.assertGreater(answer["tempo_drop"], 0.1)
                self.assertIn("a vane follows the spring",
                              "".join(f["do"] for f in answer["findings"]))

    def test_a_vane_too_small_is_not_said_to_hold(self):
        vane = self.box_with(LARKSPUR, ('kind = "friction"', 'kind = "vane"'))
        run = self.run_program("motor", vane)
        self.assertIn("too weak: ", run.stdout)
        self.assertNotIn("hold the turn time", run.stdout)

    def test_the_setting_told_holds_the_turn_time(self):
        loose = self.box_with(BRAMBLE, ('weight_preload = "0.98 N"', 'weight_preload = "0.7 N"'))
        told = self.answer("motor", loose, WALTZ)
        self.assertGreater(abs(told["mean_turn_time_s"] / told["turn_time_s"] - 1), 0.05)
        set_n = told["governor"]["set_weight_preload_n"]
        held = self.answer("motor", self.box_with(
            BRAMBLE, ('weight_preload = "0.98 N"', f'weight_preload = "{set_n:.4f} N"')), WALTZ)
        self.assertLess(abs(held["mean_turn_time_s"] / held["turn_time_s"] - 1), 0.01)

    def test_a_heavier_tune_costs_plays(self):
        """Chords of as many notes as the arranger may write end the wind sooner than a waltz does.
        With a weaker strip and no stop work in the way it is whole plays."""
        for box in (LARKSPUR, BRAMBLE):
            self.assertLess(self.answer("motor", box)["margin"],
                            0.6 * self.answer("motor", box, WALTZ)["margin"])
        weak = self.box_with(LARKSPUR, ('strip_width = "30 mm"', 'strip_width = "4 mm"'),
                             ("turns_used = 9 ", "turns_used = 15\nturns_left_full = 0.8 "))
        self.assertLess(self.answer("motor", weak, status=(1,))["plays"],
                        self.answer("motor", weak, WALTZ)["plays"] - 1)

    def test_more_than_the_motor_can_take_stalls(self):
        weak = self.box_with(LARKSPUR, ('strip_width = "30 mm"', 'strip_width = "4 mm"'))
        run = self.run_program("motor", weak)
        self.assertEqual(run.returncode, 1)
        self.assertIn("stalls in turn ", run.stdout)
        answer = self.answer("motor", weak, status=(1,))
        self.assertTrue(answer["stalls"])
        self.assertLess(answer["plays"], 9)
        self.assertEqual(answer["stall"]["turn"], answer["plays"] + 1)


class Sizing(Motor):
    def test_every_design_offered_keeps_the_wishes_when_it_is_built(self):
        answer = self.answer("motor", BRAMBLE, "--size", "--plays=5", "--tempo-drop=2 %",
                             "--barrel=40 mm")
        self.assertGreater(len(answer["designs"]), 0)
        text = BRAMBLE.read_text()
        head, rest = text.split("[spring]")
        tail = rest[rest.index("[hold_down]"):]
        governor = text[text.index("[governor]"):text.index("[hold_down]")]
        for design in answer["designs"]:
            self.assertLessEqual(design["barrel_radius_m"], 0.020 + 1e-9)
            wished, keys = design["keys"].split("[spring]")
            self.assertEqual(wished, '[motor]\ntempo_drop = "2 %"\n\n')
            keys = "[spring]" + keys
            if design["governor"] == "friction":
                kept = [line for line in governor.splitlines()[1:] if line.split(" ")[0] not in
                        ("kind", "weight_mass", "weight_preload")]
                keys += "\n".join(kept) + "\n"
            path = self.folder / "sized.toml"
            path.write_text(head.replace("[motor]\n", wished.rstrip() + "\n") + keys + tail)
            built = self.answer("motor", path)
            self.assertGreaterEqual(built["plays"], 5)
            self.assertFalse(built["stalls"])
            self.assertLess(built["tempo_drop"], 0.02)
            self.assertLess(abs(built["mean_turn_time_s"] / built["turn_time_s"] - 1), 0.002)
            self.assertGreaterEqual(built["margin"], 1.5)

    def test_another_turn_time_is_kept_and_stands_among_the_keys(self):
        answer = self.answer("motor", BRAMBLE, "--size", "--plays=6", "--turn-time=60 s")
        self.assertGreater(len(answer["designs"]), 0)
        for design in answer["designs"]:
            self.assertLess(abs(design["mean_turn_time_s"] / 60 - 1), 0.002)
            self.assertGreaterEqual(design["margin"], 1.5)
            self.assertTrue(design["keys"].startswith('[motor]\nturn_time = "60 s"\n\n'))

    def test_wishes_that_cannot_be_met_name_the_limit(self):
        """Each wish is the only one that stands in the way: bramble is sized for six plays."""
        crowded = self.box_with(BRAMBLE, ("most_plucks = 6", "most_plucks = 30"))
        for box, wishes, limit in [(BRAMBLE, ["--plays=60"], "turns"),
                                   (BRAMBLE, ["--plays=6", "--tempo-drop=0.1 %"], "tempo"),
                                   (crowded, ["--plays=6"], "chord")]:
            with self.subTest(limit=limit):
                answer = self.answer("motor", box, "--size", *wishes, status=(1,))
                self.assertEqual(answer["designs"], [])
                self.assertEqual(answer["findings"][0]["level"], "fault")
                self.assertEqual(answer["binding"].split(":")[0], limit)
        self.assertGreater(len(self.answer("motor", BRAMBLE, "--size", "--plays=6")["designs"]), 0)


class Heard(Motor):
    def test_the_last_turn_of_a_wind_is_slower_than_the_first(self):
        times = [self.answer("hear", BRAMBLE, WALTZ, "-o", f"{wind}.wav", "--wind", wind)
                 ["turn_time_s"] for wind in ("half", "last")]
        speed = [time for _, time in self.answer("motor", BRAMBLE, WALTZ)["speed"]]
        self.assertAlmostEqual(times[1], speed[-1], delta=1e-9)
        self.assertLess(times[0], times[1])


class Refused(Motor):
    def test_wishes_without_size(self):
        self.assert_refused(
            self.run_program("motor", BRAMBLE, "--plays=3"),
            "--plays, --turn-time, --tempo-drop and --barrel are wishes; give "
            "--size too")

    def test_a_wish_without_its_unit(self):
        run = self.run_program("motor", BRAMBLE, "--size", "--barrel=40")
        self.assertEqual(run.returncode, 2)
        self.assertIn("mm", run.stderr)

    def test_a_wind_that_is_no_word(self):
        self.assert_refused(self.run_program("hear", BRAMBLE, WALTZ, "-o", "a.wav", "--wind=low"),
                            "--wind low: write full, half or last")

    def test_a_wind_without_end(self):
        run = self.run_program("motor", self.box_with(
            LARKSPUR, ("turns_per_disc_turn = 1 ", "turns_per_disc_turn = 0.01 ")))
        self.assertEqual(run.returncode, 2)
        self.assertIn("more than 500 turns of the disc on one wind", run.stderr)

    def test_turns_that_the_barrel_does_not_have(self):
        box = self.box_with(BRAMBLE, ("turns_used = 4.5 ", "turns_used = 9\nturns_left_full = 4 "))
        run = self.run_program("motor", box)
        self.assertEqual(run.returncode, 2)
        self.assertIn("spring.turns_left_full and turns_used are 13 together", run.stderr)


if __name__ == "__main__":
    unittest.main()
