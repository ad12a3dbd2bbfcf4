# SPDX-License-Identifier: Apache-2.0
"""Natural frequencies of a meshed tooth by CalculiX (ccx), a 3-D finite element program."""
import dataclasses
import os
import pathlib
import re
import shutil
import subprocess
import tempfile

import numpy as np

MODES = 9


@dataclasses.dataclass
class Metal:
    modulus_mpa: float
    poisson_ratio: float
    density_kg_m3: float


@dataclasses.dataclass
class Answer:
    bending_hz: list  # modes in which the steel swings up and down, lowest first
    other_hz: list    # all others that were found: along the tooth
    cpu_s: float


def available():
    return shutil.which("ccx") is not None


def lines(numbers):
    return "".join(", ".join(map(str, numbers[at:at + 10])) + ",\n"
                   for at in range(0, len(numbers), 10))


def material(name, metal):
    """In mm, N, t and s."""
    return (f"*MATERIAL, NAME={name}\n"
            f"*ELASTIC\n{metal.modulus_mpa:.9g}, {metal.poisson_ratio:.9g}\n"
            f"*DENSITY\n{metal.density_kg_m3 * 1e-12:.9g}\n"
            f"*SOLID SECTION, ELSET={name}, MATERIAL={name}\n")


def deck(mesh, steel, lead, element):
    text = "*NODE, NSET=ALL\n"
    text += "".join(f"{n}, {x:.9g}, {y:.9g}, {z:.9g}\n" for n, (x, y, z) in mesh.nodes.items())
    first = 1
    for name, bricks, metal in (("STEEL", mesh.steel, steel), ("LEAD", mesh.lead, lead)):
        if not bricks:
            continue
        text += f"*ELEMENT, TYPE={element}, ELSET={name}\n"
        text += "".join(f"{first + i}, " + ", ".join(map(str, b[:10])) + ",\n" +
                        ", ".join(map(str, b[10:])) + "\n" for i, b in enumerate(bricks))
        first += len(bricks)
        text += material(name, metal)
    text += f"*NSET, NSET=FIXED\n{lines(mesh.fixed)}*NSET, NSET=MIDDLE\n{lines(mesh.symmetric)}"
    text += f"*NSET, NSET=LINE\n{lines(mesh.line)}"
    text += "*BOUNDARY\nFIXED, 1, 3\nMIDDLE, 2, 2\n*STEP\n*FREQUENCY\n"
    return text + f"{MODES}\n*NODE PRINT, NSET=LINE\nU\n*END STEP\n"


def frequencies(text):
    """Hertz of each mode from the first table of a .dat file."""
    table = text.split("E I G E N V A L U E   O U T P U T")[1].split("P A R T I C I P A T I O N")[0]
    return [float(row.split()[3]) for row in table.splitlines() if re.match(r"\s+\d+\s", row)]


def displacements(text, count):
    """Of each mode the displacements (x, y, z) of the printed nodes, by number."""
    blocks = text.split("displacements (vx,vy,vz) for set LINE")[1:1 + count]
    return [{int(row.split()[0]): np.array([float(v) for v in row.split()[1:4]])
             for row in block.splitlines()[1:] if re.match(r"\s+\d+\s", row)} for block in blocks]


def modes(mesh, steel, lead, element="C3D20R"):
    with tempfile.TemporaryDirectory() as folder:
        job = pathlib.Path(folder) / "tooth"
        job.with_suffix(".inp").write_text(deck(mesh, steel, lead, element))
        before = os.times()
        run = subprocess.run(["ccx", "tooth"], cwd=folder, capture_output=True, text=True,
                             env={**os.environ, "OMP_NUM_THREADS": "1",
                                  "OPENBLAS_NUM_THREADS": "1"})
        after = os.times()
        if run.returncode or "*ERROR" in run.stdout:
            raise RuntimeError(run.stdout[-2000:] + run.stderr)
        text = job.with_suffix(".dat").read_text()
    hz = frequencies(text)
    bending, other = [], []
    for f, moved in zip(hz, displacements(text, len(hz)), strict=True):
        way = np.array([moved[n] for n in mesh.line])
        up, along = np.linalg.norm(way[:, 2]), np.linalg.norm(way[:, 0])
        (bending if up > along else other).append(f)
    cpu = (after.children_user + after.children_system -
           before.children_user - before.children_system)
    return Answer(bending, other, cpu)
