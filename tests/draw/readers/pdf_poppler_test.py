# SPDX-License-Identifier: Apache-2.0
"""The PDFs by poppler: sizes of pages, sizes on them, texts."""

import re

import common

for program in ("pdfinfo", "pdftotext", "pdftoppm"):
    common.need_program(program)
try:
    import raster
except ImportError:
    common.skip("python3-numpy is not installed")

POINT_MM = 25.4 / 72


def info(path):
    text = common.run("pdfinfo", path).decode()
    pages = int(re.search(r"Pages:\s+(\d+)", text)[1])
    width, height = re.search(r"Page size:\s+([\d.]+) x ([\d.]+) pts", text).groups()
    return pages, float(width) * POINT_MM, float(height) * POINT_MM


def text_of(path, page):
    return common.run("pdftotext", "-layout", "-f", str(page), "-l", str(page), path, "-").decode()


def check_words_on_page(path):
    """No text runs off its page or into the outer 4 mm that many printers cannot reach."""
    html = common.run("pdftotext", "-bbox", path, "-").decode()
    for block in html.split("<page ")[1:]:
        width, height = map(float, re.match(r'width="([\d.]+)" height="([\d.]+)"', block).groups())
        for box in re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" '
                              r'yMax="([-\d.]+)"', block):
            x0, y0, x1, y1 = (float(edge) * POINT_MM for edge in box)
            assert x0 > 4 and y0 > 4, box
            assert x1 < width * POINT_MM - 4 and y1 < height * POINT_MM - 4, box


def check_drawing(truth):
    pages, width, height = info(truth.path("disc.pdf"))
    assert pages == 1
    assert abs(width - truth.diameter_mm - 20) < 0.01 and abs(height - width) < 0.01
    for extent in raster.extent_mm(raster.page(truth.path("disc.pdf"), 1) < 200):
        assert abs(extent - truth.diameter_mm - 0.2) < 0.25, extent


def check_tiles(truth):
    path = truth.path("disc-tiled.pdf")
    pages, width, height = info(path)
    assert abs(width - truth.paper_mm[0]) < 0.01 and abs(height - truth.paper_mm[1]) < 0.01
    labels = set()
    for number in range(1, pages + 1):
        text = text_of(path, number)
        labels.add(re.search(r"Row \d+ of \d+, column \d+ of \d+", text)[0])
        assert "100 mm" in text and truth.checksum[:12] in text
        strip = raster.page(path, number)[-300:] < 160
        bar = max(raster.longest_run(row) for row in strip)
        # 100 mm from end to end; the outermost ticks add 0.1 mm each.
        assert 998 <= bar <= 1004, bar
    assert len(labels) == pages


def check_pack(truth):
    path = truth.path("pack.pdf")
    pages, width, height = info(path)
    assert abs(width - truth.paper_mm[0]) < 0.01 and abs(height - truth.paper_mm[1]) < 0.01
    whole = ""
    for number in range(1, pages + 1):
        text = text_of(path, number)
        whole += text
        assert f"page {number} of {pages}" in text
        assert truth.checksum[:12] in text and "2024-05-17" in text
        assert truth.title.replace("\n", " ")[:6] in text
    for words in ("CAUTION", "down a fourth", "93.1 %", "94.8 %", "Left out", "leading edge",
                  "Local rules", "no tooth for a black key"):
        assert words in whole, words
    check_words_on_page(path)
    check_words_on_page(truth.path("pack-a5.pdf"))


def check(truth):
    check_drawing(truth)
    check_tiles(truth)
    check_pack(truth)
    print("good")


common.for_each_variant(check)
