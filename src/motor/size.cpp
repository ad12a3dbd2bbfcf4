// SPDX-License-Identifier: Apache-2.0
#include "motor/size.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <future>
#include <optional>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/angle.h"
#include "motor/size_search.h"

namespace combwright::motor {
namespace {

struct LimitWords {
  std::string_view what;
  std::string_view remedy;
};

LimitWords words_of(Limit limit) {
  switch (limit) {
    case Limit::turns:
      return {"turns: a smaller spring has too few of them with torque",
              "give the barrel more room, wish for fewer plays, or get a longer strip"};
    case Limit::wheels:
      return {"wheels: with a smaller spring they break, and no greater module is at hand",
              "get cutters of a greater module (gears.modules in the shop file)"};
    case Limit::torque:
      return {"torque: a smaller spring does not turn the disc to the end of the wind",
              "give the barrel more room, or get wider strip"};
    case Limit::life:
      return {"life: a smaller spring breaks too soon",
              "wish for fewer plays, or get thinner strip"};
    case Limit::chord:
      return {"chord: with a smaller spring the hardest one stalls at the end of the wind",
              "give the barrel more room, get wider strip, or write fewer notes at once"};
    case Limit::governor:
    case Limit::tempo:
      break;
  }
  return {"tempo: with a smaller spring the governor can't hold it over the wind",
          "let more tempo drop pass, or wish for fewer plays"};
}

// Sets a box's governor until the turns of a wind take the time wished for on their mean. Chords
// slow the disc, so that it must hold a speed somewhat above the mean: the secant of the turn time
// over that speed needs two or three runs. The limit that stands against it, or nothing.
std::optional<Limit> set_by_runs(box::Box& box, Machine machine, double turn_time_s,
                                 const Watch& watch) {
  constexpr double close = 5e-4;
  constexpr int most_runs = 5;
  double speed = two_pi * machine.governor_per_disc / turn_time_s;
  const double torque = brake_n_m(machine.governor, speed);
  double last_speed = 0.0;
  double last_off = 0.0;
  for (int i = 0; i < most_runs; ++i) {
    watch.check();
    const Wind wind = run(machine, settle_rad(box));
    if (wind.stalls || wind.turns.empty()) return Limit::chord;
    const double off = wind.mean_turn_s() / turn_time_s - 1.0;
    if (std::abs(off) < close) return std::nullopt;
    const double next =
        i == 0 ? speed * (1.0 + off) : speed - off * (speed - last_speed) / (off - last_off);
    const Setting set = set_to(box.governor, next, torque);
    if (set.hold != Hold::holds) return Limit::tempo;
    last_speed = std::exchange(speed, next);
    last_off = off;
    box.governor = set.governor;
    machine.governor = governor_law(set.governor);
  }
  return std::nullopt;
}

// Sets the design's governor and runs it over a wind. The limit that it breaks, or nothing if it
// keeps the wishes.
std::optional<Limit> verify(SizedMotor& design, const std::vector<PluckLoad>& plucks,
                            const Wishes& wishes, const Watch& watch) {
  watch.check();
  const Machine first = machine(design.box, load(design.box, plucks));
  if (const auto limit = set_by_runs(design.box, first, wishes.turn_time_s, watch)) return limit;
  Machine heavy = machine(design.box, heavier(first.load, least_margin));
  if (!ends_its_last_turn(std::move(heavy))) return Limit::chord;
  design.prediction = predict(design.box, plucks, wishes.turn_time_s);
  const Prediction& p = design.prediction;
  if (p.run.stalls || p.plays < wishes.plays || p.margin.value_or(0.0) < least_margin)
    return Limit::chord;
  const double off = std::abs(p.mean_turn_s / wishes.turn_time_s - 1.0);
  if (off > wishes.tempo_drop || p.tempo_drop > wishes.tempo_drop) return Limit::tempo;
  return std::nullopt;
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
      {"greatest margin", [](const SizedMotor& d) { return -d.prediction.margin.value_or(0.0); }},
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

// What stood against a lighter spring, or against any: of the limits that refused one the last,
// since that spring got furthest.
Limit binding(const std::vector<Refusal>& refused, std::optional<double> lightest_kg) {
  Limit limit = Limit::turns;
  for (const Refusal& refusal : refused)
    if (!lightest_kg || refusal.strip_mass_kg < *lightest_kg)
      limit = std::max(limit, refusal.limit);
  return limit;
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
                  const Wishes& wishes, const Watch& watch) {
  watch.say("trying motors");
  Sizing sizing{.wishes = wishes};
  Trial trial = search(box, shop, plucks, wishes, watch);
  sizing.tried = trial.tried;
  constexpr std::size_t most_designs = 10;
  std::vector<SizedMotor> tried;
  for (Candidate& candidate : spread(std::move(trial.good), most_designs))
    tried.push_back({.box = std::move(candidate.box), .strip_mass_kg = candidate.strip_mass_kg});
  watch.say(fmt::format("running {} motors over a wind", tried.size()));
  std::vector<std::future<std::optional<Limit>>> limits;
  limits.reserve(tried.size());
  for (SizedMotor& design : tried)
    limits.push_back(std::async(std::launch::async, verify, std::ref(design), std::cref(plucks),
                                std::cref(wishes), std::cref(watch)));
  std::vector<SizedMotor> designs;
  for (std::size_t i = 0; i < tried.size(); ++i) {
    if (const auto limit = limits[i].get())
      trial.refused.push_back({*limit, tried[i].strip_mass_kg});
    else
      designs.push_back(std::move(tried[i]));
  }
  sizing.designs = trade_offs(std::move(designs));
  const LimitWords limit = words_of(binding(
      trial.refused,
      sizing.designs.empty() ? std::nullopt : std::optional(sizing.designs.front().strip_mass_kg)));
  sizing.binding = limit.what;
  if (sizing.designs.empty()) {
    sizing.findings.push_back(
        {Level::fault, "motor",
         fmt::format("none of {} motors plays {} times in tempo", sizing.tried, wishes.plays),
         std::string(limit.remedy)});
  }
  return sizing;
}

}  // namespace combwright::motor
