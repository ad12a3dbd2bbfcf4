// SPDX-License-Identifier: Apache-2.0
#include "music/midi_timeline.h"

#include <algorithm>
#include <cassert>

namespace combwright::music {

MidiTimeline::MidiTimeline(std::vector<MidiTempo> tempos, double ticks_per_quarter)
    : ticks_per_quarter_(ticks_per_quarter) {
  assert(ticks_per_quarter > 0.0);
  std::ranges::stable_sort(tempos, {}, &MidiTempo::tick);
  segments_.reserve(tempos.size() + 1);
  add(0.0, MidiTempo{}.quarter_us);
  for (const MidiTempo& tempo : tempos) add(static_cast<double>(tempo.tick), tempo.quarter_us);
}

void MidiTimeline::add(double tick, std::uint32_t quarter_us) {
  const double start_s = segments_.empty() ? 0.0 : segments_.back().at(tick);
  if (!segments_.empty() && segments_.back().tick == tick) segments_.pop_back();
  if (!segments_.empty() && segments_.back().quarter_us == quarter_us) return;
  segments_.push_back({.tick = tick,
                       .start_s = start_s,
                       .tick_s = 1e-6 * quarter_us / ticks_per_quarter_,
                       .quarter_us = quarter_us});
}

std::size_t MidiTimeline::find(double tick, std::size_t from) const {
  const auto after =
      std::upper_bound(segments_.begin() + static_cast<std::ptrdiff_t>(from), segments_.end(), tick,
                       [](double sought, const Segment& segment) { return sought < segment.tick; });
  return static_cast<std::size_t>(after - segments_.begin()) - 1;
}

std::vector<Tempo> MidiTimeline::tempos() const {
  std::vector<Tempo> tempos;
  tempos.reserve(segments_.size());
  for (const Segment& segment : segments_) {
    tempos.push_back({.start_s = segment.start_s,
                      .start_quarter = quarters(segment.tick),
                      .quarters_per_minute = 60e6 / segment.quarter_us});
  }
  return tempos;
}

}  // namespace combwright::music
