// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <tuple>

#include "music/tune.h"

namespace combwright::music {

inline bool is_sound(const Note& note, const Tune& tune) {
  const bool finite = std::isfinite(note.onset_s) && std::isfinite(note.duration_s) &&
                      std::isfinite(note.onset_quarter) && std::isfinite(note.duration_quarter);
  return finite && note.onset_s >= 0.0 && note.duration_s >= 0.0 && note.onset_quarter >= 0.0 &&
         note.duration_quarter >= 0.0 && note.midi >= 0 && note.midi <= 127 &&
         note.loudness > 0.0 && note.loudness <= 1.0 && note.part >= 0 &&
         note.part < std::ssize(tune.parts) && note.onset_s + note.duration_s <= tune.length_s;
}

inline bool bars_meet(const Bar& bar, const Bar& next) {
  const double slack = 1e-12 * next.start_quarter;
  return bar.length_quarter > 0.0 && next.start_s >= bar.start_s &&
         std::abs(bar.start_quarter + bar.length_quarter - next.start_quarter) <= slack;
}

inline bool bars_cover(const Tune& tune) {
  if (tune.bars.empty()) return tune.notes.empty();
  if (tune.bars.front().start_quarter != 0.0) return false;
  for (std::size_t i = 1; i < tune.bars.size(); ++i)
    if (!bars_meet(tune.bars[i - 1], tune.bars[i])) return false;
  const Bar& last = tune.bars.back();
  const double end = (last.start_quarter + last.length_quarter) * (1.0 + 1e-9);
  return std::ranges::all_of(tune.notes, [end](const Note& note) {
    return note.onset_quarter < end && note.onset_quarter + note.duration_quarter <= end;
  });
}

inline bool tempos_rise(const Tune& tune) {
  if (tune.tempos.empty() || tune.tempos.front().start_s != 0.0) return false;
  return std::ranges::is_sorted(tune.tempos, {}, &Tempo::start_quarter) &&
         std::ranges::is_sorted(tune.tempos, {}, &Tempo::start_s) &&
         std::ranges::all_of(tune.tempos, [](const Tempo& tempo) {
           return std::isfinite(tempo.start_s) && tempo.quarters_per_minute > 0.0 &&
                  std::isfinite(tempo.quarters_per_minute);
         });
}

// The promise of tune.h that this tune breaks; empty if it keeps them all.
inline std::string broken_promise(const Tune& tune) {
  if (tune.notes.size() > max_notes) return "too many notes";
  if (tune.bars.size() > max_bars) return "too many bars";
  const auto order = [](const Note& note) {
    return std::tuple(note.onset_s, note.midi, note.part);
  };
  if (!std::ranges::is_sorted(tune.notes, {}, order)) return "notes out of order";
  if (!std::ranges::all_of(tune.notes, [&](const Note& note) { return is_sound(note, tune); }))
    return "a note is out of bounds";
  if (!bars_cover(tune)) return "bars do not cover the notes";
  if (!tempos_rise(tune)) return "tempos are out of order or bounds";
  return {};
}

}  // namespace combwright::music
