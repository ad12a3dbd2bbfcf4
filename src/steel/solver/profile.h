// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "steel/tooth.h"

// What a cross-section gives the beam.
namespace combwright::steel {

struct Profile {
  double bending_n_m2 = 0.0;  // E I
  double mass_kg_m = 0.0;     // for each metre
  double rotary_kg_m = 0.0;   // rotary inertia for each metre (kg m2 / m)
  double shear_n = rigid;     // k G A
};

// A part of the steel that is kept straight.
struct RigidStretch {
  double mass_kg = 0.0;
  double center_m = 0.0;  // from the root
  double inertia_kg_m2 = 0.0;
};

double inner_end_m(const Lead& lead);
double outer_end_m(const Lead& lead);

// Rotary inertia of a lead about an axis in the middle of the steel over its centre:
// m (length^2 + height^2) / 12 + m offset^2.
double inertia_kg_m2(const Lead& lead);

// The steel alone at a share 0..1 of a section's length.
Profile steel_profile(const Tooth& tooth, const Section& section, double share);

// The same along a stretch, as polynomials in t that runs from -1 at its inner end to 1.
struct ProfileShape {
  std::array<double, 7> bending{};  // E I times `divisor`
  std::array<double, 3> divisor{1.0};
  std::array<double, 3> mass{};
  std::array<double, 5> rotary{};
  std::array<double, 3> shear{rigid};
};

// The cross-sections along a stretch within which nothing changes abruptly: steel, and a lead as
// the other half of a composite section if there is one.
class ProfileLine {
 public:
  // The stretch around a position.
  ProfileLine(const Tooth& tooth, double position_m, const Lead* lead);

  ProfileShape along(double from_m, double to_m) const;
  bool uniform() const;
  RigidStretch rigid(double from_m, double to_m) const;  // of the steel alone

 private:
  const Tooth* tooth_;
  const Section* section_;
  double start_m_ = 0.0;
  const Lead* lead_;
};

}  // namespace combwright::steel
