// SPDX-License-Identifier: Apache-2.0
#include "motor/size_search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "base/angle.h"
#include "box/barrel_turns.h"
#include "motor/findings.h"
#include "steel/metal.h"

namespace combwright::motor {
namespace {

using std::numbers::pi;

double strip_mass_kg(const box::Spring& spring) {
  return steel::spring_steel.density_kg_m3 * spring.strip_width_m * spring.strip_thickness_m *
         spring.strip_length_m;
}

// Wheels and pinions for a ratio: as few pairs as the largest wheel allows, alike in ratio, the
// pinions with as many leaves as that leaves room for.
box::Train geared(box::Train train, double ratio, const box::GearStock& gears) {
  const auto least = std::min_element(gears.pinion_teeth.begin(), gears.pinion_teeth.end());
  const double greatest = static_cast<double>(gears.most_teeth) / *least;
  int pairs = 1;
  while (pairs < 6 && std::pow(greatest, pairs) < ratio) ++pairs;
  train.wheel_teeth.clear();
  train.pinion_teeth.clear();
  double left = ratio;
  for (int pair = pairs; pair > 0; --pair) {
    const double step = std::pow(left, 1.0 / pair);
    int pinion = *least;
    for (const int teeth : gears.pinion_teeth)
      if (teeth > pinion && std::lround(teeth * step) <= gears.most_teeth) pinion = teeth;
    const int wheel = std::clamp(static_cast<int>(std::lround(pinion * step)), 12,
                                 std::max(12, gears.most_teeth));
    train.wheel_teeth.push_back(wheel);
    train.pinion_teeth.push_back(pinion);
    left *= static_cast<double>(pinion) / wheel;
  }
  return train;
}

bool strong(const std::vector<Mesh>& all) {
  return std::all_of(all.begin(), all.end(), [](const Mesh& mesh) {
    return mesh.bending_pa <= brass_bending_pa && mesh.contact_pa <= brass_contact_pa;
  });
}

// The smallest module at hand that bears the torque; nothing if none does.
std::optional<box::Train> with_module(box::Train train, double torque_n_m,
                                      std::vector<double> modules) {
  std::sort(modules.begin(), modules.end());
  for (const double module : modules) {
    train.module_m = module;
    train.face_width_m = 6.0 * module;
    if (strong(meshes(train, torque_n_m))) return train;
  }
  return std::nullopt;
}

// The torque left at the governor when the spring is full, at its last, and half-way.
struct Driving {
  double full_n_m;
  double last_n_m;

  double half_n_m() const { return 0.5 * (full_n_m + last_n_m); }
};

// A search for one set of wishes.
class Search {
 public:
  Search(const box::Box& box, const box::Shop& shop, const std::vector<PluckLoad>& plucks,
         const Wishes& wishes, const Watch& watch)
      : box_(box),
        shop_(shop),
        wishes_(wishes),
        watch_(watch),
        load_(load(box, plucks)),
        heavy_(heavier(load_, least_margin)),
        governor_rad_s_(two_pi * train_ratio(box.train) * box.spring.turns_per_disc_turn /
                        box.motor.turn_time_s) {}

  Trial all() {
    std::vector<box::StripStock> strips = shop_.strips;
    if (strips.empty())
      strips.push_back({box_.spring.strip_width_m, box_.spring.strip_thickness_m,
                        2.0 * box_.spring.strip_length_m});
    for (const box::StripStock& strip : strips)
      for (const double thicknesses : {least_arbor_thicknesses, 15.0, 25.0})
        try_arbor(strip, thicknesses * strip.thickness_m);
    return std::move(trial_);
  }

 private:
  void try_arbor(const box::StripStock& strip, double arbor_m) {
    bool wider_plays = false;
    for (const double share : {1.0, 0.8, 0.6}) {
      const bool plays = try_barrel(strip, share * wishes_.barrel_radius_m, arbor_m);
      // Where a barrel plays and the next smaller one doesn't, one between them may.
      if (wider_plays && !plays)
        try_barrel(strip, (share + 0.1) * wishes_.barrel_radius_m, arbor_m);
      wider_plays = plays;
    }
  }

