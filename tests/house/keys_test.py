#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The key tables mark what is only stored for later. A key is used if its member of the struct is
read anywhere but in the layer that fills it (src/box) and in the answer that repeats the box
(src/app/box_json.cpp)."""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
BOX = ROOT / "src" / "box"
# Copying a box into a plan and back computes nothing.
REPEATERS = {"box_json.cpp", "plan_reader.cpp", "plan_writer.cpp"}


def own_keys():
    """(section.key, marked for later, part of the box or None, struct, member)"""
    for path in sorted(BOX.glob("*keys*.cpp")):
        text = path.read_text()
        for function in re.split(r"\n(?=\w*Keys \w+\(\))", text)[1:]:
            all_later = "return all_later" in function
            for match in re.finditer(
                    r'(later<\w+>\(\s*)?\{\{"(\w*)",\s*"(\w+)",.*?set(?:_own|_row)?<(.*?)>\s*[,}]',
                    function, re.S):
                one_later, section, key, members = match.groups()
                path_of_member = re.findall(r"&(\w+)::(\w+)", members)
                part = path_of_member[0][1] if len(path_of_member) > 1 else None
                yield f"{section}.{key}", all_later or bool(one_later), part, *path_of_member[-1]


def users():
    for path in sorted((ROOT / "src").rglob("*")):
        if path.suffix in (".cpp", ".h") and path.parent != BOX and path.name not in REPEATERS:
            yield path.read_text()
    for name in ("box.cpp", "lift.cpp", "star_drive.cpp", "target.cpp"):
        yield (BOX / name).read_text()


def is_used(part, struct, member, sources):
    for text in sources:
        if re.search(rf"\b{struct.lower()}_?\.{member}\b", text):
            return True
        if part is None or not re.search(rf"[.>]{member}\b", text):
            continue
        if re.search(rf"[.>]{part}\b|\bbox::{struct}\b", text):
            return True
    return False


def main():
    sources = list(users())
    keys = list(own_keys())
    wrong = []
    for name, later, part, struct, member in keys:
        if is_used(part, struct, member, sources) == later:
            wrong.append(f"{name}: marked {'for later, but used' if later else 'as used, but is not'}")
    if len(keys) < 100:
        wrong.append(f"only {len(keys)} keys found in the tables")
    print("\n".join(wrong) or f"{len(keys)} keys are marked as they are used")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
