// SPDX-License-Identifier: Apache-2.0
#include "arrange/score.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

double role_weight(Role role) {
  switch (role) {
    case Role::melody:
      return 1.0;
    case Role::bass:
      return 0.6;
    case Role::inner:
      return 0.35;
  }
  return 0.0;
}

// How much more or less than its role a note says: it stands on the first beat or between beats,
// is marked, is long, is loud for this tune. Judgement, no source.
double emphasis(const music::Note& note, double beat, double usual_loudness) {
  const bool on_beat = std::abs(beat - std::round(beat)) < 1e-3;
  const double place = beat < 1.001 ? 0.08 : on_beat ? 0.0 : -0.06;
  const double accent = note.accent ? 0.08 : 0.0;
  const double quarters = std::max(note.duration_quarter, 1.0 / 64.0);
  const double length = 0.04 * std::clamp(std::log2(quarters), -2.0, 2.0);
  const double loudness = std::clamp(0.3 * (note.loudness - usual_loudness), -0.06, 0.06);
  const double ornament = note.ornament ? -0.10 : 0.0;
  return std::clamp(1.0 + place + accent + length + loudness + ornament, 0.78, 1.22);
}

double mean_loudness(const music::Tune& tune) {
  double sum = 0.0;
  for (const music::Note& note : tune.notes) sum += note.loudness;
  return tune.notes.empty() ? 0.0 : sum / static_cast<double>(tune.notes.size());
}

}  // namespace

std::vector<ScoreNote> score(const music::Tune& tune, std::optional<int> melody_part) {
  const std::vector<Role> role = roles(tune, melody_part);
  const double usual_loudness = mean_loudness(tune);
  std::vector<ScoreNote> result;
  result.reserve(tune.notes.size());
  std::size_t bar = 0;
  std::size_t chord = 0;  // first result of the current onset
  for (std::size_t i = 0; i < tune.notes.size(); ++i) {
    const music::Note& note = tune.notes[i];
    while (bar + 1 < tune.bars.size() &&
           note.onset_quarter >= tune.bars[bar + 1].start_quarter - 1e-6)
      ++bar;
    assert(bar < tune.bars.size());
    const double beat = 1.0 + std::max(0.0, note.onset_quarter - tune.bars[bar].start_quarter) *
                                  tune.bars[bar].beat_unit / 4.0;
    const double weight = role_weight(role[i]) * emphasis(note, beat, usual_loudness);
    const ScoreNote scored{.onset_s = note.onset_s,
                           .duration_s = note.duration_s,
                           .midi = note.midi,
                           .role = role[i],
                           .weight = weight,
                           .bar = static_cast<int>(bar) + 1,
                           .beat = beat,
                           .part = note.part};
    if (result.empty() || note.onset_s > result[chord].onset_s + same_onset_s)
      chord = result.size();
    const auto twin =
        std::find_if(result.begin() + static_cast<std::ptrdiff_t>(chord), result.end(),
                     [&](const ScoreNote& n) { return n.midi == note.midi; });
    if (twin == result.end()) {
      result.push_back(scored);
    } else {
      const double onset = twin->onset_s;
      const double duration = std::max(twin->duration_s, scored.duration_s);
      if (scored.weight > twin->weight) *twin = scored;
      twin->onset_s = onset;
      twin->duration_s = duration;
    }
  }
  return result;
}

}  // namespace combwright::arrange
