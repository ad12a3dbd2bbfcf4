#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""log_command_test.py PROGRAM SOURCE_DIR: what `log` files, lists and writes, read back by programs
that know nothing of us: Python's sqlite3 and csv, and Poppler."""
import csv
import math
import os
import re
import resource
import shutil
import sqlite3
import subprocess
import unittest

from program import BRAMBLE, DAY, LARKSPUR, PROGRAM, ProgramTest, snapshot

# What means something to SQL, a spreadsheet, CSV or a terminal.
HOSTILE = '=1+1"; DROP TABLE readings; --,\'\r\nsecond line \x1b[31m Ö 小夜曲'
NOBODY = 65534


class LogTest(ProgramTest):
    def add(self, *more, box=BRAMBLE, track=4, frequency="366.2 Hz", status=(0,)):
        return self.answer("log", "add", box, "--db", "bench.db", "--track", track, "--frequency",
                           frequency, *more, status=status)["reading"]

    def rows(self, sql):
        database = sqlite3.connect(self.folder / "bench.db")
        try:
            return database.execute(sql).fetchall()
        finally:
            database.close()


class Filing(LogTest):
    def test_what_is_refused_leaves_no_file_behind(self):
        for words in (["add", BRAMBLE, "--track", "99", "--frequency", "366 Hz"],
                      ["add", BRAMBLE, "--track", "4", "--frequency", "366 Hz", "--stderr", "400 Hz"],
                      ["test", BRAMBLE]):
            run = self.run_program("log", *words, "--db", "new.db")
            self.assertEqual((run.returncode, run.stdout), (2, ""))
            self.assertEqual(list(self.folder.glob("new.db*")), [])

    def test_as_cut_is_told_among_all_readings(self):
        self.add("--at", "2024-01-10", "--who", "Ann", frequency="355 Hz")
        self.add("--at", "2024-02-10", "--who", "Ann", "--clipped", "0.9 mm", frequency="360 Hz")
        self.add("--at", "2024-03-10", "--who", "Ben", frequency="365 Hz")
        for more, count in (([], 1), (["--since", "2024-02-15"], 0), (["--who", "Ben"], 0),
                            (["--who", "Ann"], 1)):
            answer = self.answer("log", "export", "--db", "bench.db", "--as-cut", "--force", "-o",
                                 "cut.csv", *more)
            self.assertEqual(answer["readings"], count, more)

    def test_what_nobody_can_have_taken_off_is_refused(self):
        run = self.run_program("log", "add", BRAMBLE, "--db", "bench.db", "--track", 4,
                               "--frequency", "366 Hz", "--clipped", "1e-9 mm")
        self.assert_refused(run, '--clipped "1e-9 mm" cannot be; give 0 mm, or a length from 0.001 '
                                 'mm to below 100 mm')

    def test_a_reading_is_in_the_database_as_it_was_typed(self):
        self.add("--stderr", "0.02 Hz", "--decay", "1.25 s", "--temperature",
                 "21.5 C", "--clipped", "0.35 mm", "--filed-root", "20 um", "--who", "Ann",
                 "--remark", "second try", "--at", "2024-05-17T09:30:00Z")
        self.assertEqual(
            self.rows("SELECT frequency_hz, stderr_hz, decay_s, temperature_c, who, at, remark,"
                      " recording FROM readings"),
            [(366.2, 0.02, 1.25, 21.5, "Ann", "2024-05-17T09:30:00Z", "second try", None)])
        self.assertEqual(self.rows("SELECT kind, round(length_m, 9) FROM work ORDER BY place"),
                         [("clip", 0.00035), ("file_root", 2e-5)])
        self.assertEqual(self.rows("SELECT count(*) FROM teeth"), [(30,)])
        self.assertEqual(self.rows("PRAGMA integrity_check"), [("ok",)])

    def test_the_offset_is_that_of_the_definition(self):
        reading = self.add(frequency="440.5 Hz", track=7)  # A4: 440 Hz (ISO 16)
        self.assertEqual(reading["note"], "A4")
        self.assertAlmostEqual(reading["offset_cents"], 1200 * math.log2(440.5 / 440), places=9)

    def test_a_pitch_that_may_be_another_tooths_is_told(self):
        def findings(*more):
            return [(finding["level"], finding["what"], finding["at"]["track"]) for finding in
                    self.answer("log", "add", BRAMBLE, "--db", "bench.db", "--track", 7,
                                "--frequency", *more)["findings"]]
        # A4 is 440 Hz (ISO 16); a tooth of bramble is cut at most 80 cents flat.
        self.assertEqual(findings("370 Hz"), [])  # 300 cents flat
        self.assertEqual(findings("555 Hz"),  # 702 cents from that
                         [("warning", "reading 2 is 702 cents from its reading before, number 1", 7)])
        for number in 1, 2:
            self.answer("log", "strike", number, "--db", "bench.db", "--remark", "another tooth")
        self.assertEqual(findings("555 Hz"),
                         [("warning", "reading 3 is 402 cents from its target", 7)])
        self.answer("log", "strike", 3, "--db", "bench.db", "--remark", "another tooth")
        self.assertEqual(findings("340 Hz"),
                         [("warning", "reading 4 is 446 cents from its target", 7)])

    def test_a_new_comb_is_not_compared_with_the_one_that_was_scrapped(self):
        self.add(frequency="440 Hz", track=7)
        self.answer("log", "scrap", BRAMBLE, "--db", "bench.db")
        answer = self.answer("log", "add", BRAMBLE, "--db", "bench.db", "--track", 7,
                             "--frequency", "370 Hz")  # 300 cents below the other's
        self.assertEqual(answer["findings"], [])

    def test_the_moment_is_now_unless_it_is_given(self):
        self.assertEqual(self.add()["at"], "2023-11-14T22:13:20Z")  # date -u -d @1700000000
        self.assertEqual(self.add("--at", "2024-05-17")["at"], "2024-05-17")

    def test_a_changed_box_file_is_told(self):
        self.add()
        (self.folder / "later.toml").write_text(BRAMBLE.read_text() + "\n# later\n")
        answer = self.answer("log", "add", "later.toml", "--db", "bench.db", "--track", "4",
                             "--frequency", "368 Hz")
        self.assertEqual([finding["level"] for finding in answer["findings"]], ["note"])
        self.assertIn("box file is not the one", answer["findings"][0]["what"])

    def test_what_cannot_be_is_refused_and_nothing_is_made(self):
        call = ["log", "add", BRAMBLE, "--db", "bench.db", "--track"]
        for words, line in [
                (["4", "--frequency", "366.2"], '--frequency "366.2": '),
                (["4", "--frequency", "36 Hz"], "--frequency is 36 Hz, over an octave from the tooth"),
                (["31", "--frequency", "366 Hz"], "track 31 is not one of the comb's 30 teeth"),
                (["4", "--frequency", "366 Hz", "--comb", "x"], '--comb is "x"; the box has "comb 1"'),
                (["4", "--frequency", "366 Hz", "--clipped", "-1 mm"], '--clipped "-1 mm" cannot be'),
                (["4", "--frequency", "366 Hz", "--at", "today"], '"today" is no day or moment'),
                (["4", "--frequency", "366 Hz", "--temperature", "900 C"], "--temperature"),
                (["4", "--frequency", "366 Hz", "--stderr", "400 Hz"], "the standard error is 400 Hz"),
                (["4", "--frequency", "366 Hz", "--who", "x" * 5000], "the name of who read it has"),
        ]:
            run = self.run_program(*call, *words)
            self.assertEqual((run.returncode, run.stdout, run.stderr.count("\n")), (2, "", 1))
            self.assertTrue(run.stderr.startswith(line), run.stderr)
        run = self.run_program("log", "add", LARKSPUR, "--db", "bench.db", "--track", "1",
                               "--frequency", "65 Hz")
        self.assert_refused(run, '--comb is missing; the box has "front" or "back"')
        self.assertEqual([path.name for path in self.folder.iterdir()
                          if path.name != "bench.db"], [])
        if (self.folder / "bench.db").exists():
            self.assertEqual(self.rows("SELECT count(*) FROM boxes"), [(0,)])

    def test_struck_readings_and_scrapped_combs_stay_and_count_no_longer(self):
        self.add(frequency="399 Hz")
        self.answer("log", "strike", 1, "--db", "bench.db", "--remark", "wrong tooth")
        self.add()
        self.answer("log", "scrap", BRAMBLE, "--db", "bench.db", "--remark", "lead gone")
        self.add(frequency="365 Hz")
        listed = self.answer("log", "list", "--db", "bench.db")
        self.assertEqual([reading["struck"] for reading in listed["readings"]],
                         ["wrong tooth", None, None])
        self.assertEqual([comb["scrapped_at"] is None for comb in listed["combs"]], [False, True])
        teeth = self.answer("log", "certificate", BRAMBLE, "--db", "bench.db", "-o", "c.pdf")["teeth"]
        self.assertEqual(teeth[3]["readings"], 1)
        self.assert_refused(
            self.run_program("log", "strike", "1", "--db", "bench.db", "--remark", "again"),
            "bench.db: has no reading 1 that is not struck; `log list` shows their numbers")


