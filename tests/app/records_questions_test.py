#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""records_questions_test.py PROGRAM SOURCE_DIR: the records through the workbench, read back by programs that
know nothing of us: SQLite's own shell, Python's csv, and Poppler."""
import concurrent.futures
import csv
import io
import json
import subprocess
import unittest

from served import Served

# What means something to SQL, a spreadsheet, CSV or a page.
HOSTILE = '=1+1"; DROP TABLE readings; --,\'\r\n<script>alert(1)</script> Ö 小夜曲'


class Records(Served):
    def add(self, **fields):
        status, answer = self.question("log/add", **{"box": "bramble.toml", "track": 4,
                                                     "frequency": "366.2 Hz", **fields})
        self.assertEqual(status, 200, answer)
        return answer["reading"]

    def bytes_of(self, name, **fields):
        status, headers, body = self.ask("POST", f"/api/{name}", json.dumps(fields))
        self.assertEqual(status, 200, body)
        return headers["Content-Type"], body

    def rows(self, sql, file="records.db"):
        run = subprocess.run(["sqlite3", "-json", self.folder / file, sql], capture_output=True,
                             text=True, check=True, timeout=60)
        return json.loads(run.stdout or "[]")


class Filing(Records):
    def test_a_reading_is_in_the_database_as_it_was_typed(self):
        reading = self.add(stderr="0.02 Hz", decay="1.25 s", temperature="21.5 C", clipped="0.35 mm",
                           filed_root="20 um", who="Ann", remark=HOSTILE, at="2024-05-17T09:30:00Z")
        self.assertEqual(
            self.rows("SELECT frequency_hz, stderr_hz, decay_s, temperature_c, who, at, remark"
                      " FROM readings"),
            [{"frequency_hz": 366.2, "stderr_hz": 0.02, "decay_s": 1.25, "temperature_c": 21.5,
              "who": "Ann", "at": "2024-05-17T09:30:00Z", "remark": HOSTILE}])
        self.assertEqual(self.rows("SELECT kind, round(length_m, 9) AS m FROM work ORDER BY place"),
                         [{"kind": "clip", "m": 0.00035}, {"kind": "file_root", "m": 2e-5}])
        self.assertEqual(reading["remark"], HOSTILE)
        checksum = subprocess.run(["sha256sum", self.folder / "bramble.toml"], capture_output=True,
                                  text=True, check=True).stdout.split()[0]
        self.assertEqual(reading["box_sha256"], checksum)

    def test_answers_are_those_of_the_command(self):
        self.add(who="Ann", clipped="0.3 mm", at="2024-05-17")
        self.add(track=5, frequency="392 Hz", who="Ben", at="2024-05-18")
        self.answered("log/test", box="bramble.toml", remark="a whole turn", who="Ben",
                      at="2024-05-19")
        self.answered("log/strike", reading=2, remark="wrong tooth", work_too=True)
        for fields, words in [({}, []), ({"track": 4}, ["--track=4"]), ({"who": "Ben"}, ["--who=Ben"]),
                              ({"since": "2024-05-18"}, ["--since=2024-05-18"]),
                              ({"box": "bramble", "comb": "comb 1"},
                               ["--box=bramble", "--comb=comb 1"]),
                              ({"box": "none"}, ["--box=none"])]:
            with self.subTest(fields=fields):
                listed = self.answered("log/list", **fields)
                command = self.answer("log", "list", "--db", "records.db", *words)
                self.assertEqual({key: listed[key] for key in command}, command)
                self.assertEqual(listed["in_all"], {key: len(command[key]) for key in
                                                    ("combs", "readings", "tests")})
        self.assertEqual(listed["people"], ["Ann", "Ben"])
        made = self.answer("log", "certificate", "bramble.toml", "--db", "records.db", "-o", "c.pdf")
        made.pop("file")
        self.assertEqual(self.answered("log/certificate", box="bramble.toml"), made)
        self.assertEqual(self.answered("log/check"), self.answer("log", "check", "--db", "records.db"))
        comb = self.answered("log/comb", comb_number=1)
        self.assertEqual((comb["teeth"], comb["comb"]),
                         (made["teeth"], self.answered("log/list")["combs"][0]))

    def test_what_is_refused_makes_no_file(self):
        box = {"box": "bramble.toml"}
        for name, words, fields in [
                ("log/add", "track 99 is not one", {**box, "track": 99, "frequency": "366 Hz"}),
                ("log/add", "track must be", {**box, "track": "4", "frequency": "366 Hz"}),
                ("log/add", "track must be", {**box, "track": 4.5, "frequency": "366 Hz"}),
                ("log/add", "track must be", {**box, "track": 1 << 64, "frequency": "366 Hz"}),
                ("log/add", "--frequency", {**box, "track": 4}),
                ("log/add", "--frequency", {**box, "track": 4, "frequency": "366"}),
                ("log/add", "over an octave", {**box, "track": 4, "frequency": "36 Hz"}),
                ("log/add", "--clipped", {**box, "track": 4, "frequency": "366 Hz", "clipped": "-1 mm"}),
                ("log/add", "no day or moment", {**box, "track": 4, "frequency": "366 Hz", "at": "now"}),
                ("log/add", "who read it has", {**box, "track": 4, "frequency": "366 Hz",
                                                "who": "x" * 5000}),
                ("log/add", "UTF-8", {**box, "track": 4, "frequency": "366 Hz", "remark": "a\0b"}),
                ("log/add", "box_text is no field", {**box, "track": 4, "frequency": "366 Hz",
                                                     "box_text": "x"}),
                ("log/add", "no name of a box file", {"box": "../bramble.toml", "track": 4}),
                ("log/test", "needs a remark", box),
                ("log/list", "must be a whole number from 1 to 1000", {"most": 1001}),
                ("log/list", "must be a whole number from 1", {"readings_before": -1}),
                ("log/list", "no day or moment", {"since": "'; DROP TABLE readings"})]:
            with self.subTest(question=name, fields=str(fields)[:200]):
                self.refused(name, words, **fields)
        self.assertEqual(list(self.folder.glob("records.db*")), [])

    def test_before_anything_is_filed(self):
        listed = self.answered("log/list")
        self.assertEqual((listed["combs"], listed["readings"], listed["tests"], listed["people"]),
                         ([], [], [], []))
        self.assertEqual((listed["file"], listed["there"]), ("records.db", False))
        for name, fields in [("log/strike", {"reading": 1, "remark": "x"}), ("log/check", {}),
                             ("log/scrap", {"comb_number": 1}), ("log/comb", {"comb_number": 1}),
                             ("log/export.csv", {}), ("log/backup", {"file": "copy.db"}),
                             ("log/backup.db", {}), ("log/certificate", {"box": "bramble.toml"})]:
            with self.subTest(question=name):
                status, answer = self.question(name, **fields)
                self.assertEqual((status, answer["place"]["file"]), (400, "records.db"))
        self.assertEqual(list(self.folder.glob("*.db*")), [])

    def test_struck_and_scrapped_once_only(self):
        self.add()
        self.refused("log/strike", "for a reason", reading=1)
        self.answered("log/strike", reading=1, remark="wrong tooth")
        self.refused("log/strike", "no reading 1 that is not struck", reading=1, remark="again")
        self.refused("log/strike", "work_too must be", reading=1, remark="x", work_too="yes")
        self.refused("log/scrap", "no comb 7 in use", comb_number=7)
        self.assertEqual(self.answered("log/scrap", comb_number=1, remark="lead gone",
                                       at="2024-06-01"),
                         {"box": "bramble", "comb": "comb 1", "scrapped_at": "2024-06-01",
                          "findings": []})
        self.refused("log/scrap", "no comb 1 in use", comb_number=1)
        self.assertEqual(self.add()["comb_number"], 2)
        one, two = self.answered("log/list")["combs"]
        self.assertEqual((one["scrapped_why"], one["teeth_read"]), ("lead gone", 0))
        self.assertEqual((two["scrapped_at"], two["teeth_read"], two["teeth"]), (None, 1, 30))
        for number, count in ((1, 1), (2, 1), (3, 0)):
            self.assertEqual(len(self.answered("log/list", comb_number=number)["readings"]), count)
        self.assertEqual(self.answered("log/comb", comb_number=2)["teeth"][3]["readings"], 1)
        self.refused("log/comb", "has no comb 3", comb_number=3)

    def test_a_long_list_comes_in_parts(self):
        for number in range(7):
            self.add(frequency=f"{360 + number} Hz")
        found, before = [], {}
        while True:
            part = self.answered("log/list", most=3, **before)["readings"]
            if not part:
                break
            self.assertLessEqual(len(part), 3)
            found = part + found
            before = {"readings_before": part[0]["number"]}
        self.assertEqual([one["number"] for one in found], [1, 2, 3, 4, 5, 6, 7])
        self.assertEqual(self.answered("log/list", most=3)["in_all"]["readings"], 7)

    def test_many_hands_at_once_lose_nothing(self):
        def file(number):
            return self.question("log/add", box="bramble.toml", track=4,
                                 frequency=f"{350 + number / 10} Hz")
        with concurrent.futures.ThreadPoolExecutor(16) as pool:
            jobs = [pool.submit(file, number) for number in range(60)]
            # The command files into the same records meanwhile.
            for number in range(5):
                self.answer("log", "add", "bramble.toml", "--db", "records.db", "--track=4",
                            f"--frequency={370 + number}Hz")
            answers = [job.result() for job in jobs]
        self.assertEqual({status for status, _ in answers}, {200}, answers)
        numbers = {answer["reading"]["number"] for _, answer in answers}
        self.assertEqual(len(numbers), 60)
        filed = {row["id"]: row["frequency_hz"] for row in
                 self.rows("SELECT id, frequency_hz FROM readings")}
        self.assertEqual(len(filed), 65)
        for _, answer in answers:
            self.assertEqual(filed[answer["reading"]["number"]], answer["reading"]["frequency_hz"])
        self.assertEqual(self.rows("PRAGMA integrity_check"), [{"integrity_check": "ok"}])

    def test_what_is_acknowledged_outlives_the_server(self):
        reading = self.add()
        self.server.kill()
        self.server.wait(timeout=60)
        self.assertEqual(self.rows("SELECT id, frequency_hz FROM readings"),
                         [{"id": reading["number"], "frequency_hz": 366.2}])

    def test_records_that_are_none_of_ours(self):
        (self.folder / "records.db").write_bytes(b"another program's")
        for name, fields in (("log/list", {}), ("log/check", {}),
                             ("log/add", {"box": "bramble.toml", "track": 4, "frequency": "366 Hz"})):
            self.refused(name, "holds no records of this program", **fields)
        self.assertEqual((self.folder / "records.db").read_bytes(), b"another program's")


class TakenAway(Records):
    def setUp(self):
        super().setUp()
        self.add(who="=1+1", at="2024-05-17")
        self.add(clipped="0.3 mm", remark=HOSTILE, at="2024-05-18")
        self.add(track=5, frequency="392 Hz", at="2024-05-19")

    def test_the_table_is_that_of_the_command(self):
        for fields, words, count in [({}, [], 3), ({"track": 4}, ["--track=4"], 2),
                                     ({"since": "2024-05-18"}, ["--since=2024-05-18"], 2),
                                     ({"as_cut": True}, ["--as-cut"], 2)]:
            with self.subTest(fields=fields):
                kind, body = self.bytes_of("log/export.csv", **fields)
                self.assertEqual(kind, "text/csv; charset=utf-8")
                self.answer("log", "export", "--db", "records.db", "--force", "-o", "r.csv", *words)
                self.assertEqual(body, (self.folder / "r.csv").read_bytes())
                rows = list(csv.DictReader(io.StringIO(body.decode(), newline="")))
                self.assertEqual(len(rows), count)
        self.assertEqual(list(csv.DictReader(io.StringIO(self.bytes_of("log/export.csv")[1].decode(),
                                                         newline="")))[1]["frequency_hz"], "366.2")

    def test_a_certificate_reads_as_a_paper(self):
        kind, body = self.bytes_of("log/certificate.pdf", box="bramble.toml")
        self.assertEqual(kind, "application/pdf")
        (self.folder / "c.pdf").write_bytes(body)
        text = subprocess.run(["pdftotext", "-layout", self.folder / "c.pdf", "-"], text=True,
                              capture_output=True, check=True).stdout
        self.assertIn("bramble", text)
        self.assertRegex(text, r"366\.\d|F#4")
        self.refused("log/certificate", '--comb is "x"', box="bramble.toml", comb="x")
        self.refused("log/certificate", "has no reading of", box="larkspur.toml", comb="front")

    def test_a_copy_is_whole(self):
        answer = self.answered("log/backup", file="copy.db")
        self.assertEqual((answer["file"], answer["counts"]["readings"]), ("copy.db", 3))
        (self.folder / "taken.db").write_bytes(self.bytes_of("log/backup.db")[1])
        for copy in ("copy.db", "taken.db"):
            self.assertEqual(self.rows("SELECT * FROM readings", copy),
                             self.rows("SELECT * FROM readings"))
            self.assertEqual(self.rows("PRAGMA integrity_check", copy), [{"integrity_check": "ok"}])
            self.answer("log", "check", "--db", copy)
        self.refused("log/backup", "is there already", file="copy.db")

    def test_a_copy_goes_nowhere_else(self):
        before = sorted(path.name for path in self.folder.iterdir())
        for name in ("", "../x.db", "x.toml", "records.db", ".x.db", "a/b.db", "a\0.db", "/tmp/x.db",
                     "x" * 300 + ".db"):
            with self.subTest(name=name):
                self.assertEqual(self.question("log/backup", file=name)[0], 400)
        (self.folder / "dangling.db").symlink_to(self.folder / "nowhere")
        self.assertEqual(self.question("log/backup", file="dangling.db")[0], 400)
        self.assertEqual(sorted(path.name for path in self.folder.iterdir()),
                         sorted([*before, "dangling.db"]))


class Named(Records):
    options = ("--db", "bench.db")

    def test_they_lie_where_they_were_named(self):
        reading = self.add()
        self.assertEqual(self.answered("log/list")["file"], "bench.db")
        self.assertEqual(self.rows("SELECT id FROM readings", "bench.db"),
                         [{"id": reading["number"]}])
        self.assertFalse((self.folder / "records.db").exists())


if __name__ == "__main__":
    unittest.main()
