# SPDX-License-Identifier: Apache-2.0
"""What the tests of whole runs share: the program and the source tree named on the command line,
a scratch folder for each test, and a way to run a command."""
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

ROOT = pathlib.Path(sys.argv.pop()).resolve()
PROGRAM = pathlib.Path(sys.argv.pop()).resolve()
EXAMPLES = ROOT / "examples"
LARKSPUR = EXAMPLES / "larkspur.toml"
BRAMBLE = EXAMPLES / "bramble.toml"
HEDGEROW = EXAMPLES / "tunes/hedgerow-morning.mid"
WALTZ = EXAMPLES / "tunes/bramble-waltz.musicxml"
MILLPOND = EXAMPLES / "tunes/round-the-millpond.musicxml"

DAY = {"SOURCE_DATE_EPOCH": "1700000000"}  # 14 November 2023


class ProgramTest(unittest.TestCase):
    maxDiff = None

    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="combwright.")
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)

    def run_program(self, *words, **settings):
        """Runs the program in the scratch folder; what it printed and its exit status."""
        environment = {**os.environ, **DAY, **settings.pop("env", {})}
        return subprocess.run([PROGRAM, *map(str, words)], cwd=self.folder, capture_output=True,
                              env=environment, text=True, timeout=300, **settings)

    def answer(self, *words, status=(0, 1)):
        """The JSON object that a command prints, and nothing else."""
        run = self.run_program(*words, "--json")
        self.assertIn(run.returncode, status, run.stderr)
        self.assertEqual(run.stderr, "")
        return json.loads(run.stdout)

    def assert_refused(self, run, line, status=2):
        """One line on standard error, nothing on standard output."""
        self.assertEqual((run.returncode, run.stdout, run.stderr), (status, "", line + "\n"))


def snapshot(folder):
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}
