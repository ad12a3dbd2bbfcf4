// SPDX-License-Identifier: Apache-2.0
// scale_problem < TASKS > CHOICES
// Reads an array of tasks as JSON (tunes: notes with onset_s, midi, weight, melody; interval_s by
// place; lowest, highest; transpositions; present) and prints for each the scale that we choose,
// what its tunes are worth on it, and the bounds.
#include <algorithm>
#include <iostream>

#include <nlohmann/json.hpp>

#include "arrange/scale_bound.h"
#include "arrange/scale_search.h"

namespace {

using namespace combwright::arrange;
using nlohmann::json;

std::vector<ScoreNote> notes_from(const json& tune) {
  std::vector<ScoreNote> notes;
  for (const json& note : tune)
    notes.push_back({.onset_s = note.at("onset_s"),
                     .midi = note.at("midi"),
                     .role = note.at("melody") ? Role::melody : Role::inner,
                     .weight = note.at("weight")});
  return notes;
}

json answer(const json& asked) {
  ScaleTask task{.interval_s = asked.at("interval_s"),
                 .lowest_midi = asked.at("lowest"),
                 .highest_midi = asked.at("highest"),
                 .transpositions = asked.at("transpositions")};
  for (const json& tune : asked.at("tunes")) task.tunes.emplace_back(notes_from(tune), 1.0);
  const ScaleChoice choice = choose_scale(task, asked.at("present"), 1);
  const TeethByPitch teeth = teeth_by_pitch(choice.midi, task.interval_s);
  double worth = 0.0;
  for (std::size_t j = 0; j < task.tunes.size(); ++j) {
    double best = 0.0;
    for (const int t : task.transpositions) best = std::max(best, task.tunes[j].of_all(t, teeth));
    worth += best / static_cast<double>(task.tunes.size());
  }
  const ScaleBounds bounds = scale_bounds(task, choice.transpositions, worth, 200, 1);
  return {{"midi", choice.midi},
          {"transpositions", choice.transpositions},
          {"worth", worth},
          {"any_keys", bounds.any_keys},
          {"in_keys", bounds.in_keys}};
}

}  // namespace

int main() {
  try {
    json answers = json::array();
    for (const json& task : json::parse(std::cin)) answers.push_back(answer(task));
    std::cout << answers << '\n';
  } catch (const json::exception& error) {
    std::cerr << error.what() << '\n';
    return 2;
  }
  return 0;
}
