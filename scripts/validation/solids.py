# SPDX-License-Identifier: Apache-2.0
"""Six teeth of the larger example box beside solids of them by a 3-D finite element program: pitch,
root, overtones, time."""
import json
import math
import pathlib
import statistics
import subprocess
import sys
import tempfile

import scipy.optimize

from tables import table

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests/steel"))
import solid_teeth

COARSE, FINE = 1, 2
# What a half-plane turns under a moment, as a share of the thickness: O'Donnell 1960, from memory.
HALF_PLANE = 0.44


def off(ours, theirs):
    """Per cent and cents of ours above theirs."""
    return f"{100 * (ours / theirs - 1):+.2f} % ({1200 * math.log2(ours / theirs):+.1f})"


def yielding(program, answer, tooth, share):
    """Our first mode if the tooth bends behind its root line by this share of its thickness."""
    root = answer["steel"]["modulus_pa"] * tooth["width_m"] * tooth["thickness_m"]**2 / (12 * share)
    return solid_teeth.ours(program, tooth, root_n_m=root)[0]


def yield_that_agrees(program, answer, tooth, hz):
    return scipy.optimize.brentq(lambda share: yielding(program, answer, tooth, share) / hz - 1,
                                 0.01, 2, xtol=1e-4)


def power_of_ten(value):
    """Rounded down, so that it stands on a slower and on a busier machine."""
    return f"{10**math.floor(math.log10(value)):,}"


def tooth_s(bench):
    """Our processor seconds for four modes of one tooth, from the benchmark."""
    with tempfile.NamedTemporaryFile(suffix=".json") as out:
        subprocess.run([bench, out.name], check=True, stdout=subprocess.DEVNULL)
        return next(row["tooth_s"] for row in json.load(open(out.name)) if "tooth_s" in row)


def name(tooth):
    lead = f"{1e6 * tooth['lead']['mass_kg']:.0f} mg" if tooth["lead"] else "none"
    return [tooth["note"], lead, f"{tooth['length_m'] / tooth['thickness_m']:.1f}"]


def text(program, bench):
    """`bench`: the program bench_steel."""
    answer = solid_teeth.designed(program, ROOT / "examples/larkspur.toml")
    teeth = solid_teeth.six(answer)
    own, broad = solid_teeth.plate(answer, 2.0), solid_teeth.plate(answer, 14.0)
    faces, held, overtones, plates, shifts = [], [], [], [], []
    ratios = {COARSE: [], FINE: []}
    ours_s = tooth_s(bench)
    for tooth in teeth:
        found = {}
        for key, plate in (("face", None), ("own", own), ("broad", broad)):
            for fineness in (COARSE, FINE):
                found[key, fineness] = solid_teeth.solid(answer, tooth, plate, fineness)
            coarse, fine = (found[key, f].bending_hz[0] for f in (COARSE, FINE))
            shifts.append(abs(coarse / fine - 1))
        for fineness in (COARSE, FINE):
            ratios[fineness].append(found["face", fineness].cpu_s / ours_s)
        stiff = solid_teeth.solid(answer, tooth, None, FINE, poisson=False).bending_hz
        face, plate = found["face", FINE].bending_hz, found["broad", FINE].bending_hz
        thick, thin = (solid_teeth.ours(program, tooth, theory) for theory in ("thick", "thin"))
        faces.append(name(tooth) + [f"{face[0]:.2f}", off(thick[0], face[0]), off(thin[0], face[0]),
                                    off(thick[0], stiff[0])])
        narrow = found["own", FINE].bending_hz
        yields = [yield_that_agrees(program, answer, tooth, hz[0]) for hz in (plate, narrow)]
        held.append([tooth["note"], f"{plate[0]:.2f}", off(tooth["modes_hz"][0], plate[0]),
                     off(yielding(program, answer, tooth, HALF_PLANE), plate[0]),
                     off(tooth["modes_hz"][0], narrow[0])] + [f"{100 * y:.0f} %" for y in yields])
        plates.append(yields[0])
        overtones.append([tooth["note"]] + [off(a, b) for a, b in
                                            zip(tooth["modes_hz"][1:], plate[1:4], strict=True)])
    given = (100 * answer["steel"]["modulus_pa"] * tooth["width_m"] * tooth["thickness_m"]**2 / 12 /
             tooth["root_stiffness_n_m"])
    text = f"""
## Teeth, beside solids by finite elements

Six teeth of `larkspur` as `comb` designs them, from the bass with heavy leads to the treble without,
as 3-D solids by CalculiX (ccx, from Debian): 20-node bricks with reduced integration, half of the
tooth by its symmetry, flat above and ground from below, the lead a block under it that shares its
nodes. Bending modes are told from those along the tooth by which way the steel's upper face moves.
Two meshes, the finer with twice as many bricks along each edge, differ by at most {100 * max(shifts):.2f} % in the
first mode; the tables have the finer. Differences are ours above theirs, in per cent and (cents).

The whole root face fixed, against a rigid root:

"""
    text += table(["tooth", "lead", "length / thickness", "solid, Hz", "thick theory", "thin theory",
                   "thick, metals with Poisson's ratio 0"], faces)
    text += f"""
What remains. **Poisson**: a face that is held cannot shrink across, which stiffens the solid near
the root (plane strain); with Poisson's ratio 0 the teeth with light leads or none agree within half
a cent. **Lead**: the composite section has steel and lead bend as one from the lead's inner edge on.
The solid lets the lead give way there, as the plate does at the root, the softer the more: the beam
is a few cents sharp where the lead is as heavy as the tooth or heavier.

The root held by the comb's plate of {own.thickness_mm:g} mm, flush with the teeth above and fixed below from the
root line back, {own.depth_mm:g} mm deep: a broad piece of {broad.breadth_mm:g} mm, as for a tooth that sounds alone, and a
narrow one of {own.breadth_mm:g} mm, a track's pitch. Ours are the teeth as designed, with the box's
`comb.root_yield` of {given:.0f} %; the last two columns are the yields that would agree:

"""
    text += table(["tooth", "solid in broad plate, Hz", "ours, to it", "with a yield of 44 %",
                   "ours, to narrow plate", "yield, broad", "yield, narrow"], held)
    text += f"""
The median yield in the broad plate is {100 * statistics.median(plates):.0f} %; half-plane theory has 44 % (O'Donnell 1960, from
memory). It depends little on the tooth; what the lowest has more is its lead's, as above.

Overtones in the broad plate, beside ours as designed:

"""
    text += table(["tooth", "second mode", "third", "fourth"], overtones)
    text += f"""
In the overtones of a heavily leaded tooth the lead rocks, and so gives way most; it also pulls along
the steel, which the beam has not. Nothing is tuned by them.

Processor time for one tooth with its face fixed, over ours for four modes of one tooth (mean of all
152, `bench_steel`), least of the six, rounded down to a power of ten: {power_of_ten(min(ratios[COARSE]))} times with the
coarse mesh, {power_of_ten(min(ratios[FINE]))} times with the fine one; to reach: 1,000 times.
"""
    return text
