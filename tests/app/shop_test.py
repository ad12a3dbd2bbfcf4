#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""shop_test.py PROGRAM SOURCE_DIR: what the shop file says of stroke and paper, from the file to
what is cut and printed, read back by programs that nobody here wrote."""
import re
import shutil
import subprocess
import unittest

from program import BRAMBLE, WALTZ, ProgramTest

STEP = re.compile(r"((?:USE_LENGTH_UNITS|SET_G92_OFFSET)\([^)]*\))|"
                  r"STRAIGHT_(?:FEED|TRAVERSE)\(([^)]*)\)")

# NISTIR 6556: X and A are axes (3.5), G20 inches, G28 and G30 return, G91 counts from here, G92
# moves the zero (table 5), M2 and M30 end the program (table 6), % ends the file (3.3).
HARMFUL = ["X1", "A1", "G20", "G28", "G30", "G91", "G92 X1", "M2", "M30", "%", "press"]


def places(program):
    """(frame, X, A) after every straight move, as LinuxCNC's interpreter understands the program; None
    if it refuses it or does not come to its end."""
    run = subprocess.run(["rs274", "-g", program], capture_output=True, text=True)
    if run.returncode != 0 or "PROGRAM_END()" not in run.stdout:
        return None
    frame, moves = {}, []
    for change, axes in STEP.findall(run.stdout):
        if change:
            name, values = change.split("(")
            frame = {**frame, name: values}
        else:
            x, _, _, a, *_ = map(float, axes.split(","))
            moves.append((frame, x, a))
    return moves


class Stroke(ProgramTest):
    def write_shop(self, *lines):
        quoted = ", ".join(f'"{line}"' for line in lines)
        (self.folder / "shop.toml").write_text(f"[punch]\nhit = [{quoted}]\n")

    def disc(self, out):
        return self.run_program("disc", BRAMBLE, WALTZ, "--out", out, "--shop", "shop.toml")

    def test_a_harmful_line_is_refused_where_it_stands(self):
        for line in HARMFUL:
            self.write_shop("M7", line)
            run = self.disc("out")
            self.assertEqual((run.returncode, run.stdout), (2, ""), line)
            self.assertRegex(run.stderr, r"^shop\.toml:2:14: punch\.hit (has|holds) .*\n$")
            self.assertFalse((self.folder / "out").exists())

    @unittest.skipIf(shutil.which("rs274") is None, "rs274 is not installed")
    def test_the_interpreter_shows_what_the_refused_lines_would_do(self):
        self.write_shop("M7", "G4 P0.1", "M9")
        self.assertIn(self.disc("out").returncode, (0, 1))
        program = (self.folder / "out/punch.ngc").read_text()
        wanted = places(self.folder / "out/punch.ngc")
        self.assertGreater(len(wanted), 100)
        for line in HARMFUL:
            (self.folder / "broken.ngc").write_text(program.replace("\nM9\n", f"\n{line}\nM9\n"))
            self.assertTrue(places(self.folder / "broken.ngc") != wanted, line)

    def test_the_set_up_tells_that_the_tool_is_lifted_first(self):
        self.write_shop("M7", "G4 P0.1", "M9")
        self.assertIn(self.disc("out").returncode, (0, 1))
        program = (self.folder / "out/punch.ngc").read_text()
        self.assertIn("(Zero of Z: the top of the sheet, the tool is lifted to 5 mm before the first "
                      "move, then the shop's own lines strike and must leave it up)\n", program)
        moves = [line for line in program.splitlines() if re.match(r"(N\d+ )?G[01] ", line)]
        self.assertEqual(moves[0], "G0 Z5.0000")


class PaperByName(ProgramTest):
    @unittest.skipIf(shutil.which("pdfinfo") is None, "pdfinfo is not installed")
    def test_the_sheets_have_the_size_of_the_name(self):
        # ISO 216: A3 is 297 mm by 420 mm; ASME Y14.1: size B is 11 in by 17 in.
        for name, width_mm, height_mm in (("A3", 297, 420), ("Tabloid", 279.4, 431.8)):
            (self.folder / "shop.toml").write_text(f'[paper]\nname = "{name}"\n')
            run = self.run_program("disc", BRAMBLE, WALTZ, "--out", name, "--shop", "shop.toml")
            self.assertIn(run.returncode, (0, 1), run.stderr)
            told = subprocess.run(["pdfinfo", self.folder / name / "disc-tiled.pdf"],
                                  capture_output=True, text=True, check=True).stdout
            size = re.search(r"Page size:\s+([\d.]+) x ([\d.]+) pts", told)
            sides = [float(side) / 72 * 25.4 for side in size.groups()]
            self.assertAlmostEqual(sides[0], width_mm, delta=0.1)
            self.assertAlmostEqual(sides[1], height_mm, delta=0.1)


if __name__ == "__main__":
    unittest.main()
