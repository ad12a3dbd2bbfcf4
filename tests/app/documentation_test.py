#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""documentation_test.py PROGRAM SOURCE_DIR: every command shown in the documentation runs, every key
of an answer is documented and the other way round, and man page and completion know the options
that --help lists."""
import os
import re
import shutil
import subprocess
import unittest

from program import BRAMBLE, DAY, EXAMPLES, HEDGEROW, LARKSPUR, PROGRAM, ROOT, ProgramTest

PAGES = [ROOT / "README.md", ROOT / "docs/guide.md", *sorted((ROOT / "docs/commands").glob("*.md"))]
COMMANDS = ["check", "action", "arrange", "clip", "comb", "disc", "hear", "log", "motor", "pack", "pitch",
            "scale", "tooth", "workbench"]
LOG_ACTIONS = ["add", "test", "strike", "scrap", "list", "export", "certificate", "backup", "check"]


def shell_blocks(path):
    return re.findall(r"^```sh\n(.*?)^```$", path.read_text(), re.MULTILINE | re.DOTALL)


class Shown(ProgramTest):
    def test_every_command_shown_runs(self):
        for page in PAGES:
            folder = self.folder / str(page.relative_to(ROOT)).replace("/", "-")
            folder.mkdir()
            shutil.copytree(EXAMPLES, folder / "examples")
            path = os.pathsep.join([str(PROGRAM.parent), os.environ["PATH"]])
            for block in shell_blocks(page):
                for line in block.splitlines():
                    if line.startswith("combwright workbench"):
                        # Serves until it is told to end, in whatever browser.
                        line = f"timeout --preserve-status --signal=INT 2 {line}"
                    run = subprocess.run(["sh", "-c", line], cwd=folder, capture_output=True,
                                         text=True, env={**os.environ, **DAY, "PATH": path, "BROWSER": "true"})
                    with self.subTest(page=page.name, command=line):
                        self.assertIn(run.returncode, (0, 1), run.stderr)
                        self.assertEqual(run.stderr, "")

    def test_each_page_of_a_command_shows_it(self):
        for command in COMMANDS:
            blocks = shell_blocks(ROOT / f"docs/commands/{command}.md")
            self.assertTrue(any(block.startswith(f"combwright {command} ") for block in blocks))

    def test_links_lead_somewhere(self):
        for page in [*PAGES, ROOT / "HACKING.md", ROOT / "CONTRIBUTING.md", ROOT / "CHANGELOG.md"]:
            for target in re.findall(r"\]\(([^)#]+)\)", page.read_text()):
                if "://" not in target:
                    with self.subTest(page=page.name, link=target):
                        self.assertTrue((page.parent / target).exists())


class Keys(ProgramTest):
    def documented(self, command, heading="key"):
        """The keys in the first column of the page's table under this heading."""
        page = (ROOT / f"docs/commands/{command}.md").read_text()
        table = page.split(f"| {heading} | meaning |\n| --- | --- |\n")[1].split("\n\n")[0]
        cells = [line.split("|")[1] for line in table.splitlines()]
        return {key for cell in cells for key in re.findall(r"`([^`]+)`", cell)}

    def test_keys_of_the_answers_are_the_documented_ones(self):
        for command, more in [("check", []), ("action", []), ("comb", ["--out", "combs"]),
                              ("arrange", [HEDGEROW]), ("scale", [HEDGEROW]),
                              ("hear", [HEDGEROW, "-o", "h.wav"]), ("motor", [HEDGEROW]),
                              ("pack", [HEDGEROW, "--out", "pack"]),
                              ("disc", [HEDGEROW, "--out", "disc"])]:
            with self.subTest(command=command):
                self.assertEqual(set(self.answer(command, LARKSPUR, *more)),
                                 self.documented(command))

    def test_keys_of_a_tooth_are_the_documented_ones(self):
        tooth = self.answer("tooth", "--length=30mm", "--width=2mm", "--thickness=1mm")
        self.assertEqual(set(tooth), self.documented("tooth"))

    def test_keys_of_a_pitch_are_the_documented_ones(self):
        recordings = EXAMPLES / "recordings"
        self.assertEqual(set(self.answer("pitch", recordings / "tooth.flac")),
                         self.documented("pitch"))
        comb = self.answer("pitch", recordings / "comb.flac", "--comb", EXAMPLES / "bramble.toml")
        self.assertEqual(set(comb), self.documented("pitch", "comb key"))
        self.assertEqual(set(comb["teeth"][0]), self.documented("pitch", "tooth key"))

    def test_keys_of_a_track_are_the_documented_ones(self):
        answer = self.answer("action", LARKSPUR, "--tolerances", "--boxes=100")
        track = answer["tracks"][0]
        self.assertEqual(set(track), self.documented("action", "track key"))
        self.assertEqual(set(answer["wheel"]), self.documented("action", "wheel key"))
        self.assertEqual(set(track["teeth"][0]), self.documented("action", "tooth key"))
        tolerances = answer["tolerances"]
        page = (ROOT / "docs/commands/action.md").read_text()
        for key in {*tolerances, *tolerances["contributions"][0], *tolerances["teeth"][0]}:
            self.assertIn(f"`{key}`", page)


    def test_keys_of_a_sized_motor_are_the_documented_ones(self):
        answer = self.answer("motor", BRAMBLE, "--size", "--plays=4")
        self.assertEqual(set(answer), self.documented("motor", "size key"))
        self.assertEqual(set(answer["designs"][0]), self.documented("motor", "design key"))

    def test_keys_of_a_tune_of_a_scale_are_the_documented_ones(self):
        tune = self.answer("scale", LARKSPUR, HEDGEROW)["tunes"][0]
        self.assertEqual(set(tune), self.documented("scale", "tune key"))

    def test_keys_of_a_lesson_are_the_documented_ones(self):
        tooth = self.answer("comb", LARKSPUR)["teeth"][0]
        (self.folder / "readings.csv").write_text(
            f"comb,track,frequency_hz\n{tooth['comb']},1,{tooth['modes_as_cut_hz'][0]}\n")
        lesson = self.answer("comb", LARKSPUR, "--learn", "readings.csv")
        self.assertEqual(set(lesson), self.documented("comb", "learn key"))

    def test_keys_of_an_advice_are_the_documented_ones(self):
        answer = self.answer("clip", BRAMBLE, "--track", "1", "--readings",
                             EXAMPLES / "bramble-c4.json")
        self.assertEqual(set(answer), self.documented("clip"))
        self.assertEqual(set(answer["advice"]), self.documented("clip", "advice key"))
        self.assertEqual(set(answer["readings"][0]), self.documented("clip", "key of a reading"))

    def test_keys_of_the_records_are_the_documented_ones(self):
        reading = self.answer("log", "add", BRAMBLE, "--db", "b.db", "--track=4",
                              "--frequency=366Hz")["reading"]
        self.assertEqual(set(reading), self.documented("log", "reading key") -
                         {"do", "length_m", "level_db", "file", "sha256", "rate_hz", "channels",
                          "settings", "clip", "file_root", "file_tip", "strike"})
        comb = self.answer("log", "list", "--db", "b.db")["combs"][0]
        self.assertEqual(set(comb), self.documented("log", "comb key"))
        made = self.answer("log", "certificate", BRAMBLE, "--db", "b.db", "-o", "c.pdf")
        cells = self.documented("log", "certificate key")
        self.assertEqual(set(made), cells)
        page = (ROOT / "docs/commands/log.md").read_text()
        for key in made["teeth"][0]:
            self.assertIn(f"`{key}`", page)

    def test_keys_of_combs_and_teeth_are_the_documented_ones(self):
        answer = self.answer("comb", LARKSPUR)
        self.assertEqual(set(answer["combs"][0]), self.documented("comb", "comb key"))
        self.assertEqual(set(answer["teeth"][0]), self.documented("comb", "tooth key"))
        self.assertEqual(set(answer["teeth"][0]["lead"]), self.documented("comb", "lead key"))