  // Whether a motor of this barrel is good.
  bool try_barrel(const box::StripStock& strip, double barrel_m, double arbor_m) {
    // Barrels of a third in the core and less wind evenly.
    if (arbor_m > 0.45 * barrel_m) return false;
    box::Spring spring = box_.spring;
    spring.strip_width_m = strip.width_m;
    spring.strip_thickness_m = strip.thickness_m;
    spring.barrel_radius_m = barrel_m;
    spring.arbor_radius_m = arbor_m;
    const double best = pi * (barrel_m * barrel_m - arbor_m * arbor_m) / (2.0 * strip.thickness_m);
    // To the centimetre, as strip is cut.
    spring.strip_length_m = std::floor(100.0 * std::min(best, strip.longest_m)) / 100.0;
    if (spring.strip_length_m <= 0.0) return false;
    const SpringCurve curve = spring_curve(spring);
    ++trial_.tried;
    constexpr std::array<double, 18> gearings{0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7,
                                              0.8, 0.9,  1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0};
    Limit furthest = Limit::turns;
    for (const double gearing : gearings) {
      spring.turns_per_disc_turn = gearing;
      spring.turns_used = gearing * wishes_.plays;
      if (spring.turns_used > 0.85 * curve.usable_turns()) break;
      spring.turns_left_full = std::min(box::default_turns_left_full(spring),
                                        0.5 * (curve.usable_turns() - spring.turns_used));
      const std::optional<Limit> limit = try_gearing(spring, curve);
      if (!limit) return true;
      furthest = std::max(furthest, *limit);
    }
    trial_.refused.push_back({furthest, strip_mass_kg(spring)});
    return false;
  }

  // The limit that stands against this motor; nothing if it is good.
  std::optional<Limit> try_gearing(const box::Spring& spring, const SpringCurve& curve) {
    watch_.check();
    Candidate candidate{box_, strip_mass_kg(spring)};
    box::Box& made = candidate.box;
    made.spring = spring;
    made.motor.turn_time_s = wishes_.turn_time_s;
    made.motor.tempo_drop = wishes_.tempo_drop;
    const double full_turns = curve.full_turns() - spring.turns_left_full;
    const double full = torque_n_m(curve, full_turns);
    const double last = torque_n_m(curve, full_turns - spring.turns_used);
    const double ratio =
        governor_rad_s_ * wishes_.turn_time_s / (two_pi * spring.turns_per_disc_turn);
    const auto train =
        with_module(geared(made.train, ratio, shop_.gears), full, shop_.gears.module_m);
    if (!train) return Limit::wheels;
    made.train = *train;
    if (!room_for_wheels(made).empty()) return Limit::wheels;
    Machine whole = machine(made, curve, load_);
    const Driving driving{governor_torque_n_m(whole, full), governor_torque_n_m(whole, last)};
    if (!(driving.last_n_m > 0.0)) return Limit::torque;
    if (spring_life(spring, full, last).winds < least_winds) return Limit::life;
    const double speed = two_pi * whole.governor_per_disc / wishes_.turn_time_s;
    const auto governor = find_governor(made.governor, speed, driving);
    if (!governor) return Limit::governor;
    made.governor = *governor;
    whole.governor = governor_law(made.governor);
    whole.load = heavy_;
    if (!ends_its_last_turn(std::move(whole))) return Limit::chord;
    trial_.good.push_back(std::move(candidate));
    return std::nullopt;
  }

  // The simplest governor that holds: vanes, then weights of rising mass.
  std::optional<box::Governor> find_governor(box::Governor governor, double speed_rad_s,
                                             const Driving& driving) const {
    governor.kind = box::GovernorKind::vane;
    if (const auto set = held(governor, speed_rad_s, driving)) return set;
    governor.kind = box::GovernorKind::friction;
    for (const double heavier : {0.7, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0}) {
      governor.weight_mass_kg = heavier * box_.governor.weight_mass_kg;
      if (const auto set = held(governor, speed_rad_s, driving)) return set;
    }
    return std::nullopt;
  }

  // The governor set for the torque half-way; nothing if it can't be, or leaves the tempo too much
  // way from full to last.
  std::optional<box::Governor> held(const box::Governor& governor, double speed_rad_s,
                                    const Driving& driving) const {
    const Setting set = set_to(governor, speed_rad_s, driving.half_n_m());
    if (set.hold != Hold::holds) return std::nullopt;
    const GovernorLaw law = governor_law(set.governor);
    const double slow_to_fast =
        (driving.last_n_m + law.offset_n_m) / (driving.full_n_m + law.offset_n_m);
    if (1.0 - std::sqrt(slow_to_fast) > 0.9 * wishes_.tempo_drop) return std::nullopt;
    return set.governor;
  }

  const box::Box& box_;
  const box::Shop& shop_;
  const Wishes& wishes_;
  const Watch& watch_;
  Load load_;
  Load heavy_;
  double governor_rad_s_;
  Trial trial_;
};

}  // namespace

Trial search(const box::Box& box, const box::Shop& shop, const std::vector<PluckLoad>& plucks,
             const Wishes& wishes, const Watch& watch) {
  return Search(box, shop, plucks, wishes, watch).all();
}

}  // namespace combwright::motor
