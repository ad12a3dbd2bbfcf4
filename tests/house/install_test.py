#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""install_test.py BUILD_DIR SOURCE_DIR: an outside project finds the installed tree through CMake and
through pkg-config and gets right results from it, and the .deb holds what it should."""
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

ROOT = pathlib.Path(sys.argv.pop()).resolve()
BUILD = pathlib.Path(sys.argv.pop()).resolve()
OUTSIDE = ROOT / "tests/house/outside"
# A4 is 440 Hz (ISO 16), C4 is 60 and 261.6256 Hz.
EXPECTED = "A4 440.0000 Hz\nC4 261.6256 Hz\n"


def run(*words, **settings):
    made = subprocess.run(list(map(str, words)), capture_output=True, text=True, **settings)
    if made.returncode != 0:
        raise AssertionError(f"{words}\n{made.stdout}{made.stderr}")
    return made.stdout


class Installed(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.TemporaryDirectory(prefix="combwright.")
        cls.addClassCleanup(cls.scratch.cleanup)
        cls.folder = pathlib.Path(cls.scratch.name)
        run("cmake", "--install", BUILD, "--prefix", cls.folder / "first")
        # The tree must still work where it was moved to.
        cls.prefix = (cls.folder / "first").rename(cls.folder / "prefix")

    def test_the_program_runs(self):
        box = self.prefix / "share/doc/combwright/examples/larkspur.toml"
        self.assertIn("larkspur", run(self.prefix / "bin/combwright", "check", box))

    def test_a_cmake_project_finds_it(self):
        build = self.folder / "outside"
        run("cmake", "-G", "Ninja", "-S", OUTSIDE, "-B", build,
            f"-DCMAKE_PREFIX_PATH={self.prefix}")
        run("cmake", "--build", build)
        self.assertEqual(run(build / "outside"), EXPECTED)

    def test_pkg_config_finds_it(self):
        pc = next(self.prefix.rglob("combwright.pc"))
        flags = run("pkg-config", "--cflags", "--libs", "combwright",
                    env={**os.environ, "PKG_CONFIG_PATH": str(pc.parent)}).split()
        program = self.folder / "by-pkg-config"
        run("c++", "-std=c++20", OUTSIDE / "outside.cpp", "-o", program, *flags)
        self.assertEqual(run(program), EXPECTED)

    def test_every_header_stands_alone(self):
        include = self.prefix / "include/combwright"
        headers = sorted(path.relative_to(include) for path in include.rglob("*.h"))
        self.assertGreater(len(headers), 20)
        source = self.folder / "all.cpp"
        source.write_text("".join(f'#include "{header}"\n' for header in headers))
        run("c++", "-std=c++23", "-fsyntax-only", f"-I{include}", source)


class Package(unittest.TestCase):
    def test_the_deb_holds_program_library_and_papers(self):
        with tempfile.TemporaryDirectory(prefix="combwright.") as folder:
            run("cpack", "--config", BUILD / "CPackConfig.cmake", "-B", folder)
            deb = next(pathlib.Path(folder).glob("*.deb"))
            fields = run("dpkg-deb", "--info", deb)
            names = run("dpkg-deb", "--contents", deb)
        self.assertRegex(fields, r"(?m)^ Package: combwright$")
        self.assertRegex(fields, r"(?m)^ Depends: .*libcairo2.*libfmt9.*libsndfile1.*")
        for name in ("bin/combwright", "include/combwright/arrange/arrange.h",
                     "share/man/man1/combwright.1", "share/doc/combwright/copyright",
                     "share/bash-completion/completions/combwright"):
            self.assertRegex(names, rf"(?m) \./usr/{re.escape(name)}$")
        self.assertRegex(names, r"/CombwrightConfig\.cmake\n")
        self.assertRegex(names, r"/libcombwright\.a\n")


if __name__ == "__main__":
    unittest.main()