class Lists(LogTest):
    def setUp(self):
        super().setUp()
        self.add("--who", "Ann", "--at", "2024-05-17")
        self.add("--who", "Ben", "--at", "2024-06-01", "--clipped", "0.3 mm", frequency="369 Hz")
        self.answer("log", "add", LARKSPUR, "--comb", "back", "--db", "bench.db", "--track", 1,
                    "--frequency", "65 Hz", "--at", "2024-06-02")
        self.answer("log", "test", BRAMBLE, "--db", "bench.db", "--remark", "plays a whole turn")

    def numbers(self, *filters):
        return [reading["number"] for reading in
                self.answer("log", "list", "--db", "bench.db", *filters)["readings"]]

    def test_filters(self):
        self.assertEqual(self.numbers(), [1, 2, 3])
        self.assertEqual(self.numbers("--box", "bramble"), [1, 2])
        self.assertEqual(self.numbers("--comb", "back"), [3])
        self.assertEqual(self.numbers("--track", "4"), [1, 2])
        self.assertEqual(self.numbers("--since", "2024-06-01"), [2, 3])
        self.assertEqual(self.numbers("--who", "Ann"), [1])
        self.assertEqual(self.numbers("--box", "' OR 1=1 --"), [])

    def test_the_table_shows_what_was_done(self):
        shown = self.run_program("log", "list", "--db", "bench.db").stdout
        self.assertRegex(shown, r"(?m)^ *2 .*369\.000 .*clipped 0\.3 mm +Ben$")
        self.assertIn("plays a whole turn", shown)

    def test_readings_as_cut_teach_the_comb(self):
        self.answer("log", "export", "--db", "bench.db", "--box", "bramble", "--as-cut", "-o",
                    "cut.csv")
        lesson = self.answer("comb", BRAMBLE, "--learn", "cut.csv")
        self.assertEqual([reading["track"] for reading in lesson["readings"]], [4])

    def test_counts_and_backup(self):
        counts = self.answer("log", "check", "--db", "bench.db")["counts"]
        self.assertEqual((counts["readings"], counts["tests"], counts["combs"]), (3, 1, 2))
        backup = self.answer("log", "backup", "--db", "bench.db", "-o", "copy.db")
        self.assertEqual(backup["counts"], counts)
        copy = sqlite3.connect(self.folder / "copy.db")
        self.assertEqual(copy.execute("PRAGMA integrity_check").fetchall(), [("ok",)])
        self.assertEqual(copy.execute("SELECT count(*) FROM readings").fetchall(), [(3,)])
        copy.close()

    def test_nothing_is_written_over(self):
        (self.folder / "mine").write_text("mine")
        before = snapshot(self.folder)
        calls = [["backup", "-o"], ["export", "-o"], ["certificate", BRAMBLE, "-o"]]
        for call in calls:
            self.assert_refused(
                self.run_program("log", *call, "mine", "--db", "bench.db"),
                "mine: is there already and is not this program's work; choose another name or "
                "give --force")
            self.assert_refused(
                self.run_program("log", *call, "bench.db", "--db", "bench.db", "--force"),
                "bench.db: is of the records themselves; name another file")
        self.assertEqual(snapshot(self.folder), before)
        self.answer("log", "backup", "--db", "bench.db", "-o", "mine", "--force")

    def test_files_that_are_no_records_are_refused_and_untouched(self):
        foreign = sqlite3.connect(self.folder / "foreign.db")
        foreign.execute("CREATE TABLE t(x)")
        foreign.commit()
        foreign.close()
        (self.folder / "cut.db").write_bytes((self.folder / "bench.db").read_bytes()[:9000])
        (self.folder / "text.db").write_text("no database")
        before = snapshot(self.folder)
        for name, line in [("foreign.db", "holds no records of this program"),
                           ("text.db", "holds no records of this program"), ("cut.db", "is damaged")]:
            for call in (["list"], ["backup", "-o", "x"], ["test", BRAMBLE, "--remark", "x"],
                         ["add", BRAMBLE, "--track", "4", "--frequency", "366 Hz"]):
                run = self.run_program("log", *call, "--db", name)
                self.assertEqual((run.returncode, run.stdout), (2, ""))
                self.assertRegex(run.stderr, rf"^{name}: {line}[^\n]*\n$")
        self.assertEqual(snapshot(self.folder), before)