class Words(ProgramTest):
    """What `arrange` shows on the screen is explained on its page under the very words."""

    def documented(self):
        page = (ROOT / "docs/commands/arrange.md").read_text()
        return set(re.findall(r"^\| ([A-Z][a-z]+(?: [a-z]+)*) \|", page, re.MULTILINE))

    def shown(self, *words):
        return self.run_program("arrange", *words).stdout

    def test_every_line_of_the_summary_and_every_heading_is_explained(self):
        one = self.shown(EXAMPLES / "bramble.toml", HEDGEROW)
        summary = {line.split("  ")[0] for line in one.split("\n\n")[0].splitlines()}
        table = re.search(r"^ *(Bar +Beat.*)$", one, re.MULTILINE)[1]
        many = self.shown(EXAMPLES / "bramble.toml", EXAMPLES / "tunes").splitlines()[0]
        headings = {word for row in (table, many) for word in re.split(r"  +", row.strip())}
        self.assertEqual(self.documented(), summary | headings)


class Helpers(ProgramTest):
    def options(self, *command):
        text = self.run_program(*command, "--help").stdout
        return set(re.findall(r"(?<![\w-])--[a-z]+(?:-[a-z]+)*", text.split("Example:")[0]))

    def setUp(self):
        super().setUp()
        self.of_command = {command: self.options(command) for command in COMMANDS}
        self.of_action = {action: self.options("log", action) for action in LOG_ACTIONS}

    def test_the_man_page_knows_every_command_and_option(self):
        page = (ROOT / "packaging/combwright.1").read_text().replace("\\-", "-")
        named = set(re.findall(r"(?m)^\.B (--[a-z]+(?:-[a-z]+)*)", page))
        self.assertEqual(named, set().union(*self.of_command.values(), *self.of_action.values()) |
                         {"--version"})
        for command in [*COMMANDS, *(f"log {action}" for action in LOG_ACTIONS)]:
            self.assertRegex(page, rf"(?m)^\.B {command} ")

    def test_the_man_page_is_clean(self):
        run = subprocess.run(["man", "--warnings", "-l", ROOT / "packaging/combwright.1"],
                             capture_output=True, text=True,
                             env={**os.environ, "MANWIDTH": "80", "LC_ALL": "C.UTF-8"})
        self.assertEqual((run.returncode, run.stderr), (0, ""))
        version = self.run_program("--version").stdout.strip()
        self.assertIn(version, (ROOT / "packaging/combwright.1").read_text())

    def completed(self, *words):
        script = (f'source "{ROOT}/packaging/combwright.bash"; COMP_WORDS=("$@"); '
                  'COMP_CWORD=$(($# - 1)); _combwright; printf "%s\\n" "${COMPREPLY[@]}"')
        run = subprocess.run(["bash", "-c", script, "_", "combwright", *words],
                             capture_output=True, text=True, cwd=self.folder)
        return set(run.stdout.split())

    def test_completion_offers_every_command(self):
        self.assertEqual(self.completed(""), {*COMMANDS, "--help", "--version"})
        self.assertEqual(self.completed("arr"), {"arrange"})

    def test_completion_offers_every_option_of_a_command(self):
        for command in COMMANDS:
            self.assertEqual(self.completed(command, "--"), self.of_command[command], command)
        for action in LOG_ACTIONS:
            self.assertEqual(self.completed("log", action, "--"), self.of_action[action], action)

    def test_completion_offers_every_action(self):
        self.assertEqual(self.completed("log", ""), {*LOG_ACTIONS, "--help"})
        self.assertEqual(self.completed("log", "cer"), {"certificate"})
        shown = self.run_program("log", "--help").stdout
        for action in LOG_ACTIONS:
            self.assertRegex(shown, rf"(?m)^  {action}  ")
            help_of = self.run_program("log", action, "--help").stdout
            self.assertIn(f"Example:\n  combwright log {action} ", help_of)

    def test_completion_offers_files(self):
        (self.folder / "box.toml").touch()
        self.assertEqual(self.completed("check", "bo"), {"box.toml"})


if __name__ == "__main__":
    unittest.main()
