# SPDX-License-Identifier: Apache-2.0
"""disc.svg drawn by librsvg: what it measures in pixels is what it should in millimetres."""

import common

common.need_program("rsvg-convert")
common.need_program("pdftoppm")
try:
    import raster
except ImportError:
    common.skip("python3-numpy is not installed")


def check(truth):
    common.run("rsvg-convert", "-f", "pdf", "-o", truth.path("svg.pdf"), truth.path("disc.svg"))
    grey = raster.page(truth.path("svg.pdf"), 1)
    for size in grey.shape:
        assert abs(size / raster.PIXELS_PER_MM - (truth.diameter_mm + 10)) < 0.3, grey.shape
    for extent in raster.extent_mm(grey < 200):
        # The edge's stroke is 0.2 mm wide and adds half of it at each end.
        assert abs(extent - truth.diameter_mm - 0.2) < 0.25, extent
    print("measured", raster.extent_mm(grey < 200))


common.for_each_variant(check)
