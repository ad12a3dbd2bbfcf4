# SPDX-License-Identifier: Apache-2.0
"""A beam model that shares nothing with the program's: Timoshenko's energies in polynomials of high
degree (Gauss-Legendre-Lobatto nodes, Gauss's quadrature), one element for each stretch of a tooth,
NumPy's eigenvalues. Teeth are taken from the JSON that `comb` answers."""
import math

import numpy as np
from numpy.polynomial import legendre

DEGREE = 14


def lobatto(degree):
    inner = legendre.Legendre.basis(degree).deriv().roots()
    return np.concatenate([[-1.0], np.sort(inner.real), [1.0]])


NODES = lobatto(DEGREE)
POINTS, WEIGHTS = legendre.leggauss(DEGREE + 4)
TO_NODES = np.linalg.inv(legendre.legvander(NODES, DEGREE))
VALUES = legendre.legvander(POINTS, DEGREE) @ TO_NODES
SLOPES = np.stack([legendre.Legendre.basis(n).deriv()(POINTS) if n else 0 * POINTS
                   for n in range(DEGREE + 1)], axis=1) @ TO_NODES


def section(x, tooth, steel, tip_m, lead):
    """Bending and shear stiffness, mass and rotary inertia for each length at positions x."""
    width, root = tooth["width_m"], tooth["thickness_m"]
    h = root + (tip_m - root) * x / tooth["length_m"]
    modulus, k = steel["modulus_pa"], steel["shear_coefficient"]
    bending = modulus * width * h**3 / 12
    shear = k * modulus / (2 * (1 + steel["poisson_ratio"])) * width * h
    mass = steel["density_kg_m3"] * width * h
    rotary = steel["density_kg_m3"] * width * h**3 / 12
    if lead:
        area = lead["width_m"] * lead["height_m"]
        steel_stretch, lead_stretch = modulus * width * h, lead["modulus_pa"] * area
        bending = (bending + lead["modulus_pa"] * lead["width_m"] * lead["height_m"]**3 / 12 +
                   lead["offset_m"]**2 / (1 / steel_stretch + 1 / lead_stretch))
        shear = shear + k * lead["modulus_pa"] / (2 * (1 + lead["poisson_ratio"])) * area
        line = lead["mass_kg"] / lead["length_m"]
        mass = mass + line
        rotary = rotary + line * (lead["height_m"]**2 / 12 + lead["offset_m"]**2)
    return bending, shear, mass, rotary


def matrices(tooth, steel, as_cut):
    """Stiffness and mass over (deflection, rotation) at the nodes, the root's deflection held."""
    tip = tooth["as_cut_tip_thickness_m" if as_cut else "tip_thickness_m"]
    lead = tooth["lead"]
    ends = [0.0, tooth["length_m"]]
    if lead:
        key = "as_cut_" if as_cut else ""
        lead = {**lead, "mass_kg": lead[key + "mass_kg"], "length_m": lead[key + "length_m"]}
        center = lead[key + "center_m"]
        inner, outer = center - lead["length_m"] / 2, center + lead["length_m"] / 2
        ends = [0.0, inner, outer, tooth["length_m"]]
    count = len(ends) - 1
    size = count * DEGREE + 1
    stiffness, inertia = np.zeros((2 * size, 2 * size)), np.zeros((2 * size, 2 * size))
    for i in range(count):
        half = (ends[i + 1] - ends[i]) / 2
        bending, shear, mass, rotary = section(ends[i] + half * (1 + POINTS), tooth, steel, tip,
                                               lead if i == 1 else None)
        w = slice(i * DEGREE, (i + 1) * DEGREE + 1)
        r = slice(size + i * DEGREE, size + (i + 1) * DEGREE + 1)
        slope = SLOPES / half

        def energy(a, factor, b):
            return a.T @ ((factor * WEIGHTS * half)[:, None] * b)

        stiffness[w, w] += energy(slope, shear, slope)
        stiffness[w, r] -= energy(slope, shear, VALUES)
        stiffness[r, w] -= energy(VALUES, shear, slope)
        stiffness[r, r] += energy(slope, bending, slope) + energy(VALUES, shear, VALUES)
        inertia[w, w] += energy(VALUES, mass, VALUES)
        inertia[r, r] += energy(VALUES, rotary, VALUES)
    stiffness[size, size] += tooth["root_stiffness_n_m"]
    return stiffness[1:, 1:], inertia[1:, 1:], size - 2  # the last is the tip's deflection


def modes_hz(tooth, steel, as_cut=False, count=4):
    stiffness, inertia, _ = matrices(tooth, steel, as_cut)
    # The flexibility's largest values are the lowest modes, so that these lose no digits.
    root = np.linalg.cholesky(inertia)
    flexibility = root.T @ np.linalg.solve(stiffness, root)
    largest = np.linalg.eigvalsh((flexibility + flexibility.T) / 2)[::-1][:count]
    return 1 / np.sqrt(largest) / (2 * math.pi)


def tip_stiffness_n_m(tooth, steel):
    stiffness, _, tip = matrices(tooth, steel, False)
    pull = np.zeros(len(stiffness))
    pull[tip] = 1.0
    return 1 / np.linalg.solve(stiffness, pull)[tip]
