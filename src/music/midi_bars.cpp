// SPDX-License-Identifier: Apache-2.0
#include "music/midi_bars.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace combwright::music {
namespace {

// A time signature that has held for so many bars ends a section where it changes; one that changes
// sooner may be the tune's own way. Judgement, no source.
constexpr std::size_t bars_of_a_section = 4;

// Of meters in the order of the file: the changes, in order of time, the first at tick 0.
std::vector<MidiMeter> changes_of(std::vector<MidiMeter> meters) {
  std::ranges::stable_sort(meters, {}, &MidiMeter::tick);
  std::vector<MidiMeter> changes{MidiMeter{}};
  for (MidiMeter meter : meters) {
    if (changes.back().tick == meter.tick) {
      meter.restart = meter.restart || changes.back().restart;
      changes.pop_back();
    }
    const bool same = !changes.empty() && changes.back().beats == meter.beats &&
                      changes.back().beat_unit == meter.beat_unit;
    if (!same || meter.restart) changes.push_back(meter);
  }
  return changes;
}

// Bars of `length` from `start` until both ticks lie inside; lengths that are whole but for
// rounding (29.97 frames a second) count as whole.
double bars_to(double start, double length, double last_onset, double end) {
  constexpr double rounding = 1e-9;
  return std::max(std::ceil((end - start) / length - rounding),
                  std::floor((last_onset - start) / length + rounding) + 1.0);
}

}  // namespace

std::vector<Bar> midi_bars(std::vector<MidiMeter> meters, const MidiTimeline& timeline,
                           std::int64_t last_onset_tick, std::int64_t end_tick) {
  assert(last_onset_tick >= 0 && last_onset_tick <= end_tick);
  const auto last_onset = static_cast<double>(last_onset_tick);
  const auto end = static_cast<double>(end_tick);
  const std::vector<MidiMeter> changes = changes_of(std::move(meters));
  std::vector<Bar> bars;
  std::size_t segment = 0;
  std::size_t first_of_meter = 0;
  for (std::size_t i = 0; i < changes.size(); ++i) {
    const MidiMeter& meter = changes[i];
    const auto start = static_cast<double>(meter.tick);
    if (start >= end && start > last_onset) break;
    const bool long_held = bars.size() >= first_of_meter + bars_of_a_section;
    if ((meter.restart || long_held) && !bars.empty()) bars.back().section_end = true;
    first_of_meter = bars.size();
    const double length = timeline.ticks_per_quarter() * 4.0 * meter.beats / meter.beat_unit;
    const double limit =
        i + 1 < changes.size() ? static_cast<double>(changes[i + 1].tick) : HUGE_VAL;
    const double needed = std::min(bars_to(start, length, last_onset, end),
                                   std::ceil((limit - start) / length - 1e-9));
    if (static_cast<double>(bars.size()) + needed > static_cast<double>(max_bars)) return {};
    const auto count = static_cast<int>(needed);
    for (int k = 0; k < count; ++k) {
      const double bar_start = start + k * length;
      const double bar_end = std::min(start + (k + 1) * length, limit);
      bars.push_back({.number = static_cast<int>(bars.size()) + 1,
                      .start_s = timeline.seconds(bar_start, segment),
                      .start_quarter = timeline.quarters(bar_start),
                      .length_quarter = timeline.quarters(bar_end - bar_start),
                      .beats = meter.beats,
                      .beat_unit = meter.beat_unit});
    }
  }
  if (bars.size() > 1 && changes.size() > 1 && !changes[1].restart &&
      bars[1].start_quarter == timeline.quarters(static_cast<double>(changes[1].tick)) &&
      bars[0].length_quarter < bars[1].length_quarter)
    for (Bar& bar : bars) --bar.number;
  bars.back().section_end = true;
  return bars;
}

void mark_sections(std::vector<MidiSection> sections, double ticks_per_quarter,
                   std::vector<Bar>& bars) {
  std::ranges::sort(sections, {}, &MidiSection::tick);
  std::size_t bar = 0;  // that holds the mark
  for (const MidiSection& section : sections) {
    const double quarter = static_cast<double>(section.tick) / ticks_per_quarter;
    while (bar + 1 < bars.size() && bars[bar + 1].start_quarter <= quarter) ++bar;
    const bool past = quarter >= bars[bar].start_quarter + bars[bar].length_quarter;
    const bool second_half = quarter >= bars[bar].start_quarter + 0.5 * bars[bar].length_quarter;
    if (past) continue;
    if (section.ends_here || second_half)
      bars[bar].section_end = true;
    else if (bar > 0)
      bars[bar - 1].section_end = true;
  }
}

}  // namespace combwright::music
