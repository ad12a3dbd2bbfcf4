// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace combwright::steel {

enum class Finish { ground, machined };

// First estimate of the stress amplitude that steel of this tensile strength bears for ever in
// bending: half the strength, at most 700 MPa, times the surface factor 1.58 R^-0.085 (ground) or
// 4.51 R^-0.265 (machined), R in MPa, at most 1. Shigley, Mechanical Engineering Design, ch. 6; its
// factors for size, load, temperature and reliability are left at 1.
double endurance_limit_pa(double strength_pa, Finish finish);

// Goodman: how many times a stress that swings between two values could grow before steel of this
// strength and endurance limit fails some day. Compression as mean stress is not counted as a help.
double goodman_factor(double least_pa, double greatest_pa, double endurance_pa, double strength_pa);

}  // namespace combwright::steel
