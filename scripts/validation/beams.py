# SPDX-License-Identifier: Apache-2.0
"""Our modes of plain and tapered bars beside closed forms and published tables."""
import json
import math
import subprocess

import scipy.optimize

from tables import table

LENGTH_M, WIDTH_M, THICKNESS_M = 0.03, 0.002, 0.001
MODULUS_PA, DENSITY_KG_M3 = 205e9, 7850
BENDING_N_M2 = MODULUS_PA * WIDTH_M * THICKNESS_M**3 / 12
MASS_KG = DENSITY_KG_M3 * WIDTH_M * THICKNESS_M * LENGTH_M

# Squares of lambda as printed.
THOMSON = ["3.5160", "22.0345", "61.6972", ""]
TIP_MASS_2017 = ["1.557298", "16.25009", "50.89584", "105.1983"]
TAPERED_2015 = {0.2: ["3.60828", "20.6210", "56.1923"], 0.4: ["3.73708", "19.1138", "50.3537"],
                0.6: ["3.93428", "17.4879", "44.0248"], 0.8: ["4.29249", "15.7427", "36.8846"]}


def squares(program, *options, tip_m=THICKNESS_M):
    """Our lambda squared, for the section at the root."""
    words = [program, "tooth", "--json", "--theory", "thin", "--length", f"{LENGTH_M} m",
             "--width", f"{WIDTH_M} m", "--thickness", f"{THICKNESS_M} m",
             "--tip-thickness", f"{tip_m:.15g} m", *options]
    run = subprocess.run(words, capture_output=True, text=True, check=True)
    unit = math.sqrt(BENDING_N_M2 / MASS_KG / LENGTH_M**3)
    return [2 * math.pi * hz / unit for hz in json.loads(run.stdout)["modes_hz"]]


def roots(mass_ratio):
    """Lambda squared of 1 + c ch - mu l (s ch - c sh) = 0, the first four, by SciPy; divided by ch
    so that nothing is lost."""
    def equation(l):
        return (1 / math.cosh(l) + math.cos(l) -
                mass_ratio * l * (math.sin(l) - math.cos(l) * math.tanh(l)))
    found, step, at = [], 0.01, 0.05
    while len(found) < 4:
        if equation(at) * equation(at + step) < 0:
            found.append(scipy.optimize.brentq(equation, at, at + step, xtol=1e-15, rtol=1e-14)**2)
        at += step
    return found


def error_text(error):
    return "< 1e-12" if error < 1e-12 else f"{error:.0e}"


def closed_forms(program):
    rows, worst = [], 0.0

    def add(what, printed, exact, found):
        nonlocal worst
        for mode in range(4):
            error = abs(found[mode] / exact[mode] - 1)
            worst = max(worst, error)
            rows.append([what if mode == 0 else "", str(mode + 1), printed[mode],
                         f"{exact[mode]:.9f}", f"{found[mode]:.9f}",
                         error_text(error)])

    blank = [""] * 4
    add("plain bar", THOMSON, roots(0), squares(program))
    for ratio in (0.1, 1, 10):
        add(f"mass of {ratio} bars at the tip", TIP_MASS_2017 if ratio == 1 else blank, roots(ratio),
            squares(program, "--lead", f"{ratio * MASS_KG:.17g} kg@{LENGTH_M} m"))
    for stiffness in (100, 10, 1):
        add(f"root of {stiffness} E I / L", TIP_MASS_2017 if stiffness == 1 else blank,
            roots(1 / stiffness),
            squares(program, "--root-stiffness", f"{stiffness * BENDING_N_M2 / LENGTH_M:.17g} N m"))
    text = ("""The dimensionless squared wave numbers lambda^2 = 2 pi f L^2 sqrt(rho A / E I) of a bar 30 times as
long as thick, thin theory, from the command `tooth`. The exact value is the root of the frequency
equation 1 + cos l cosh l = mu l (sin l cosh l - cos l sinh l), found by SciPy; mu is the mass at the
tip over the bar's (Swaminadham & Michael, J. Sound Vib. 66 (1979) 144). A root that turns with the
stiffness k E I / L has the same equation with mu = 1 / k. Printed values: plain bar, W. T. Thomson,
Theory of Vibration with Applications, appendix D; mu = 1, Math. Problems in Eng. (2017) 1568019.

""")
    text += table(["bar", "mode", "printed", "exact", "ours", "relative error"], rows)
    return text + f"\nLargest relative error: {error_text(worst)}; to reach: 1e-6.\n"


def digits_off(printed, found):
    """Distance from the printed value in units of its last digit."""
    unit = 10.0**-len(printed.partition(".")[2])
    return abs(found - float(printed)) / unit


def tapers(program):
    rows, worst = [], 0.0
    for loss, printed in TAPERED_2015.items():
        found = squares(program, tip_m=THICKNESS_M * (1 - loss))
        for mode, value in enumerate(printed):
            off = digits_off(value, found[mode])
            worst = max(worst, off)
            rows.append([f"{100 * loss:.0f} %" if mode == 0 else "", str(mode + 1), value,
                         f"{found[mode]:.6f}", f"{off:.1f}"])
    text = ("""Bars whose thickness falls linearly to the tip by a share of that at the root; lambda^2 for the
section at the root. Printed: Int. J. Mech. Materials Eng. (2015) s40712-015-0040-0, table 1, which
agrees with Ozdemir & Kaya there.

""")
    text += table(["loss of thickness", "mode", "printed", "ours", "apart, in its last digit"], rows)
    return text + f"""
Largest distance: {worst:.1f} of the last printed digit, which rounding alone explains. Kirchhoff's Bessel
functions, solved by Boost in `tests/steel/taper_test.cpp`, agree with ours to 1e-10. The same file
has bars that lose width too, after the same table and after Mabie & Rogers (J. Acoust. Soc. Am. 51
(1972) 1771).
"""


def text(program):
    return ("\n## Bars, beside closed forms\n\n" + closed_forms(program) +
            "\n## Tapered bars, beside published tables\n\n" + tapers(program))
