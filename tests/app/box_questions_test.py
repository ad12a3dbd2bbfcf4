#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""box_questions_test.py PROGRAM SOURCE_DIR: the workbench's questions about a box text: its keys, its
edits as Python's tomllib reads them, and the drawing in section as svgelements and librsvg read it."""
import json
import math
import pathlib
import random
import re
import shutil
import subprocess
import tomllib
import unittest

import svgelements

from program import BRAMBLE, LARKSPUR, WALTZ
from served import Served


def comments(text):
    """What stands after # outside of quotes, on every line."""
    found = []
    for line in text.splitlines():
        bare = re.sub(r'"[^"]*"', lambda quoted: "x" * len(quoted[0]), line)
        if "#" in bare:
            found.append(line[bare.index("#"):])
    return found


class BoxQuestions(Served):
    papers = (BRAMBLE, LARKSPUR)

    def good(self, name, **fields):
        status, answer = self.question(name, **fields)
        self.assertEqual(status, 200, answer)
        return answer

    def keys(self):
        status, _, body = self.ask("GET", "/api/keys")
        self.assertEqual(status, 200)
        return json.loads(body)["sections"]


class Keys(BoxQuestions):
    def test_they_are_those_of_the_reference(self):
        page = (pathlib.Path(__file__).parents[2] / "docs/box.md").read_text()
        for section in self.keys():
            for key in section["keys"]:
                self.assertIn(f"| `{key['name']}` | {key['write']} |", page)

    def test_settings_are_those_that_check_shows(self):
        for box in (BRAMBLE, LARKSPUR):
            shown = self.run_program("check", box).stdout
            rows = dict(re.findall(r"^ *(\S+(?: \d\.\S+)?) +(given|derived|default)\b", shown, re.M))
            settings = self.good("settings", box=box.name)["settings"]
            self.assertEqual({s["key"]: s["from"] for s in settings}, rows)

    def test_a_wrong_box_has_its_settings_and_its_problem(self):
        text = BRAMBLE.read_text().replace('diameter = "182 mm"', 'diameter = "100 mm"')
        answer = self.good("settings", box="bramble.toml", box_text=text)
        self.assertEqual(answer["problem"]["where"], "disc.diameter")
        self.assertIn("needs", answer["problem"]["error"])
        values = {s["key"]: s["value"] for s in answer["settings"]}
        self.assertEqual(values["disc.diameter"], "100 mm")
        self.assertEqual(self.question("section", box="bramble.toml", box_text=text)[0], 400)
        text = text.replace("[disc]", "[disk]")
        answer = self.good("settings", box="bramble.toml", box_text=text)
        self.assertEqual(answer["problem"]["where"], "disk")
        self.assertEqual(self.question("settings", box="bramble.toml", box_text="[disc")[0], 400)

    def test_findings_name_a_key(self):
        text = BRAMBLE.read_text().replace('web = "0.7 mm"', 'web = "0.1 mm"').replace(
            'length = "210 mm"', 'length = "260 mm"').replace('width = "1.1 mm"', 'width = "0.5 mm"')
        answer = self.good("settings", box="bramble.toml", box_text=text)
        keys = {setting["key"] for setting in answer["settings"]}
        self.assertGreaterEqual(len(answer["findings"]), 3)
        for finding in answer["findings"]:
            self.assertIn(finding["where"], keys)


