// SPDX-License-Identifier: Apache-2.0
#include "motor/size.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/quantity.h"
#include "box/barrel_turns.h"

namespace combwright::motor {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double turn_rad = 2.0 * pi;

// The limits in the order in which a motor is tried against them.
enum Limit : std::size_t { room, torque, wheels, tempo, life, limits };

constexpr std::array<std::string_view, limits> limit_words{
    "turns: a smaller spring has too few of them with torque",
    "torque: with a smaller spring the hardest chord stalls at the end of the wind",
    "wheels: a smaller module breaks, and no greater one is at hand",
    "tempo: with a smaller spring the governor can't hold it over the wind",
    "life: a smaller spring breaks too soon"};

constexpr std::array<std::string_view, limits> limit_remedies{
    "give the barrel more room (--barrel), wish for fewer plays, or get a longer strip",
    "give the barrel more room (--barrel), get wider strip, or write fewer notes at once",
    "get cutters of a greater module (gears.modules in the shop file)",
    "let more tempo drop pass (--tempo-drop), or wish for fewer plays",
    "wish for fewer plays, or get thinner strip"};

struct Candidate {
  box::Box box;
  double strip_mass_kg = 0.0;
};

struct Trial {
  std::vector<Candidate> good;
  // The motors refused, by the limit that refused them, with the mass of their strip.
  std::array<std::vector<double>, limits> refused;
  int tried = 0;
};

double strip_mass_kg(const box::Spring& spring) {
  return 7850.0 * spring.strip_width_m * spring.strip_thickness_m * spring.strip_length_m;
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

// A search for one set of wishes.
class Search {
 public:
  Search(const box::Box& box, const box::Shop& shop, const std::vector<PluckLoad>& plucks,
         const Wishes& wishes)
      : box_(box),
        shop_(shop),
        wishes_(wishes),
        load_(load(box, plucks)),
        heavy_(heavier(load_, least_margin)),
        governor_rad_s_(turn_rad * train_ratio(box.train) * box.spring.turns_per_disc_turn /
                        box.motor.turn_time_s) {}

  Trial all() {
    std::vector<box::StripStock> strips = shop_.strips;
    if (strips.empty())
      strips.push_back({box_.spring.strip_width_m, box_.spring.strip_thickness_m,
                        2.0 * box_.spring.strip_length_m});
    for (const box::StripStock& strip : strips) {
      for (const double share : {0.6, 0.8, 1.0}) {
        for (const double thicknesses : {10.0, 12.5, 25.0})
          try_barrel(strip, share * wishes_.barrel_radius_m, thicknesses * strip.thickness_m);
      }
    }
    return std::move(trial_);
  }

 private:
  void refuse(Limit limit, const box::Spring& spring) {
    trial_.refused[limit].push_back(strip_mass_kg(spring));
  }

  void try_barrel(const box::StripStock& strip, double barrel_m, double arbor_m) {
    // Barrels of a third in the core and less wind evenly.
    if (arbor_m > 0.45 * barrel_m) return;
    box::Spring spring = box_.spring;
    spring.strip_width_m = strip.width_m;
    spring.strip_thickness_m = strip.thickness_m;
    spring.barrel_radius_m = barrel_m;
    spring.arbor_radius_m = arbor_m;
    const double best = pi * (barrel_m * barrel_m - arbor_m * arbor_m) / (2.0 * strip.thickness_m);
    // To the centimetre, as strip is cut.
    spring.strip_length_m = std::floor(100.0 * std::min(best, strip.longest_m)) / 100.0;
    if (spring.strip_length_m <= 0.0) return;
    const SpringCurve curve = spring_curve(spring);
    ++trial_.tried;
    constexpr std::array<double, 18> gearings{0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7,
                                              0.8, 0.9,  1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0};
    std::optional<Limit> last;
    for (const double gearing : gearings) {
      spring.turns_per_disc_turn = gearing;
      spring.turns_used = gearing * wishes_.plays;
      if (spring.turns_used > 0.85 * curve.usable_turns()) break;
      spring.turns_left_full = std::min(box::default_turns_left_full(spring),
                                        0.5 * (curve.usable_turns() - spring.turns_used));
      last = try_gearing(spring, curve);
      if (!last) return;
    }
    refuse(last.value_or(room), spring);
  }

  // The limit that stands against this motor; nothing if it is good.
  std::optional<Limit> try_gearing(const box::Spring& spring, const SpringCurve& curve) {
    Candidate candidate{box_, strip_mass_kg(spring)};
    box::Box& made = candidate.box;
    made.spring = spring;
    made.motor.turn_time_s = wishes_.turn_time_s;
    made.motor.tempo_drop = wishes_.tempo_drop;
    Machine whole;
    whole.spring = curve;
    whole.full_turns = curve.full_turns() - spring.turns_left_full;
    whole.last_turns = whole.full_turns - spring.turns_used;
    whole.coil_friction = spring.coil_friction;
    whole.barrel_per_disc = spring.turns_per_disc_turn;
    const double full = torque_n_m(curve, whole.full_turns);
    const double end = torque_n_m(curve, whole.last_turns);

    const double ratio =
        governor_rad_s_ * wishes_.turn_time_s / (turn_rad * spring.turns_per_disc_turn);
    const auto train =
        with_module(geared(made.train, ratio, shop_.gears), full, shop_.gears.module_m);
    if (!train) return wheels;
    made.train = *train;
    whole.governor_per_disc = train_ratio(made.train) * spring.turns_per_disc_turn;
    whole.disc_efficiency = made.train.disc_mesh_efficiency;
    whole.disc_back = back_efficiency(made.train.disc_mesh_efficiency, false);
    whole.train_efficiency = train_efficiency(made.train);
    whole.train_back = train_back_efficiency(made.train);
    const double speed = turn_rad * whole.governor_per_disc / wishes_.turn_time_s;
    const auto at_governor = [&](double barrel_n_m) {
      const double driving = spring.turns_per_disc_turn * (1.0 - spring.coil_friction) * barrel_n_m;
      const double mean = load_.steady_n_m + (load_.pluck_j + load_.wheel_j) / turn_rad;
      return (driving - mean / whole.disc_efficiency) * whole.train_efficiency /
             whole.governor_per_disc;
    };
    if (!(at_governor(end) > 0.0)) return torque;
    const double middle = at_governor(0.5 * (full + end));
    const auto holds = [&](const box::Governor& governor) {
      const GovernorLaw law = governor_law(governor);
      const double fast = (at_governor(full) + law.offset_n_m) / law.square_n_m_s2;
      const double slow = (at_governor(end) + law.offset_n_m) / law.square_n_m_s2;
      const double set = brake_n_m(law, speed);
      return std::abs(set / middle - 1.0) < 1e-6 &&
             1.0 - std::sqrt(slow / fast) <= 0.9 * wishes_.tempo_drop;
    };
    if (!find_governor(made, speed, middle, holds)) return tempo;
    whole.governor = governor_law(made.governor);
    whole.load = heavy_;
    if (!ends_its_last_turn(whole)) return torque;
    if (spring_life(spring, full, end).winds < least_winds) return life;
    trial_.good.push_back(std::move(candidate));
    return std::nullopt;
  }

  // The simplest governor that holds: vanes, then weights of rising mass.
  template <class Holds>
  bool find_governor(box::Box& made, double speed, double torque_n_m, const Holds& holds) const {
    made.governor.kind = box::GovernorKind::vane;
    made.governor = set_to(made.governor, speed, torque_n_m);
    if (holds(made.governor)) return true;
    made.governor.kind = box::GovernorKind::friction;
    for (const double heavier : {0.7, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0}) {
      made.governor.weight_mass_kg = heavier * box_.governor.weight_mass_kg;
      made.governor = set_to(made.governor, speed, torque_n_m);
      if (holds(made.governor)) return true;
    }
    return false;
  }

  const box::Box& box_;
  const box::Shop& shop_;
  const Wishes& wishes_;
  Load load_;
  Load heavy_;
  double governor_rad_s_;
  Trial trial_;
};

// A design run over its wind, the governor set once more by the turn it gives; nothing if the run
// does not keep the wishes.
std::optional<SizedMotor> verified(const Candidate& candidate, const std::vector<PluckLoad>& plucks,
                                   const Wishes& wishes) {
  SizedMotor design{.box = candidate.box, .strip_mass_kg = candidate.strip_mass_kg};
  design.prediction = predict(design.box, plucks, wishes.turn_time_s);
  const auto kept = [&] {
    const Prediction& p = design.prediction;
    return p.plays >= wishes.plays && !p.run.stalls && p.tempo_drop <= wishes.tempo_drop;
  };
  if (!kept()) return std::nullopt;
  const double off = design.prediction.mean_turn_s / wishes.turn_time_s;
  if (std::abs(off - 1.0) > 0.002) {
    const double speed = design.prediction.governor_speed_rad_s();
    const GovernorLaw law = governor_law(design.box.governor);
    design.box.governor = set_to(design.box.governor, speed, brake_n_m(law, speed / off));
    design.prediction = predict(design.box, plucks, wishes.turn_time_s);
    if (!kept()) return std::nullopt;
  }
  return design;
}

// The best of the designs in each respect, the lightest strip first.
std::vector<SizedMotor> trade_offs(std::vector<SizedMotor> designs) {
  if (designs.empty()) return designs;
  using Key = double (*)(const SizedMotor&);
  const std::array<std::pair<std::string_view, Key>, 5> respects{
      std::pair<std::string_view, Key>{"lightest strip",
                                       [](const SizedMotor& d) { return d.strip_mass_kg; }},
      {"easiest to wind",
       [](const SizedMotor& d) { return d.prediction.winding.greatest_force_n; }},
      {"smallest barrel",
       [](const SizedMotor& d) {
         const double r = d.box.spring.barrel_radius_m;
         return r * r * d.box.spring.strip_width_m;
       }},
      {"greatest margin", [](const SizedMotor& d) { return -d.prediction.margin; }},
      {"steadiest tempo", [](const SizedMotor& d) { return d.prediction.tempo_drop; }}};
  std::vector<std::size_t> chosen;
  for (const auto& [words, key] : respects) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < designs.size(); ++i)
      if (key(designs[i]) < key(designs[best])) best = i;
    SizedMotor& design = designs[best];
    design.why += design.why.empty() ? std::string(words) : fmt::format(", {}", words);
    if (std::find(chosen.begin(), chosen.end(), best) == chosen.end()) chosen.push_back(best);
  }
  std::vector<SizedMotor> result;
  result.reserve(chosen.size());
  for (const std::size_t i : chosen) result.push_back(std::move(designs[i]));
  return result;
}