class Hostile(LogTest):
    def setUp(self):
        super().setUp()
        (self.folder / "odd.toml").write_text(
            BRAMBLE.read_text().replace('name = "bramble"', 'name = "=SUM(1) \\"odd\\", box"', 1)
            .replace("[[comb]]", "[[comb]]\nname = \"'; DROP TABLE combs; --\"", 1))
        self.add("--who", HOSTILE, "--remark", HOSTILE, box="odd.toml")

    def test_csv_gives_back_the_very_text_and_no_formula(self):
        self.answer("log", "export", "--db", "bench.db", "-o", "all.csv")
        text = (self.folder / "all.csv").read_bytes()
        self.assertTrue(text.endswith(b"\r\n"))
        with open(self.folder / "all.csv", newline="") as table:
            (row,) = csv.DictReader(table, strict=True)
        # A spreadsheet must not take it for a formula: an apostrophe stands before it.
        self.assertEqual(row["who"], "'" + HOSTILE)
        self.assertEqual(row["box_name"], "'=SUM(1) \"odd\", box")
        self.assertEqual(row["comb"], "'; DROP TABLE combs; --")
        self.assertEqual(float(row["frequency_hz"]), 366.2)
        self.assertEqual(row["recording"], "")

    def test_json_and_database_keep_the_very_text(self):
        (reading,) = self.answer("log", "list", "--db", "bench.db")["readings"]
        self.assertEqual((reading["who"], reading["remark"]), (HOSTILE, HOSTILE))
        self.assertEqual(self.rows("SELECT who FROM readings"), [(HOSTILE,)])

    def test_the_table_has_no_control_characters(self):
        shown = self.run_program("log", "list", "--db", "bench.db").stdout
        self.assertNotRegex(shown.replace("\n", ""), r"[\x00-\x1f]")

    def test_text_that_is_not_utf8_is_refused(self):
        run = subprocess.run([PROGRAM, "log", "test", BRAMBLE, "--db", "new.db", "--remark", b"\xff"],
                             cwd=self.folder, capture_output=True)
        self.assertEqual((run.returncode, run.stderr),
                         (2, b"the remark is no UTF-8 text; write it as such\n"))


