#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""processes_test.py FILER: several programs on one file of records, and programs killed while they
write. What is on the disk is read by Python's sqlite3, which knows nothing of us."""
import pathlib
import sqlite3
import subprocess
import sys
import tempfile
import unittest

FILER = pathlib.Path(sys.argv.pop()).resolve()


class Processes(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="combwright.")
        self.addCleanup(folder.cleanup)
        self.records = pathlib.Path(folder.name) / "records.db"

    def start(self, count, who):
        return subprocess.Popen([FILER, self.records, str(count), who], stdout=subprocess.PIPE,
                                stderr=subprocess.PIPE, text=True)

    def read(self):
        """All readings by number, after SQLite itself has found the file sound."""
        with sqlite3.connect(self.records) as database:
            self.assertEqual(database.execute("PRAGMA integrity_check").fetchall(), [("ok",)])
            self.assertEqual(database.execute("PRAGMA foreign_key_check").fetchall(), [])
            rows = database.execute(
                "SELECT r.id, r.who, r.frequency_hz, count(w.reading), count(p.reading) FROM readings r"
                " LEFT JOIN work w ON w.reading = r.id LEFT JOIN partials p ON p.reading = r.id"
                " GROUP BY r.id").fetchall()
        database.close()
        for row in rows:  # never a half of one
            self.assertEqual(row[3:], (1, 1))
        return {row[0]: (row[1], row[2]) for row in rows}

    def acknowledged(self, output, who):
        lines = [line.split() for line in output.splitlines(keepends=True) if line.endswith("\n")]
        return {int(number): (who, 200.0 + int(i)) for number, i in lines}

    def test_two_programs_file_at_once(self):
        # The file is not there yet: they make it at once too.
        filers = {who: self.start(150, who) for who in ("Ann", "Ben", "Cleo")}
        said = {}
        for who, filer in filers.items():
            output, errors = filer.communicate(timeout=120)
            self.assertEqual((filer.returncode, errors), (0, ""))
            said.update(self.acknowledged(output, who))
        self.assertEqual(len(said), 450)
        self.assertEqual(self.read(), said)

    def test_no_reading_is_lost_when_the_writer_is_killed(self):
        said, kills = {}, 0
        while len(said) < 1000:
            who = f"writer {kills}"
            filer = self.start(1000, who)
            lines = []
            # At another moment each time; once before anything was said.
            for _ in range((0, 37, 120, 61, 200)[kills % 5]):
                lines.append(filer.stdout.readline())
            filer.kill()
            rest = filer.stdout.read()  # behind the lines, in the same buffer
            filer.communicate()
            said.update(self.acknowledged("".join(lines) + rest, who))
            kills += 1
            if self.records.exists():
                kept = self.read()
                self.assertLessEqual(said.items(), kept.items())
                # One more may have been on the disk before its writer could say so, for each kill.
                self.assertLessEqual(len(kept) - len(said), kills)
        self.assertGreater(kills, 5)
        filer = self.start(1, "last")
        self.assertEqual(filer.communicate()[1], "")


if __name__ == "__main__":
    unittest.main()
