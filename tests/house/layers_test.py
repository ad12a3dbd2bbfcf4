#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""layers_test.py SOURCE_DIR: every #include of src/ points to its own layer or one that it may
know, and nothing in the tree names a place on somebody's machine."""
import pathlib
import re
import subprocess
import sys
import unittest

ROOT = pathlib.Path(sys.argv.pop())

# Each layer with the layers it may know.
LAYERS = {
    "base": [],
    "music": ["base"],
    "box": ["base", "music"],
    "steel": ["base", "music", "box"],
    "action": ["base", "box"],
    "arrange": ["base", "music", "box", "action"],
    "disc": ["base", "music", "box", "action", "arrange"],
    "motor": ["base", "music", "box", "steel", "action", "arrange", "disc"],
    "sound": ["base", "music", "box", "steel", "action", "arrange", "disc"],
    "ear": ["base"],
    "tuner": ["base", "music", "box", "steel"],
    "records": ["base", "music", "box", "steel"],
    "draw": ["base", "music", "box", "steel", "action", "arrange", "disc", "motor", "records"],
    "app": ["base", "music", "box", "steel", "action", "arrange", "disc", "motor", "sound", "ear",
            "tuner", "records", "draw"],
    "workbench": ["base", "music", "box", "steel", "action", "arrange", "disc", "motor", "sound",
                  "ear", "tuner", "records", "draw", "app"],
    "program": ["base", "app", "workbench"],
}
INCLUDE = re.compile(r'^\s*#\s*include\s*"([^"]+)"', re.MULTILINE)
MACHINE_PATH = re.compile(r"(?<![\w.$}/-])/(?:home|root|work|Users|mnt)/\w")


def tracked_files():
    listed = subprocess.run(
        ["git", "-C", ROOT, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        capture_output=True)
    if listed.returncode != 0:  # a tree unpacked from an archive
        return [p for p in ROOT.rglob("*") if p.is_file() and "build" not in p.parts]
    names = [name for name in listed.stdout.decode().split("\0") if name]
    return [ROOT / name for name in names if (ROOT / name).is_file()]


class House(unittest.TestCase):
    def test_each_layer_includes_only_layers_it_may_know(self):
        seen = 0
        for path in sorted((ROOT / "src").rglob("*.[ch]*")):
            if path.suffix not in (".h", ".cpp"):
                continue
            layer = path.relative_to(ROOT / "src").parts[0]
            for included in INCLUDE.findall(path.read_text()):
                seen += 1
                target = included.split("/")[0]
                with self.subTest(file=str(path.relative_to(ROOT)), include=included):
                    self.assertIn("/", included, "write LAYER/FILE.h")
                    self.assertIn(target, LAYERS[layer] + [layer])
        self.assertGreater(seen, 50)

    def test_every_folder_of_src_is_a_known_layer(self):
        folders = {p.name for p in (ROOT / "src").iterdir() if p.is_dir()}
        self.assertEqual(folders, set(LAYERS))

    def test_every_source_file_opens_with_the_licence(self):
        for path in tracked_files():
            if path.suffix in (".h", ".cpp"):
                with self.subTest(file=str(path.relative_to(ROOT))):
                    self.assertEqual(path.read_text().split("\n")[0],
                                     "// SPDX-License-Identifier: Apache-2.0")

    def test_no_file_names_a_place_on_one_machine(self):
        for path in tracked_files():
            try:
                text = path.read_text()
            except UnicodeDecodeError:
                continue
            with self.subTest(file=str(path.relative_to(ROOT))):
                found = MACHINE_PATH.search(text)
                self.assertIsNone(found, found and found.group())


if __name__ == "__main__":
    unittest.main()
