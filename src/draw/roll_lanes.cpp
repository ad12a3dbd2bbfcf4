// SPDX-License-Identifier: Apache-2.0
#include "draw/roll_lanes.h"

#include <algorithm>

namespace combwright::draw {
namespace {

constexpr int beyond_comb = 12;  // semitones shown below and above the comb's range
constexpr int middle_c = 60;

struct Range {
  int low = middle_c;
  int high = middle_c + 12;
};

Range range_of(const arrange::Arrangement& arrangement,
               const std::multimap<int, int>& tracks_by_pitch) {
  if (tracks_by_pitch.empty()) return {};
  const int lowest = tracks_by_pitch.begin()->first;
  const int highest = tracks_by_pitch.rbegin()->first;
  Range range{lowest, highest};
  for (const auto& note : arrangement.notes) {
    const int midi = note.midi + arrangement.transpose_semitones;
    range.low = std::min(range.low, std::max(midi, lowest - beyond_comb));
    range.high = std::max(range.high, std::min(midi, highest + beyond_comb));
  }
  return range;
}

}  // namespace

RollLanes::RollLanes(const arrange::Arrangement& arrangement)
    : transpose_(arrangement.transpose_semitones) {
  std::multimap<int, int> tracks_by_pitch;
  for (const auto& track : arrangement.tracks) tracks_by_pitch.emplace(track.midi, track.track);
  const auto range = range_of(arrangement, tracks_by_pitch);
  for (int midi = range.low; midi <= range.high; ++midi) {
    by_pitch_[midi] = lanes_.size();
    const auto [first, last] = tracks_by_pitch.equal_range(midi);
    if (first == last) lanes_.push_back({midi, false, false});
    for (auto tooth = first; tooth != last; ++tooth) {
      by_track_[tooth->second] = lanes_.size();
      lanes_.push_back({midi, true, tooth != first});
    }
  }
  for (const auto& pluck : arrangement.plucks) pluck_of_.try_emplace(pluck.note, pluck);
}

LaneMark RollLanes::place(const arrange::ArrangedNote& note) const {
  const auto written = lane_of_pitch(note.midi + transpose_);
  const auto pluck = pluck_of_.find(note.index);
  if (pluck == pluck_of_.end()) return {written, note.onset_s, written};
  const auto lane = by_track_.find(pluck->second.track);
  return {lane == by_track_.end() ? written : lane->second, pluck->second.time_s, written};
}

std::size_t RollLanes::lane_of_pitch(int midi) const {
  const auto within = std::clamp(midi, by_pitch_.begin()->first, by_pitch_.rbegin()->first);
  return by_pitch_.at(within);
}

}  // namespace combwright::draw