class Edits(BoxQuestions):
    def edited(self, text, *edits):
        return self.good("edit", box="larkspur.toml", box_text=text, edits=list(edits))["box_text"]

    def test_every_given_key_takes_another_value_and_nothing_else_changes(self):
        for box in (BRAMBLE, LARKSPUR):
            text = box.read_text()
            bounds = {(section["name"], key["name"]): key
                      for section in self.keys() for key in section["keys"]}
            changed = 0
            for setting in self.good("settings", box=box.name)["settings"]:
                key = bounds[setting["section"], setting["name"]]
                if setting["from"] != "given" or key["kind"] not in ("quantity", "number", "integer"):
                    continue
                edit = {name: setting[name] for name in ("section", "row", "name")}
                new = self.edited(text, {**edit, "value": key["greatest"]})
                before, after = tomllib.loads(text), tomllib.loads(new)
                where = after[setting["section"]]
                was = before[setting["section"]]
                if isinstance(where, list):
                    where, was = where[setting["row"]], was[setting["row"]]
                wanted = key["greatest"] if key["kind"] == "quantity" else float(key["greatest"])
                self.assertEqual(where[setting["name"]], wanted)
                where[setting["name"]] = was[setting["name"]]
                self.assertEqual(after, before)
                self.assertEqual(comments(new), comments(text))
                lines = [pair for pair in zip(text.splitlines(), new.splitlines()) if pair[0] != pair[1]]
                self.assertLessEqual(len(lines), 1)
                changed += 1
            self.assertGreater(changed, 30)

    def test_many_edits_at_random_end_in_what_was_asked(self):
        text = LARKSPUR.read_text()
        kinds = [(section, key) for section in self.keys() for key in section["keys"]
                 if key["kind"] in ("quantity", "quantities", "integers", "choice")]
        draw = random.Random(1)
        for _ in range(40):
            now, asked, edits = text, {}, []
            for _ in range(draw.randint(1, 6)):
                section, key = draw.choice(kinds)
                row = draw.randint(0, 1) if section["repeated"] else 0
                one = lambda: draw.choice(key["choices"] or [key["least"], key["greatest"]])
                several = [one() for _ in range(draw.randint(1, 5))]
                value = (", ".join(several) if key["kind"] in ("quantities", "integers") else several[0])
                value = None if draw.random() < 0.2 else value
                edits.append({"section": section["name"], "row": row, "name": key["name"],
                              "value": value})
                asked[section["name"], row, key["name"]] = value
            now = self.edited(text, *edits)
            read = tomllib.loads(now)
            for (section, row, name), value in asked.items():
                there = read.get(section, {})
                there = there[row] if isinstance(there, list) else there
                found = there.get(name)
                if isinstance(found, list):
                    found = ", ".join(str(item) for item in found)
                self.assertEqual(found, value)
            self.assertEqual(comments(now), comments(text))

    def test_lines_of_a_box_file_are_edits(self):
        text = LARKSPUR.read_text()
        lines = '[spring]\nturns_used = 4\n\n[[comb]]\n[[comb]]\nclearance = "0.15 mm"\n'
        now = self.good("edit", box="larkspur.toml", box_text=text, lines=lines)["box_text"]
        self.assertEqual(now, self.edited(
            text, {"section": "spring", "name": "turns_used", "value": "4"},
            {"section": "comb", "row": 1, "name": "clearance", "value": "0.15 mm"}))
        for bad in ("[spring]\nturns_usd = 4\n", "[spring", "[spring]\nturns_used = 'many'\n"):
            self.assertEqual(self.question("edit", box="larkspur.toml", lines=bad)[0], 400)

    def test_notes_chosen_for_tunes_are_put_into_a_box(self):
        shutil.copy(WALTZ, self.folder)
        plan = self.good("scale", box="bramble.toml", tunes=[WALTZ.name], teeth="28")
        now = self.good("edit", box="bramble.toml", lines=plan["keys"])["box_text"]
        check = self.good("check", box="bramble.toml", box_text=now)["box"]
        self.assertEqual(check["scale"]["midi"], [tooth["midi"] for tooth in plan["scale"]])

    def test_what_is_refused(self):
        edit = {"section": "disc", "name": "diameter", "value": "wide"}
        status, answer = self.question("edit", box="bramble.toml", edits=[edit])
        self.assertEqual(status, 400)
        self.assertIn("disc.diameter", answer["error"])
        for bad in ({}, {**edit, "row": -1}, {**edit, "value": 3}, {**edit, "name": "colour"}, 7):
            self.assertEqual(self.question("edit", box="bramble.toml", edits=[bad])[0], 400)
        self.assertEqual((self.folder / "bramble.toml").read_bytes(), BRAMBLE.read_bytes())