// What stood against a lighter spring, or against any: of the limits that refused motors the one
// that comes last, since those got furthest.
Limit binding(const Trial& trial, std::optional<double> lightest_kg) {
  for (std::size_t limit = limits; limit-- > 0;)
    for (const double mass : trial.refused[limit])
      if (!lightest_kg || mass < *lightest_kg) return static_cast<Limit>(limit);
  return room;
}

// Of many good candidates those worth a run: spread over the masses of their strips.
std::vector<Candidate> spread(std::vector<Candidate> good, std::size_t most) {
  std::stable_sort(good.begin(), good.end(), [](const Candidate& a, const Candidate& b) {
    return a.strip_mass_kg < b.strip_mass_kg;
  });
  if (good.size() <= most) return good;
  std::vector<Candidate> result;
  for (std::size_t i = 0; i < most; ++i)
    result.push_back(std::move(good[i * (good.size() - 1) / (most - 1)]));
  return result;
}

}  // namespace

Sizing size_motor(const box::Box& box, const box::Shop& shop, const std::vector<PluckLoad>& plucks,
                  const Wishes& wishes) {
  Sizing sizing{.wishes = wishes};
  Search search(box, shop, plucks, wishes);
  Trial trial = search.all();
  sizing.tried = trial.tried;
  constexpr std::size_t most_runs = 10;
  std::vector<SizedMotor> designs;
  for (const Candidate& candidate : spread(std::move(trial.good), most_runs))
    if (auto design = verified(candidate, plucks, wishes)) designs.push_back(std::move(*design));
  sizing.designs = trade_offs(std::move(designs));
  const Limit limit =
      binding(trial, sizing.designs.empty() ? std::nullopt
                                            : std::optional(sizing.designs.front().strip_mass_kg));
  sizing.binding = limit_words[limit];
  if (sizing.designs.empty()) {
    sizing.findings.push_back(
        {Level::fault, "motor",
         fmt::format("none of {} motors plays {} times in tempo", sizing.tried, wishes.plays),
         std::string(limit_remedies[limit])});
  }
  return sizing;
}

