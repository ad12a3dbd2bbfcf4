// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <string>
#include <tuple>

#include "music/tune.h"

namespace combwright::music::testing {

// What music/tune.h promises of every tune, or the first promise that is broken.
inline std::string broken_score(const Tune& tune) {
  constexpr double tolerance = 1e-6;
  if (tune.notes.size() > max_notes || tune.bars.size() > max_bars) return "too many";
  if (tune.tempos.empty() || tune.tempos.front().start_quarter != 0.0) return "no first tempo";
  for (const Tempo& tempo : tune.tempos)
    if (!(tempo.quarters_per_minute > 0.0) || !std::isfinite(tempo.start_s)) return "bad tempo";

  double end = 0.0;
  double end_s = 0.0;
  for (const Bar& bar : tune.bars) {
    if (!(bar.length_quarter > 0.0) || bar.beats < 1 || bar.beat_unit < 1) return "bad bar";
    if (!(std::abs(bar.start_quarter - end) <= tolerance)) return "a hole between bars";
    if (!(bar.start_s >= end_s)) return "bars out of order";
    end = bar.start_quarter + bar.length_quarter;
    end_s = bar.start_s;
  }

  const Note* last = nullptr;
  for (const Note& note : tune.notes) {
    if (!std::isfinite(note.onset_s) || !std::isfinite(note.duration_s)) return "not finite";
    if (note.duration_s < 0.0 || note.duration_quarter < 0.0) return "negative duration";
    if (note.midi < 0 || note.midi > 127) return "bad pitch";
    if (!(note.loudness >= 0.0 && note.loudness <= 1.0)) return "bad loudness";
    if (note.part < 0 || static_cast<std::size_t>(note.part) >= tune.parts.size())
      return "bad part";
    if (note.onset_quarter < 0.0 || note.onset_quarter + note.duration_quarter > end + tolerance)
      return "a note outside the bars";
    if (note.onset_s + note.duration_s > tune.length_s + tolerance) return "tune too short";
    if (last && std::tie(note.onset_s, note.midi, note.part) <
                    std::tie(last->onset_s, last->midi, last->part))
      return "not sorted";
    last = &note;
  }
  return {};
}

}  // namespace combwright::music::testing
