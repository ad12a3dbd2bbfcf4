# SPDX-License-Identifier: Apache-2.0
"""What the readers of our files share: make the files, know the truth, play a disc back.

Every check program is called as `python3 NAME_test.py WRITE_ALL` and ends with 77, which ctest
counts as skipped, where its independent reader is not installed.
"""

import json
import math
import pathlib
import shutil
import subprocess
import sys
import tempfile

VARIANTS = [("clockwise", "plain"), ("counter_clockwise", "plain"), ("clockwise", "hostile")]


def skip(reason):
    print("skipped:", reason)
    sys.exit(77)


def need_program(name):
    if shutil.which(name) is None:
        skip(name + " is not installed")


def run(*command):
    done = subprocess.run(command, capture_output=True, check=False)
    assert done.returncode == 0, (command, done.returncode, done.stderr[-2000:])
    return done.stdout


class Truth:
    def __init__(self, folder):
        data = json.loads((folder / "truth.json").read_text())
        self.__dict__.update(data)
        self.folder = folder

    def path(self, name):
        return str(self.folder / name)

    def track_at(self, radius_mm):
        nearest = min(self.tracks, key=lambda track: abs(track["radius_mm"] - radius_mm))
        # Tracks lie 2 mm apart; a hit off its track is no hit of this disc.
        assert abs(nearest["radius_mm"] - radius_mm) < 0.002, radius_mm
        return nearest

    def pluck(self, radius_mm, angle_rad):
        """Time and track of the pluck that a projection gives, by the arc from touch to release."""
        track = self.track_at(radius_mm)
        turned = angle_rad if self.clockwise else -angle_rad
        turned = (turned + track["arc_mm"] / track["radius_mm"]) % (2 * math.pi)
        return turned / (2 * math.pi) * self.turn_time_s, track["track"]

    def check_hits(self, hits, tolerance_s):
        """Hits as (radius in mm, angle in rad), in the order of the file, play the arrangement."""
        assert len(hits) == len(self.tour), (len(hits), len(self.tour))
        worst = 0.0
        plucks = []
        for (radius_mm, angle_rad), (track, time_s) in zip(hits, self.tour):
            played_s, played_track = self.pluck(radius_mm, angle_rad)
            assert played_track == track
            worst = max(worst, abs(played_s - time_s))
            plucks.append((played_s, played_track))
        assert worst <= tolerance_s, worst
        # The same once more without the order of the file: the arrangement itself.
        by_track = lambda pluck: (pluck[1], pluck[0])
        for got, want in zip(sorted(plucks, key=by_track),
                             sorted(((t, k) for t, k in self.plucks), key=by_track)):
            assert got[1] == want[1] and abs(got[0] - want[0]) <= tolerance_s, (got, want)
        print(f"{len(hits)} hits, worst {1e6 * worst:.1f} us")


def polar(x_mm, y_mm):
    return math.hypot(x_mm, y_mm), math.atan2(y_mm, x_mm) % (2 * math.pi)


def leading_edge_middle(corners):
    """The polyline begins with the two ends of the leading edge."""
    return polar((corners[0][0] + corners[1][0]) / 2, (corners[0][1] + corners[1][1]) / 2)


def check_rectangle(corners, length_mm=2.0, width_mm=1.0, tolerance_mm=0.0005):
    """The size of the punch that write_all's box states, and square corners."""
    assert len(corners) == 4, corners
    sides = [math.dist(corners[i], corners[(i + 1) % 4]) for i in range(4)]
    for side, want in zip(sides, [width_mm, length_mm, width_mm, length_mm]):
        assert abs(side - want) <= tolerance_mm, sides
    diagonal = math.hypot(length_mm, width_mm)
    assert abs(math.dist(corners[0], corners[2]) - diagonal) <= tolerance_mm


def for_each_variant(check):
    with tempfile.TemporaryDirectory() as scratch:
        for turning, names in VARIANTS:
            folder = pathlib.Path(scratch) / f"{turning}-{names}"
            folder.mkdir()
            run(sys.argv[1], str(folder), turning, names)
            print(turning, names, end=": ")
            check(Truth(folder))
