# SPDX-License-Identifier: Apache-2.0
"""A table in Markdown."""


def table(headings, rows):
    lines = [headings, ["---"] * len(headings), *rows]
    return "".join("| " + " | ".join(line) + " |\n" for line in lines)
