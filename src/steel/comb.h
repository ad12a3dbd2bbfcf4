// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.h"
#include "base/quantity.h"
#include "base/watch.h"
#include "box/box.h"
#include "box/shop.h"
#include "steel/tooth.h"

// The whole comb: which length, thickness and lead each tooth gets. docs/comb.md tells how.
namespace combwright::steel {

// Largest distance of a designed tooth's first mode from its target.
inline constexpr double comb_pitch_error_cents = 0.001;

// Leads are cut to this.
inline constexpr double lead_step_m = 1e-4;

// What is told of a tooth that is filed into tune is told for this much off its tip.
inline constexpr double file_step_m = 1e-5;

// The smooth lines that all teeth follow. A share runs from 0 at the highest tooth to 1 at the
// lowest, by place on the comb.
struct CombCurves {
  // The root line: length = shortest + (longest - shortest) ((1 - bend) share + bend share^2);
  // straight at 0.
  double bend = 0.0;
  // Thickness at the root to length, at shares 0, 1/2 and 1; the logarithm is a parabola through
  // the three. Teeth of one stoutness and width need one force for one lift.
  std::array<double, 3> stoutness{};
  // Thickness at the tip to that at the root, at shares 0 and 1; a straight line between.
  std::array<double, 2> taper{};
};

// As box::Comb::lines has them.
std::vector<double> lines(const CombCurves& curves);

struct CombTooth {
  int track = 0;
  int midi = 0;
  double target_hz = 0.0;
  // As first made, flat: the lead left long, or without a lead the tip left thick.
  Tooth as_cut;
  Tooth in_tune;
  double flat_cents = 0.0;  // of as_cut below the target
  double step_cents = 0.0;  // worth of the next lead_step_m of lead; 0 without
  // Without a lead, worth of the next file_step_m off the tip, the thickness still running straight
  // from an untouched root to it; 0 with one.
  double file_step_cents = 0.0;
  double lift_m = 0.0;
  double tip_stiffness_n_m = 0.0;
  double pluck_force_n = 0.0;
  double pluck_energy_j = 0.0;
  double root_stress_pa = 0.0;   // under the lift: 6 F L / (b h^2)
  double ring_stress_pa = 0.0;   // greatest after the release, to both sides
  double safety_factor = 0.0;    // Goodman's, of the ring stress
  double root_force_n = 0.0;     // with which its first mode shakes the bedplate, at first
  double level_db = 0.0;         // of root_force_n over the median of its comb's teeth
  double sideways_m = 0.0;       // its lead's, if it is plucked at its very edge
  std::vector<double> modes_hz;  // of in_tune
  std::vector<double> modes_as_cut_hz;

  bool leaded() const { return !as_cut.leads.empty(); }
};

// One rule that every tooth is to keep, and the tooth that comes nearest to breaking it.
struct CombLimit {
  std::string name;
  std::optional<Dimension> dimension;  // nothing for a bare number
  double bound = 0.0;
  double worst = 0.0;
  double margin = 0.0;  // from worst to bound; negative if broken
  int track = 0;
  int broken = 0;  // teeth that break it
};

// A value of the limit for people, with as many decimals as its bound: "0.200 mm", "51.68 cents",
// "1.50".
std::string to_text(const CombLimit& limit, double value);

// How far the as-cut pitch of a comb's teeth is from what was computed, one standard deviation in
// cents: what is common to its teeth, and with it what is each tooth's own; of the least well known
// tooth.
struct CutSpread {
  double common_cents = 0.0;
  double all_cents = 0.0;

  // Half the width of the range that holds 95 % of such teeth.
  double within_95_cents() const { return 1.96 * all_cents; }
};

struct CombDesign {
  std::string name;
  CombCurves curves;
  std::vector<CombTooth> teeth;  // in order of track
  std::vector<CombLimit> limits;
  double force_ratio = 0.0;  // greatest pluck force to the least
  double loudness_db = 0.0;  // loudest tooth over the softest, by root_force_n
  // The ring stress at which a tooth would have just the safety factor that the box asks for.
  double ring_stress_limit_pa = 0.0;
  CutSpread cut_spread;  // by the spreads that the box gives
  Findings findings;

  // Whether any tooth has a weight.
  bool leaded() const;
};

bool any_leaded(const std::vector<CombDesign>& designs);

// All combs of the box, tooth by tooth; `lift_m` for each comb and track. Box and shop must have
// passed their readers. Combs that differ in nothing but pitch follow the same curves. A wish that
// cannot be met is a finding (fault) that says which tooth breaks which limit and what would free
// it; teeth that may come off the saw sharp are a warning. Throws Cancelled if stopped.
std::vector<CombDesign> design_combs(const box::Box& box, const box::Shop& shop,
                                     const std::vector<std::vector<double>>& lift_m,
                                     const Watch& watch = {});

// Of each tooth's tip, for each comb and track.
std::vector<std::vector<double>> tip_stiffness_n_m(const std::vector<CombDesign>& combs);

}  // namespace combwright::steel
