// SPDX-License-Identifier: Apache-2.0
#include "app/tune_json.h"

#include <algorithm>
#include <cstddef>
#include <limits>

#include "disc/plan_json.h"

namespace combwright::app {
namespace {

Json parts_json(const music::Tune& tune) {
  Json parts = Json::array();
  for (std::size_t i = 0; i < tune.parts.size(); ++i) {
    int notes = 0;
    int lowest = std::numeric_limits<int>::max();
    int highest = std::numeric_limits<int>::min();
    for (const music::Note& note : tune.notes) {
      if (note.part != static_cast<int>(i)) continue;
      ++notes;
      lowest = std::min(lowest, note.midi);
      highest = std::max(highest, note.midi);
    }
    parts.push_back({{"name", tune.parts[i].name},
                     {"notes", notes},
                     {"lowest_midi", notes > 0 ? Json(lowest) : Json(nullptr)},
                     {"highest_midi", notes > 0 ? Json(highest) : Json(nullptr)}});
  }
  return parts;
}

Json meters_json(const music::Tune& tune) {
  Json meters = Json::array();
  for (std::size_t i = 0; i < tune.bars.size(); ++i) {
    const music::Bar& bar = tune.bars[i];
    if (i > 0 && bar.beats == tune.bars[i - 1].beats && bar.beat_unit == tune.bars[i - 1].beat_unit)
      continue;
    meters.push_back({{"bar", i + 1}, {"beats", bar.beats}, {"beat_unit", bar.beat_unit}});
  }
  return meters;
}

}  // namespace

Json to_json(const music::Tune& tune) {
  Json tempos = Json::array();
  for (const music::Tempo& tempo : tune.tempos)
    tempos.push_back(
        {{"start_s", tempo.start_s}, {"quarters_per_minute", tempo.quarters_per_minute}});
  return {{"title", tune.title},
          {"composer", tune.composer},
          {"length_s", tune.length_s},
          {"parts", parts_json(tune)},
          {"bars", tune.bars.size()},
          {"tempos", std::move(tempos)},
          {"meters", meters_json(tune)},
          {"percussion_notes", tune.percussion_notes},
          {"findings", disc::to_json(tune.findings)}};
}

}  // namespace combwright::app