std::string box_lines(const box::Box& box) {
  const auto mm = [](double value) { return fmt::format("\"{:.4g} mm\"", value * 1e3); };
  std::string text = fmt::format(
      "[spring]\nstrip_width = {}\nstrip_thickness = {}\nstrip_length = \"{:.4g} m\"\n"
      "barrel_radius = {}\narbor_radius = {}\nturns_used = {:.4g}\nturns_left_full = {:.4g}\n"
      "turns_per_disc_turn = {:.4g}\n\n",
      mm(box.spring.strip_width_m), mm(box.spring.strip_thickness_m), box.spring.strip_length_m,
      mm(box.spring.barrel_radius_m), mm(box.spring.arbor_radius_m), box.spring.turns_used,
      box.spring.turns_left_full, box.spring.turns_per_disc_turn);
  text +=
      fmt::format("[train]\nwheels = [{}]\npinions = [{}]\nmodule = {}\nface_width = {}\n\n",
                  fmt::join(box.train.wheel_teeth, ", "), fmt::join(box.train.pinion_teeth, ", "),
                  mm(box.train.module_m), mm(box.train.face_width_m));
  if (box.governor.kind == box::GovernorKind::vane) {
    text += fmt::format("[governor]\nkind = \"vane\"\nvane_pitch = \"{:.4g} deg\"\n",
                        box.governor.vane_pitch_rad * 180.0 / pi);
  } else {
    text += fmt::format(
        "[governor]\nkind = \"friction\"\nweight_mass = \"{:.4g} g\"\nweight_preload = "
        "\"{:.4g} N\"\n",
        box.governor.weight_mass_kg * 1e3, box.governor.weight_preload_n);
  }
  return text;
}

}  // namespace combwright::motor
