# SPDX-License-Identifier: Apache-2.0
"""Six teeth of a designed comb, from the bass with heavy leads to the treble without, by the
program and as solids by CalculiX."""
import json
import subprocess

import brick_mesh
import calculix

TRACKS = (1, 13, 31, 46, 61, 76)


def designed(program, box):
    """What `comb` answers."""
    run = subprocess.run([program, "comb", box, "--json"], capture_output=True, text=True,
                         check=True)
    return json.loads(run.stdout)


def six(answer):
    return [answer["teeth"][track - 1] for track in TRACKS]


def ours(program, tooth, theory="thick", root_n_m=None):
    """Our first four modes in Hz by the command `tooth`; a rigid root if no stiffness is given."""
    words = [program, "tooth", "--json", "--theory", theory]
    for option, key in (("length", "length_m"), ("width", "width_m"), ("thickness", "thickness_m"),
                        ("tip-thickness", "tip_thickness_m")):
        words += [f"--{option}", f"{tooth[key]:.15g} m"]
    lead = tooth["lead"]
    if lead:
        words += ["--lead", f"{lead['mass_kg']:.15g} kg@{lead['center_m']:.15g} m",
                  "--lead-length", f"{lead['length_m']:.15g} m"]
    if root_n_m:
        words += ["--root-stiffness", f"{root_n_m:.15g} N m"]
    run = subprocess.run(words, capture_output=True, text=True, check=True)
    return json.loads(run.stdout)["modes_hz"]


def plate(answer, breadth_mm):
    """The comb's plate behind a tooth, clamped on a bedplate that ends under the root line."""
    return brick_mesh.Plate(1e3 * answer["combs"][0]["plate_thickness_m"], 10.0, breadth_mm)


def solid(answer, tooth, held_by=None, fineness=1, poisson=True):
    """The tooth by CalculiX; its whole root face is fixed if no plate holds it. `poisson` false:
    metals that do not shrink across when stretched."""
    def metal(of, density):
        return calculix.Metal(of["modulus_pa"] * 1e-6, of["poisson_ratio"] if poisson else 0.0,
                              density)

    lead = tooth["lead"]
    weight = lead and metal(
        lead, lead["mass_kg"] / (lead["width_m"] * lead["height_m"] * lead["length_m"]))
    steel = metal(answer["steel"], answer["steel"]["density_kg_m3"])
    return calculix.modes(brick_mesh.mesh(tooth, held_by, fineness), steel, weight)
