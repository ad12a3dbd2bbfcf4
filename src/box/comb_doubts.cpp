// SPDX-License-Identifier: Apache-2.0
#include "box/comb_doubts.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/angle.h"
#include "box/measures.h"
#include "box/target.h"
#include "music/pitch.h"

namespace combwright::box {
namespace {

struct StrainedTooth {
  std::size_t comb = 0;
  std::size_t place = 0;  // in the scale
  double strain = 0.0;
};

StrainedTooth most_strained(const Box& box) {
  StrainedTooth worst;
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    const Comb& comb = box.combs[i];
    for (std::size_t place = 0; place < box.scale.midi.size(); ++place) {
      const int at = static_cast<int>(place);
      const double strain = root_strain(box, comb, target_hz(box, comb, box.scale.midi[place]),
                                        tooth_length_m(box, comb, at), lift_m(box, comb, at));
      if (strain > worst.strain) worst = {.comb = i, .place = place, .strain = strain};
    }
  }
  return worst;
}

// The overlap that lifts a tooth by so much, in whole micrometres and no more than that.
double overlap_for_m(const Box& box, const Comb& comb, int place, double lift_m) {
  const double r = box.star_wheel.tip_radius_m;
  const double rise = std::max(0.0, lift_m - comb.level_m);
  const double back = draw_back_m(tooth_length_m(box, comb, place), lift_m);
  return std::floor(1e6 * (r - std::sqrt(r * r - rise * rise) + back)) * 1e-6;
}

std::string tooth_words(const Box& box, const StrainedTooth& tooth) {
  const int track = track_of_place(box, static_cast<int>(tooth.place));
  const std::string of_comb =
      box.combs.size() > 1 ? " of " + comb_words(box.combs[tooth.comb].name) : "";
  return fmt::format("{} on track {}{}", music::note_name(box.scale.midi[tooth.place]), track,
                     of_comb);
}

void doubt_strain(const Box& box, Findings& findings) {
  const StrainedTooth worst = most_strained(box);
  if (worst.strain <= most_root_strain) return;
  const Comb& comb = box.combs[worst.comb];
  const int place = static_cast<int>(worst.place);
  const double lift = lift_m(box, comb, place);
  const double overlap = overlap_for_m(box, comb, place, lift * most_root_strain / worst.strain);
  findings.push_back(
      {.level = Level::warning,
       .where = "star_wheel.tooth_overlap",
       .what = fmt::format("a bare tooth for {}, the worst of all, lifted by {}, is strained by "
                           "{:.3g} % at its root; hardened steel stands about {:.3g} %",
                           tooth_words(box, worst), mm(lift), 100.0 * worst.strain,
                           100.0 * most_root_strain),
       .remedy = fmt::format("lift the teeth less: an overlap of {} would do", mm(overlap))});
}

// "comb.screw_hole", "comb 2.screw_hole".
std::string key_of_comb(std::size_t comb, const char* name) {
  return comb == 0 ? fmt::format("comb.{}", name) : fmt::format("comb {}.{}", comb + 1, name);
}

// A tooth swings as far up as it was lifted; the projections pass over it.
void doubt_room_under_disc(const Box& box, Findings& findings) {
  const double room = box.star_wheel.axis_below_disc_m - box.projection.height_m;
  for (const Comb& comb : box.combs) {
    const double clearance = comb.clearance_m;
    double lift = 0.0;
    for (std::size_t place = 0; place < box.scale.midi.size(); ++place)
      lift = std::max(lift, lift_m(box, comb, static_cast<int>(place)));
    if (lift + clearance <= room + same_length_m) continue;
    findings.push_back(
        {.level = Level::warning,
         .where = "star_wheel.axis_below_disc",
         .what = fmt::format("the teeth of {} swing up by {}; the projections pass {} "
                             "over them, which does not leave the clearance of {}",
                             comb_words(comb.name), mm(lift), mm(room), mm(clearance)),
         .remedy = "lift the teeth less, or make the projections lower"});
  }
}

// The disc's middle over the cabinet's, as the defaults of the cabinet have it; the line of the
// star wheels may lie along the cabinet or across it.
void doubt_cabinet(const Box& box, Findings& findings) {
  const double along = outer_radius_m(box) + 0.5 * box.tracks.pitch_m;
  const double half_length = 0.5 * box.cabinet.length_m + same_length_m;
  const double half_width = 0.5 * box.cabinet.width_m + same_length_m;
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    const Comb& comb = box.combs[i];
    const double across = comb_reach_m(box, comb);
    if ((along <= half_length && across <= half_width) ||
        (along <= half_width && across <= half_length))
      continue;
    findings.push_back(
        {.level = Level::warning,
         .where = key_of_comb(i, "longest_tooth"),
         .what = fmt::format("{} reaches {} from the spindle along the star wheels, and the "
                             "back of its plate is {} beside their line; a cabinet of {} by {} "
                             "inside has no room for that from its middle",
                             comb_words(comb.name), mm(along), mm(across), mm(box.cabinet.length_m),
                             mm(box.cabinet.width_m)),
         .remedy = "make the cabinet larger, or the longest tooth shorter"});
  }
}

void doubt_screws(const Box& box, Findings& findings) {
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    const Comb& comb = box.combs[i];
    if (comb.screws == 0 || 2.0 * comb.screw_hole_m <= comb.bar_depth_m + same_length_m) continue;
    findings.push_back(
        {.level = Level::warning,
         .where = key_of_comb(i, "screw_hole"),
         .what = fmt::format("screw holes of {} leave less than half of the {} of {} behind its "
                             "longest tooth",
                             mm(comb.screw_hole_m), mm(comb.bar_depth_m), comb_words(comb.name)),
         .remedy = "make comb.bar_depth at least twice the hole, or the screws thinner"});
  }
}

}  // namespace

double root_strain(const Box& box, const Comb& comb, double pitch_hz, double length_m,
                   double lift_m) {
  constexpr double first_root = 1.875104068711961;  // of 1 + cos cosh = 0
  const double wave_speed = std::sqrt(box.steel.modulus_pa / box.steel.density_kg_m3);
  const double unit = first_root * first_root / (two_pi * std::sqrt(12.0));
  const double thickness =
      std::min(pitch_hz * length_m * length_m / (unit * wave_speed), comb.plate_thickness_m);
  return 1.5 * thickness * lift_m / (length_m * length_m);
}

Findings find_comb_doubts(const Box& box) {
  Findings findings;
  doubt_strain(box, findings);
  doubt_room_under_disc(box, findings);
  doubt_cabinet(box, findings);
  doubt_screws(box, findings);
  return findings;
}

}  // namespace combwright::box
