// SPDX-License-Identifier: Apache-2.0
#include "app/arrangement_text.h"

#include <algorithm>
#include <initializer_list>
#include <utility>

#include <fmt/format.h>

#include "app/report.h"
#include "base/quantity.h"
#include "draw/words.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

std::ptrdiff_t count_of(const arrange::Arrangement& arrangement, arrange::Fate fate) {
  return std::count_if(arrangement.notes.begin(), arrangement.notes.end(),
                       [&](const arrange::ArrangedNote& note) { return note.fate == fate; });
}

}  // namespace

std::string summary(const arrange::Arrangement& arrangement) {
  const auto count = [&](arrange::Fate fate) { return count_of(arrangement, fate); };
  return facts({
      {"Tune", arrangement.title},
      {"Box", arrangement.box_name},
      {"Bars", fmt::format("{} to {}", arrangement.first_bar, arrangement.last_bar)},
      {"Transposition", draw::transposition_words(arrangement.transpose_semitones)},
      {"Tempo", draw::tempo_words(arrangement.tempo_factor)},
      {"Turn", to_text(arrangement.turn_time_s, Dimension::time)},
      {"Notes", fmt::format("{} kept, {} moved, {} an octave or two away, {} left out",
                            count(arrange::Fate::kept), count(arrange::Fate::moved),
                            count(arrange::Fate::octave), count(arrange::Fate::dropped))},
      {"Plucks", fmt::format("{}", arrangement.plucks.size())},
      {"Fidelity", fmt::format("{} (most possible {})", percent(arrangement.fidelity),
                               percent(arrangement.fidelity_bound))},
  });
}

std::string changed_notes(const arrange::Arrangement& arrangement) {
  Table rows({"Bar", "Beat", "Written", "Role", "Why"});
  bool any = false;
  for (const auto& [fate, words] : std::initializer_list<std::pair<arrange::Fate, const char*>>{
           {arrange::Fate::dropped, "Left out"},
           {arrange::Fate::octave, "An octave or two away"},
           {arrange::Fate::moved, "Moved"}}) {
    const auto count = count_of(arrangement, fate);
    if (count == 0) continue;
    any = true;
    rows.begin_group(fmt::format("{}: {}", words, count));
    for (const arrange::ArrangedNote& note : arrangement.notes) {
      if (note.fate != fate) continue;
      rows.add({fmt::format("{}", note.bar), fmt::format("{:.2f}", note.beat),
                music::note_name(note.midi), std::string(to_text(note.role)), note.why});
    }
  }
  return any ? fmt::format("\n{}", rows.text()) : std::string();
}

}  // namespace combwright::app
