# SPDX-License-Identifier: Apache-2.0
"""What independent programs and libraries read in our files: hits as (radius in mm, angle in rad),
in the order of the file, angles counter-clockwise from +X."""
import csv
import math
import re
import subprocess

import ezdxf
import mido
import svgelements

TURN = 2 * math.pi


def polar(x_mm, y_mm):
    return math.hypot(x_mm, y_mm), math.atan2(y_mm, x_mm) % TURN


def dxf_hits(path):
    """Read by ezdxf: the points of layer AXES."""
    document = ezdxf.readfile(path)
    return [polar(point.dxf.location.x, point.dxf.location.y)
            for point in document.modelspace().query('POINT[layer=="AXES"]')]


def dxf_leading_edges(path):
    """Read by ezdxf: the middle of the first edge of every closed polyline of PROJECTIONS."""
    document = ezdxf.readfile(path)
    hits = []
    for line in document.modelspace().query('POLYLINE[layer=="PROJECTIONS"]'):
        inner, outer = [vertex.dxf.location for vertex in line.vertices[:2]]
        hits.append(polar((inner.x + outer.x) / 2, (inner.y + outer.y) / 2))
    return hits


def svg_hits(path):
    """Read by svgelements at one unit a millimetre: the middle of each polygon's first edge."""
    hits = []
    for shape in svgelements.SVG.parse(path, reify=False).elements():
        if isinstance(shape, svgelements.Polygon) and shape.values.get("stroke") == "#c00000":
            hits.append(polar((shape[0].x + shape[1].x) / 2, -(shape[0].y + shape[1].y) / 2))
    return hits


def pdf_hits(path):
    """Read by Poppler: the middle of the first edge of every four-cornered outline, from the page's
    middle. pdftocairo shrinks its page to whole points by a transform of its own; without it the
    numbers are the PDF's."""
    svg = subprocess.run(["pdftocairo", "-svg", path, "-"], capture_output=True, text=True,
                         check=True).stdout
    width_pt, height_pt = map(float, re.search(r'viewBox="0 0 (\S+) (\S+)"', svg).groups())
    number = r"(-?[\d.]+) (-?[\d.]+)"
    outline = re.compile(rf'stroke:rgb[^>]* d="M {number} L {number} L {number} L {number} Z M')
    mm = 25.4 / 72
    hits = []
    for corners in outline.findall(svg):
        x0, y0, x1, y1 = map(float, corners[:4])
        hits.append(polar(((x0 + x1) / 2 - width_pt / 2) * mm, (height_pt / 2 - (y0 + y1) / 2) * mm))
    return hits


def csv_hits(path):
    """Read by Python's csv."""
    with open(path, newline="") as table:
        return [(float(row["radius_mm"]), math.radians(float(row["angle_deg"])))
                for row in csv.DictReader(table)]


def rs274_hits(path):
    """Read by LinuxCNC's interpreter of RS-274: where the tool goes down after a rapid move."""
    run = subprocess.run(["rs274", "-g", path], capture_output=True, text=True, check=True)
    hits, at = [], None
    for line in run.stdout.splitlines():
        move = re.search(r"STRAIGHT_(TRAVERSE|FEED)\(([^)]*)\)", line)
        if not move:
            continue
        axes = [float(value) for value in move.group(2).split(",")]
        if move.group(1) == "TRAVERSE":
            at = axes
        else:
            hits.append((at[0], math.radians(at[3])))
    return hits


def midi_notes(path):
    """Read by mido: (onset in s, MIDI number), by time."""
    time_s, notes = 0.0, []
    for message in mido.MidiFile(path):
        time_s += message.time
        if message.type == "note_on" and message.velocity > 0:
            notes.append((time_s, message.note))
    return notes


def plucks(hits, action, turning):
    """What a disc with these hits plays, by the geometry of interface.md: (time in s, track). The
    track is the one whose radius is nearest; the tooth lets go its release delay after the edge has
    come to the star wheel."""
    turn_s = action["turn_time_s"]
    played = []
    for radius_mm, angle in hits:
        track = min(action["tracks"], key=lambda t: abs(t["radius_m"] * 1000 - radius_mm))
        turned = angle if turning == "clockwise" else -angle
        time_s = (turned % TURN) / TURN * turn_s + track["release_delay_s"]
        played.append((time_s, track["track"]))
    return sorted(played)
