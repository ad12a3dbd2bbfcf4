// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "music/midi_score.h"
#include "music/tune.h"

namespace combwright::music {

// The tempo map of a file: when a tick sounds. Where two tracks set a tempo at the same tick, the
// later track in the file holds.
class MidiTimeline {
 public:
  // Tempos in the order of the file; `ticks_per_quarter` > 0.
  MidiTimeline(std::vector<MidiTempo> tempos, double ticks_per_quarter);

  double quarters(double tick) const { return tick / ticks_per_quarter_; }
  double ticks_per_quarter() const { return ticks_per_quarter_; }

  // Seconds from the start. `segment` is 0 or what an earlier call for a tick not later left there:
  // it saves the search. Never falls as ticks rise.
  double seconds(double tick, std::size_t& segment) const {
    if (segment + 1 < segments_.size() && segments_[segment + 1].tick <= tick)
      segment = find(tick, segment + 1);
    return segments_[segment].at(tick);
  }

  std::vector<Tempo> tempos() const;

 private:
  struct Segment {
    double tick = 0.0;
    double start_s = 0.0;
    double tick_s = 0.0;
    std::uint32_t quarter_us = 0;

    double at(double later_tick) const { return start_s + (later_tick - tick) * tick_s; }
  };

  void add(double tick, std::uint32_t quarter_us);
  std::size_t find(double tick, std::size_t from) const;

  double ticks_per_quarter_;
  std::vector<Segment> segments_;
};

}  // namespace combwright::music
