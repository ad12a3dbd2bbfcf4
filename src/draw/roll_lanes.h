// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <vector>

#include "arrange/arrangement.h"

namespace combwright::draw {

// One line of the roll: a tooth (or pair), or a pitch for which there is none.
struct Lane {
  int midi = 0;
  bool has_tooth = false;
  bool is_duplicate = false;  // of the lane below it
};

// Where a written note is shown.
struct LaneMark {
  std::size_t lane = 0;     // where it sounds; for a note left out, where it would
  double time_s = 0.0;      // when it sounds, or would
  std::size_t written = 0;  // lane of the written pitch, after the transposition
};

// The lanes from low to high: every tooth of the comb, the pitches between them, and up to an
// octave beyond for notes that have no tooth there. A note further out is shown on the last lane.
class RollLanes {
 public:
  explicit RollLanes(const arrange::Arrangement& arrangement);

  const std::vector<Lane>& lanes() const { return lanes_; }
  LaneMark place(const arrange::ArrangedNote& note) const;

 private:
  std::size_t lane_of_pitch(int midi) const;

  std::vector<Lane> lanes_;
  std::map<int, std::size_t> by_pitch_;  // the first tooth's
  std::map<int, std::size_t> by_track_;
  std::map<int, arrange::Pluck> pluck_of_;  // by note
  int transpose_ = 0;
};

}  // namespace combwright::draw