class Certificate(LogTest):
    """Read by Poppler."""

    def text(self, page=None):
        pages = [] if page is None else ["-f", str(page), "-l", str(page)]
        return subprocess.run(["pdftotext", "-layout", *pages, self.folder / "comb.pdf", "-"],
                              capture_output=True, text=True, check=True).stdout

    def make(self, box=BRAMBLE, *more):
        return self.answer("log", "certificate", box, "--db", "bench.db", "-o", "comb.pdf", *more)

    def test_every_tooth_stands_in_it(self):
        self.add("--decay", "1.5 s", "--temperature", "20 C", "--at", "2024-05-17", "--who", "Ann")
        self.add("--clipped", "0.35 mm", "--decay", "1.5 s", "--temperature", "20 C", "--at",
                 "2024-05-18", frequency="369.9 Hz")
        self.add("--at", "2024-05-18", frequency="524.5 Hz", track=10)
        answer = self.make()
        self.assertEqual(answer["out_of_tolerance"], [10])
        self.assertEqual(len(answer["not_read"]), 28)
        first = self.text(1)
        for words in ("Certificate of a comb", "bramble", "comb 1", "tracks 1 to 3, 5 to 9, 11 to 30",
                      "Ann", "signature", "2024-05-17 to 2024-05-18", "CAUTION", "contain lead",
                      "cents from the target"):
            self.assertIn(words, re.sub(r" +", " ", first), words)
        rows = [line.split() for line in self.text(2).splitlines()
                if re.match(r" *\d+ +[A-G][#b]?\d ", line)]
        self.assertEqual([int(row[0]) for row in rows], list(range(1, 31)))
        def cents(hz):  # F#4: 440 Hz 2^(-3/12)
            return 1200 * math.log2(hz / 440) + 300
        self.assertEqual(rows[3], ["4", "F#4", "369.99", f"{cents(366.2):+.1f}",
                                   f"{cents(369.9):+.2f}",
                                   f"{math.hypot(0.15, 0.05, 0.206 * 0.5):.2f}", "1.50", "0.35",
                                   "20.0", "2"])
        self.assertEqual(rows[0], ["1", "C4", "261.63", "not", "read", "0"])

    def test_it_stays_on_its_pages(self):
        (self.folder / "long.toml").write_text(
            BRAMBLE.read_text().replace('name = "bramble"', 'name = "' + "a long name " * 6 + '"', 1)
            .replace("[[comb]]", '[[comb]]\nname = "' + "W" * 80 + '"', 1))
        (self.folder / "small.toml").write_text('[paper]\nname = "A5"\nwidth = "148 mm"\n'
                                                'height = "210 mm"\n')
        for i in range(8):
            self.add("--who", f"somebody with a name of some length, number {i}", box="long.toml",
                     track=i + 1, frequency=f"{(262, 294, 330, 370, 392, 392, 440, 466)[i]} Hz")
        for more in ([], ["--shop", "small.toml", "--force"]):
            self.make("long.toml", *more)
            layout = subprocess.run(["pdftotext", "-bbox", self.folder / "comb.pdf", "-"],
                                    capture_output=True, text=True, check=True).stdout
            for page in layout.split("<page ")[1:]:
                width, height = map(float, re.match(r'width="([\d.]+)" height="([\d.]+)"',
                                                    page).groups())
                edges = [tuple(map(float, edge)) for edge in re.findall(
                    r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)"',
                    page)]
                self.assertGreater(len(edges), 20)
                for x0, y0, x1, y1 in edges:
                    self.assertTrue(x0 > 20 and y0 > 20 and x1 < width - 20 and y1 < height - 20)

    def test_a_comb_that_was_never_read(self):
        self.add()
        self.assert_refused(
            self.run_program("log", "certificate", LARKSPUR, "--comb", "front", "--db", "bench.db",
                             "-o", "comb.pdf"),
            'bench.db: has no reading of comb front of box "larkspur"; `log list` shows what it has')


