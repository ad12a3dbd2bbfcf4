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


def column_runs(dark):
    return max(raster.longest_run(column) for column in dark.T)


def row_runs(dark):
    return max(raster.longest_run(row) for row in dark)


def check_bars(level, upright):
    """100 mm from end to end both ways; the outermost ticks add 0.1 mm each."""
    assert 998 <= row_runs(level) <= 1004, row_runs(level)
    assert 998 <= column_runs(upright) <= 1004, column_runs(upright)


def check_drawing(truth):
    path = truth.path("disc.pdf")
    pages, width, height = info(path)
    assert pages == 1
    assert abs(width - truth.diameter_mm - 40) < 0.01 and abs(height - width) < 0.01
    dark = raster.page(path, 1) < 200
    for extent in raster.extent_mm(dark[190:-190, 190:-190]):
        assert abs(extent - truth.diameter_mm - 0.2) < 0.25, extent
    check_bars(dark[-150:], dark[:, :150])
    text = text_of(path, 1)
    for words in (truth.title.replace("\n", " ")[:6], truth.checksum[:12], "2024-05-17", "100 mm"):
        assert words in text, words
    check_words_on_page(path)


def check_joins(text, row, column, there):
    """A sheet says to cut where a neighbour lies at its left or above it, and names the ones to be
    glued on at its right and below it."""
    assert ("cut here" in text) == ((row, column - 1) in there or (row - 1, column) in there)
    for neighbour in ((row, column + 1), (row + 1, column)):
        words = "glue row {}, column {} on here".format(*neighbour)
        assert (words in text) == (neighbour in there), words


def check_tiles(truth):
    path = truth.path("disc-tiled.pdf")
    pages, width, height = info(path)
    assert abs(width - truth.paper_mm[0]) < 0.01 and abs(height - truth.paper_mm[1]) < 0.01
    texts = [common.run("pdftotext", "-f", str(number), "-l", str(number), path, "-").decode()
             for number in range(1, pages + 1)]
    places = [tuple(map(int, re.search(r"Row (\d+) of \d+, column (\d+) of \d+", text).groups()))
              for text in texts[1:]]
    there = set(places)
    assert len(there) == pages - 1
    for place in places:
        assert re.search(r"\b{} ?/ ?{}\b".format(*place), texts[0]), place
        check_joins(texts[1 + places.index(place)], *place, there)
    for number, text in enumerate(texts, 1):
        assert "100 mm" in text and truth.checksum[:12] in text and "2024-05-17" in text
        dark = raster.page(path, number) < 160
        check_bars(dark[-300:], dark[:, 100:170])


def check_cover(path):
    """Angles all round, numbers of tracks, the start gap and the way of turning."""
    words = text_of(path, 1)
    for degrees in range(0, 360, 30):
        assert f"{degrees}°" in words, degrees
    for number in range(10, 80, 10):
        assert re.search(rf"\b{number}\b", words), number
    for told in ("start line", "start gap", "Most possible"):
        assert told in words, told
    assert "roven bound" not in words


def check_findings(path, pages):
    """Page 1 counts the findings and names their page, where the gravest stands first."""
    page = int(re.search(r"1 warning, 1 note: page (\d+)", text_of(path, 1))[1])
    words = text_of(path, page)
    assert "Findings" in words and page <= pages
    assert words.index("web of 0.8 mm") < words.index("played 8.0 % faster")


def check_no_page_is_bare(path, pages):
    """No page ends before its upper third does."""
    for number in range(1, pages + 1):
        # Without the foot, which stands in the last 25 mm.
        rows = (raster.page(path, number)[:-250] < 200).any(axis=1).nonzero()[0]
        assert rows[-1] > raster.PIXELS_PER_MM * 100, (number, rows[-1])


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
    for words in ("CAUTION", "-5 semitones", "93.1 %", "94.8 %", "Left out", "leading edge",
                  "Local rules", "no tooth for a black key"):
        assert words in whole, words
    for words in (f"{truth.start_gap_deg:g} deg", "turns", "A 0, X", "to the centre", "4 drive holes",
                  "the table, clockwise as A grows", "least", "1 of 2"):
        assert words in whole, words
    turns = "clockwise" if truth.clockwise else "counter-clockwise"
    assert re.search(rf"\bturns {turns}\b", whole)
    check_cover(path)
    check_findings(path, pages)
    check_no_page_is_bare(path, pages)
    check_words_on_page(path)
    check_words_on_page(truth.path("pack-a5.pdf"))


def check(truth):
    check_drawing(truth)
    check_tiles(truth)
    check_pack(truth)
    print("good")


common.for_each_variant(check)