class Section(BoxQuestions):
    def figures(self, box, **fields):
        answer = self.good("section", box=box, **fields)
        figures = {}
        for figure in answer["figures"]:
            path = self.folder / f"{figure['name']}.svg"
            path.write_text(figure["svg"])
            figures[figure["name"]] = path
        self.assertEqual(list(figures), ["along", "across", "action", "motor"])
        return figures

    def parts(self, path, key):
        """Bounds (left, top, right, bottom) of what is filled in the parts that show a key, by
        svgelements, in the drawing's own millimetres."""
        found = []
        for group in svgelements.SVG.parse(path, reify=False, ppi=25.4).select(
                lambda e: isinstance(e, svgelements.Group)
                and key in (e.values.get("data-key"), e.values.get("data-section"))):
            found += [shape.bbox(transformed=False) for shape in group
                      if isinstance(shape, (svgelements.Polygon, svgelements.Circle))]
        return found

    def close(self, found, wanted):
        self.assertTrue(math.isclose(found, wanted, abs_tol=0.002), (found, wanted))

    def test_lengths_are_those_of_the_box(self):
        for paper in (BRAMBLE, LARKSPUR):
            box = self.good("check", box=paper.name)["box"]
            figures = self.figures(paper.name)
            disc = self.parts(figures["along"], "disc.diameter")
            self.close(max(b[2] for b in disc) - min(b[0] for b in disc), box["disc"]["diameter_m"] * 1e3)
            self.close(disc[0][3] - disc[0][1], box["disc"]["thickness_m"] * 1e3)
            middle = (max(b[2] for b in disc) + min(b[0] for b in disc)) / 2
            wheels = self.parts(figures["along"], "star_wheel.thickness")
            self.assertEqual(len(wheels), box["tracks"]["count"])
            for wheel, track in zip(wheels, box["tracks"]["list"]):
                self.close((wheel[0] + wheel[2]) / 2 - middle, track["radius_m"] * 1e3)
                self.close(wheel[3] - wheel[1], box["star_wheel"]["tip_radius_m"] * 2e3)
                self.close((wheel[1] + wheel[3]) / 2 - disc[0][3],
                           box["star_wheel"]["axis_below_disc_m"] * 1e3)
            projections = self.parts(figures["along"], "projection.width")
            self.close(projections[0][2] - projections[0][0], box["projection"]["width_m"] * 1e3)
            self.close(projections[0][3] - projections[0][1], box["projection"]["height_m"] * 1e3)
            rollers = self.parts(figures["along"], "hold_down.rollers")
            for roller, radius in zip(rollers, box["hold_down"]["roller_radius_m"], strict=True):
                self.close((roller[0] + roller[2]) / 2 - middle, radius * 1e3)
            for figure, side in (("along", "length_m"), ("across", "width_m")):
                board = self.parts(figures[figure], "soundboard.thickness")[0]
                self.close(board[2] - board[0], box["soundboard"][side] * 1e3)
                self.close(board[3] - board[1], box["soundboard"]["thickness_m"] * 1e3)
            barrel = self.parts(figures["motor"], "spring.barrel_radius")[0]
            self.close(barrel[2] - barrel[0], box["spring"]["barrel_radius_m"] * 2e3)
            plates = self.parts(figures["across"], "comb.plate_thickness")
            self.close(plates[0][2] - plates[0][0], box["combs"][0]["bar_depth_m"] * 1e3)

    def test_designed_teeth_are_those_of_the_comb(self):
        designed = self.good("comb", box="bramble.toml")["teeth"][0]
        across = self.figures("bramble.toml", teeth="designed")["across"]
        tooth = self.parts(across, "comb.longest_tooth")[0]
        self.close(tooth[2] - tooth[0], designed["length_m"] * 1e3)
        self.close(tooth[3] - tooth[1],
                   max(designed["thickness_m"], designed["tip_thickness_m"]) * 1e3)
        lead = self.parts(across, "lead")[0]
        self.close(lead[2] - lead[0], designed["lead"]["length_m"] * 1e3)
        self.close(lead[3] - lead[1], designed["lead"]["height_m"] * 1e3)
        self.close((lead[0] + lead[2]) / 2 - tooth[2], -designed["lead"]["center_m"] * 1e3)
        self.assertEqual(self.question("section", box="bramble.toml", teeth="gold")[0], 400)

    def test_librsvg_draws_them(self):
        for name, path in self.figures("larkspur.toml", teeth="designed").items():
            with self.subTest(figure=name):
                picture = subprocess.run(["rsvg-convert", "--format", "png", "--width", "400", path],
                                         capture_output=True, check=True).stdout
                self.assertGreater(len(picture), 2000)

    def test_nothing_in_a_drawing_is_styled_inline(self):
        for path in self.figures("larkspur.toml").values():
            self.assertNotRegex(path.read_text(), r"\sstyle=|<style|<script")

    def test_a_name_from_a_file_is_only_a_name(self):
        text = BRAMBLE.read_text().replace('"bramble"', '"<script>&\'"')
        for figure in self.good("section", box="bramble.toml", box_text=text)["figures"]:
            self.assertNotIn("<script", figure["svg"])


if __name__ == "__main__":
    unittest.main()
