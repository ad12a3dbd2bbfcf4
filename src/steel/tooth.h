// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "base/finding.h"
#include "steel/metal.h"

// One tooth of a comb: a clamped-free bar with leads under it. Positions are measured from the root
// line towards the tip.
namespace combwright::steel {

inline constexpr double rigid = std::numeric_limits<double>::infinity();

// A stretch of steel; width and thickness run linearly from the end nearer the root to the other.
struct Section {
  double length_m = 0.0;
  double root_width_m = 0.0;
  double tip_width_m = 0.0;
  double root_thickness_m = 0.0;
  double tip_thickness_m = 0.0;
};

// A weight under the tooth: a block, or a point mass where its length is 0.
struct Lead {
  double mass_kg = 0.0;
  double center_m = 0.0;  // from the root
  double length_m = 0.0;  // along the tooth
  double height_m = 0.0;  // downwards
  double width_m = 0.0;   // across; only its stiffening needs it
  double offset_m = 0.0;  // its centre below the middle of the steel
  // How a block stiffens the steel over it: 0 not at all (it hangs at its centre), a modulus as the
  // other half of a composite section, `rigid` so that neither bends.
  double modulus_pa = 0.0;
  double poisson_ratio = lead_metal.poisson_ratio;
};

// What the comb's plate gives way at the root line.
struct Root {
  double turning_n_m = rigid;   // moment for each radian
  double shifting_n_m = rigid;  // force for each metre across the plate
};

// thin: bending only (Euler-Bernoulli); thick: shear and rotary inertia of the steel too
// (Timoshenko).
enum class Theory { thin, thick };

// The shear coefficient of a rectangle (Timoshenko; J. Appl. Mech. 68, 959 discusses the choice).
inline constexpr double rectangle_shear_coefficient = 5.0 / 6.0;

struct Tooth {
  std::vector<Section> sections;  // from root to tip
  std::vector<Lead> leads;
  Root root;
  Metal steel = spring_steel;
  Theory theory = Theory::thick;
  double shear_coefficient = rectangle_shear_coefficient;
};

// A tooth of one width, its thickness running linearly from root to tip, without leads.
Tooth plain_tooth(double length_m, double width_m, double root_thickness_m, double tip_thickness_m,
                  const Metal& steel = spring_steel);

// The block of this mass and length under a tooth, as wide as the tooth is under the block's centre
// and touching it; its height follows. A point mass in the middle of the steel if the length is 0.
Lead lead_block(const Tooth& tooth, double mass_kg, double center_m, double length_m,
                const Metal& metal = lead_metal);

// The root that lets a bar of this section bend for `yield` of its thickness more than its length,
// as if it were clamped so far behind the root line: a moment M turns it by M yield h / (E I), so
// that a radian needs E b h^3 / (12 yield h). Rigid if the yield is 0 or less.
Root yielding_root(double modulus_pa, double width_m, double thickness_m, double yield);

double length_m(const Tooth& tooth);
double width_m(const Tooth& tooth, double position_m);
double thickness_m(const Tooth& tooth, double position_m);

// Mass of the steel alone.
double steel_mass_kg(const Tooth& tooth);

// What is wrong with the tooth and what would be right, in words; empty if nothing is. Every other
// function of this layer asserts that it is empty.
std::string problem(const Tooth& tooth);

// What to know about a tooth that has no problem: a tooth too stout for beam theory, and the usual
// caution where there is lead.
Findings findings(const Tooth& tooth);

}  // namespace combwright::steel
