// SPDX-License-Identifier: Apache-2.0
#include "arrange/pitch_class.h"

#include <cstddef>
#include <utility>

#include "arrange/rules.h"
#include "music/pitch.h"

namespace combwright::arrange {

std::vector<std::vector<int>> teeth_by_pitch_class(const Problem& problem) {
  std::vector<std::vector<int>> teeth(12);
  for (std::size_t k = 0; k < problem.teeth.size(); ++k)
    teeth[static_cast<std::size_t>(music::pitch_class(problem.teeth[k].midi))].push_back(
        static_cast<int>(k));
  return teeth;
}

std::vector<PitchClass> pitch_classes(const Problem& problem) {
  std::vector<PitchClass> classes;
  for (std::vector<int>& teeth : teeth_by_pitch_class(problem)) {
    PitchClass c{
        .teeth = std::move(teeth), .earliest_s = problem.earliest_s, .latest_s = problem.latest_s};
    for (const int k : c.teeth)
      c.interval_s.push_back(problem.teeth[static_cast<std::size_t>(k)].interval_s);
    classes.push_back(std::move(c));
  }
  for (std::size_t i = 0; i < problem.demands.size(); ++i) {
    const Demand& demand = problem.demands[i];
    PitchClass& c = classes[static_cast<std::size_t>(music::pitch_class(demand.midi))];
    ClassNote note{.demand = static_cast<int>(i),
                   .onset_s = demand.onset_s,
                   .first_use = static_cast<std::uint32_t>(c.uses.size())};
    for (std::size_t k = 0; k < c.teeth.size(); ++k) {
      const int midi = problem.teeth[static_cast<std::size_t>(c.teeth[k])].midi;
      const double gain = earned_at_onset(demand, midi);
      const bool own_pitch = midi == demand.midi;
      if (gain > 0.0) {
        c.uses.push_back({.tooth = static_cast<int>(k),
                          .own_pitch = own_pitch,
                          .at_onset = gain,
                          .moved = own_pitch ? earned_moved(demand) : 0.0});
      }
    }
    note.end_use = static_cast<std::uint32_t>(c.uses.size());
    c.notes.push_back(note);
  }
  return classes;
}

}  // namespace combwright::arrange