class ReadOnly(LogTest):
    def as_nobody(self, *words):
        """Root may write anywhere; somebody else may not."""
        settings = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.getuid() == 0 else {}
        try:
            return subprocess.run([PROGRAM, *map(str, words)], cwd=self.folder, capture_output=True,
                                  text=True, env={**os.environ, **DAY}, **settings)
        except PermissionError:
            self.skipTest("the program lies where only its owner can run it")

    def test_records_in_a_folder_that_cannot_be_written(self):
        shutil.copy(BRAMBLE, self.folder / "bramble.toml")
        self.add()
        for path in self.folder.iterdir():
            path.chmod(0o444)
        self.folder.chmod(0o555)
        self.addCleanup(self.folder.chmod, 0o755)
        before = snapshot(self.folder)
        run = self.as_nobody("log", "list", "--db", "bench.db")
        self.assertEqual((run.returncode, run.stderr), (0, ""))
        self.assertIn("366.200", run.stdout)
        for name in ("bench.db", "new.db"):
            run = self.as_nobody("log", "add", "bramble.toml", "--db", name, "--track", "4",
                                 "--frequency", "367 Hz")
            self.assertEqual((run.returncode, run.stdout), (3, ""))
            self.assertRegex(run.stderr, rf"^{name}: could not write: [^\n]*\n$")
        self.assertEqual(snapshot(self.folder), before)

    def test_a_disk_that_takes_no_more(self):
        self.add()
        # No file may grow past this; the signal that says so is ignored, so that writing fails.
        limit = lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (8192, 8192))
        run = subprocess.run([PROGRAM, "log", "add", BRAMBLE, "--db", "bench.db", "--track", "4",
                              "--frequency", "367 Hz"], cwd=self.folder, capture_output=True,
                             text=True, preexec_fn=limit, restore_signals=False)
        self.assertEqual((run.returncode, run.stdout), (3, ""))
        self.assertRegex(run.stderr, r"^bench\.db: could not [^\n]*; nothing was filed\n$")
        self.assertEqual(self.rows("SELECT frequency_hz FROM readings"), [(366.2,)])
        self.assertEqual(self.rows("PRAGMA integrity_check"), [("ok",)])
        self.assertEqual(self.add(frequency="368 Hz")["frequency_hz"], 368)


if __name__ == "__main__":
    unittest.main()
