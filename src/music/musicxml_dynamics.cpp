// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_dynamics.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "music/musicxml_text.h"

namespace combwright::music::musicxml {
namespace {

constexpr double mark_step = 16.0 / 127.0;
constexpr double mark_reach_quarter = 1.0;

// Loudness from a moment on, by quarter note of the written score.
using Levels = std::multimap<double, double>;

struct Point {
  double quarter = 0.0;
  double loudness = 0.0;
};

// A straight line of loudness.
struct Ramp {
  Point from;
  Point to;
};

struct Curve {
  Levels levels;
  std::vector<Ramp> ramps;  // sorted, not overlapping
};

double quarter(const std::vector<WrittenBar>& bars, const Moment& moment) {
  return bars[moment.bar].start_quarter + moment.offset_quarter;
}

double level_at(const Levels& levels, double at_quarter) {
  const auto next = levels.upper_bound(at_quarter);
  return next == levels.begin() ? default_loudness : std::prev(next)->second;
}

// The mark a wedge leads to, or one step louder or softer than where it began.
double goal(const Levels& levels, bool louder, double from, double end_quarter) {
  const auto next = levels.lower_bound(end_quarter);
  if (next != levels.end() && next->first <= end_quarter + mark_reach_quarter) return next->second;
  return std::clamp(from + (louder ? mark_step : -mark_step), mark_step, 1.0);
}

Curve curve_of(const std::vector<WrittenBar>& bars, const Dynamics& dynamics) {
  Curve curve;
  for (const LoudnessMark& mark : dynamics.marks)
    curve.levels.emplace(quarter(bars, mark.at), mark.loudness);

  std::vector<Wedge> wedges = dynamics.wedges;
  std::stable_sort(wedges.begin(), wedges.end(), [&bars](const Wedge& a, const Wedge& b) {
    return quarter(bars, a.start) < quarter(bars, b.start);
  });
  for (const Wedge& wedge : wedges) {
    const double start = quarter(bars, wedge.start);
    const double end = quarter(bars, wedge.end);
    const double free = curve.ramps.empty() ? start : curve.ramps.back().to.quarter;
    if (end <= start || start < free) continue;
    const double from = level_at(curve.levels, start);
    const double to = goal(curve.levels, wedge.louder, from, end);
    curve.ramps.push_back({{start, from}, {end, to}});
    // Before the marks that stand at the same moment: they have the last word.
    curve.levels.emplace_hint(curve.levels.lower_bound(end), end, to);
  }
  return curve;
}

double loudness_at(const Curve& curve, double at_quarter) {
  const auto after =
      std::upper_bound(curve.ramps.begin(), curve.ramps.end(), at_quarter,
                       [](double value, const Ramp& ramp) { return value < ramp.from.quarter; });
  if (after != curve.ramps.begin()) {
    const auto& [from, to] = *std::prev(after);
    if (at_quarter < to.quarter)
      return std::lerp(from.loudness, to.loudness,
                       (at_quarter - from.quarter) / (to.quarter - from.quarter));
  }
  return level_at(curve.levels, at_quarter);
}

}  // namespace

std::optional<double> mark_loudness(std::string_view name) {
  constexpr std::array<std::pair<std::string_view, double>, 12> marks{{{"pppppp", 1},
                                                                       {"ppppp", 5},
                                                                       {"pppp", 10},
                                                                       {"ppp", 16},
                                                                       {"pp", 33},
                                                                       {"p", 49},
                                                                       {"mp", 64},
                                                                       {"mf", 80},
                                                                       {"f", 96},
                                                                       {"ff", 112},
                                                                       {"fff", 126},
                                                                       {"ffff", 127}}};
  const auto found = std::find_if(marks.begin(), marks.end(),
                                  [name](const auto& mark) { return mark.first == name; });
  if (found == marks.end()) return std::nullopt;
  return found->second / 127.0;
}

bool is_accent_mark(std::string_view name) {
  constexpr std::array<std::string_view, 10> marks{"sf",   "sfp", "sfpp", "sfz", "sffz",
                                                   "sfzp", "fz",  "rf",   "rfz", "fp"};
  return std::find(marks.begin(), marks.end(), name) != marks.end();
}

std::optional<double> percent_loudness(pugi::xml_attribute percent) {
  const std::optional<double> value = parse_number(percent.value());
  if (!value || *value < 0.0) return std::nullopt;
  return std::clamp(*value / 100.0 * 90.0 / 127.0, 0.0, 1.0);
}

void apply_dynamics(std::vector<WrittenBar>& bars, const std::vector<Dynamics>& dynamics) {
  std::vector<Curve> curves;
  curves.reserve(dynamics.size());
  for (const Dynamics& part : dynamics) curves.push_back(curve_of(bars, part));
  for (WrittenBar& bar : bars) {
    for (WrittenNote& note : bar.notes) {
      const Curve& curve = curves[static_cast<std::size_t>(note.part)];
      const double at_quarter = bar.start_quarter + note.offset_quarter;
      note.loudness = note.own_loudness.value_or(loudness_at(curve, at_quarter));
    }
  }
}

}  // namespace combwright::music::musicxml
