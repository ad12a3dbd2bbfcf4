# SPDX-License-Identifier: Apache-2.0
"""Pages of a PDF as grey pixels by poppler, ten to the millimetre."""

import numpy

import common

PIXELS_PER_MM = 10


def page(path, number):
    grey = common.run("pdftoppm", "-r", "254", "-gray", "-f", str(number), "-l", str(number), path)
    magic, width, height, depth, pixels = grey.split(maxsplit=4)
    assert magic == b"P5" and depth == b"255"
    width, height = int(width), int(height)
    return numpy.frombuffer(grey[-width * height:], numpy.uint8).reshape(height, width)


def extent_mm(dark):
    """Width and height between the outermost dark pixels."""
    rows, columns = numpy.nonzero(dark.any(axis=1))[0], numpy.nonzero(dark.any(axis=0))[0]
    return [(found[-1] - found[0] + 1) / PIXELS_PER_MM for found in (columns, rows)]


def longest_run(row):
    """Length in pixels of the longest run of dark pixels."""
    edges = numpy.flatnonzero(numpy.diff(numpy.concatenate(([0], row.astype(numpy.int8), [0]))))
    return 0 if len(edges) == 0 else int((edges[1::2] - edges[::2]).max())
