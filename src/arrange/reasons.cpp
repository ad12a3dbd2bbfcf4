// SPDX-License-Identifier: Apache-2.0
#include "arrange/reasons.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <limits>

#include <fmt/format.h>

#include "arrange/rules.h"
#include "base/quantity.h"
#include "music/pitch.h"

namespace combwright::arrange {
namespace {

struct Stroke {
  double time_s;
  std::size_t demand;
};

class Explainer {
 public:
  Explainer(const Problem& problem, const std::vector<Choice>& choices, int transpose_semitones)
      : problem_(problem),
        choices_(choices),
        transpose_semitones_(transpose_semitones),
        plucks_(problem.teeth.size()) {
    for (std::size_t i = 0; i < choices.size(); ++i) {
      if (choices[i].tooth < 0) continue;
      plucks_[static_cast<std::size_t>(choices[i].tooth)].push_back({choices[i].time_s, i});
      all_.push_back(choices[i].time_s);
    }
    std::sort(all_.begin(), all_.end());
  }

  std::string why(std::size_t i) const {
    const Demand& demand = problem_.demands[i];
    const Choice& choice = choices_[i];
    switch (choice.fate) {
      case Fate::kept:
        return "";
      case Fate::moved:
        return fmt::format("{}; moved {} {}", obstacle(i, choice.tooth),
                           interval_text(std::abs(choice.time_s - demand.onset_s)),
                           choice.time_s > demand.onset_s ? "later" : "earlier");
      case Fate::octave:
        return fmt::format(
            "{}; played as {}", obstacle(i, -1),
            music::note_name(problem_.teeth[static_cast<std::size_t>(choice.tooth)].midi));
      case Fate::dropped:
        return obstacle(i, -1) + (has_octave(demand) && !motor_is_busy(demand.onset_s)
                                      ? "; its octaves serve other notes"
                                      : "");
    }
    return "";
  }

  std::string what_hinders(std::size_t i) const {
    const Demand& demand = problem_.demands[i];
    if (demand.hold == Hold::kept) return obstacle(i, -1);
    const std::string octaves = "no tooth an octave or two from " + name_of(demand.midi);
    if (!has_octave(demand)) return as_written(demand, octaves);
    if (motor_is_busy(demand.onset_s)) return motor_words();
    return as_written(demand, octaves + " is free then");
  }

 private:
  static std::string name_of(int midi) {
    return midi >= 0 && midi <= 127 ? music::note_name(midi) : fmt::format("note {}", midi);
  }

  bool has_octave(const Demand& demand) const {
    return std::any_of(problem_.teeth.begin(), problem_.teeth.end(),
                       [&](const Tooth& tooth) { return is_octave(demand, tooth.midi); });
  }

  // What keeps the demand from a tooth of its own pitch (or from the one given).
  std::string obstacle(std::size_t i, int tooth) const {
    const Demand& demand = problem_.demands[i];
    const std::string name = name_of(demand.midi);
    std::string best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < problem_.teeth.size(); ++k) {
      if (problem_.teeth[k].midi != demand.midi) continue;
      if (tooth >= 0 && static_cast<std::size_t>(tooth) != k) continue;
      const double gap = nearest_gap_s(k, i);
      const double lack = problem_.teeth[k].interval_s - gap;
      if (lack < least) {
        least = lack;
        best = lack > 0.0
                   ? fmt::format("{} on track {} is plucked {:.2f} s away and needs {:.2f} s", name,
                                 k + 1, gap, problem_.teeth[k].interval_s)
                   : crowded(demand, name, k);
      }
    }
    if (best.empty()) best = fmt::format("no tooth for {}", name);
    return as_written(demand, best);
  }

  std::string as_written(const Demand& demand, const std::string& words) const {
    if (transpose_semitones_ == 0) return words;
    return fmt::format("{} (written {})", words, name_of(demand.midi - transpose_semitones_));
  }

  // Whether some window around the moment already has all the plucks that the motor takes.
  bool motor_is_busy(double time_s) const {
    const double window = problem_.pluck_window_s + same_time_s;
    const auto most = static_cast<std::ptrdiff_t>(problem_.most_plucks);
    for (auto first = std::lower_bound(all_.begin(), all_.end(), time_s - window);
         all_.end() - first >= most && *first <= time_s + window; ++first) {
      const double last_s = *(first + most - 1);
      if (std::max(last_s, time_s) - std::min(*first, time_s) <= window) return true;
    }
    return false;
  }

  std::string motor_words() const {
    return fmt::format("the motor takes {} pluck{} in {}", problem_.most_plucks,
                       problem_.most_plucks == 1 ? "" : "s",
                       interval_text(problem_.pluck_window_s));
  }

  std::string crowded(const Demand& demand, const std::string& name, std::size_t k) const {
    if (motor_is_busy(demand.onset_s)) return motor_words();
    if (!problem_.neighbours.empty())
      return fmt::format("too little sheet beside track {} for {}", k + 1, name);
    return fmt::format("the teeth of {} serve other notes", name);
  }

  // Distance in time from the demand to the nearest pluck of tooth k that is not its own.
  double nearest_gap_s(std::size_t k, std::size_t i) const {
    double gap = std::numeric_limits<double>::infinity();
    for (const Stroke& stroke : plucks_[k])
      if (stroke.demand != i)
        gap = std::min(gap, std::abs(stroke.time_s - problem_.demands[i].onset_s));
    return gap;
  }

  const Problem& problem_;
  const std::vector<Choice>& choices_;
  const int transpose_semitones_;
  std::vector<std::vector<Stroke>> plucks_;  // by tooth
  std::vector<double> all_;
};

}  // namespace

std::vector<std::string> reasons(const Problem& problem, const std::vector<Choice>& choices,
                                 int transpose_semitones) {
  const Explainer explainer(problem, choices, transpose_semitones);
  std::vector<std::string> result(choices.size());
  for (std::size_t i = 0; i < choices.size(); ++i) result[i] = explainer.why(i);
  return result;
}

std::string what_hinders(std::size_t demand, const Problem& problem,
                         const std::vector<Choice>& choices, int transpose_semitones) {
  assert(problem.demands[demand].hold != Hold::none);
  return Explainer(problem, choices, transpose_semitones).what_hinders(demand);
}

}  // namespace combwright::arrange
