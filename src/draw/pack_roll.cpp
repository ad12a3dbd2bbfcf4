// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <cairo.h>
#include <fmt/core.h>

#include "draw/fate_mark.h"
#include "draw/pack_document.h"
#include "music/pitch.h"

namespace combwright::draw {
namespace {

constexpr double label_mm = 9.0;
constexpr double seconds_per_row = 20.0;
constexpr int most_rows = 24;
constexpr int beyond_comb = 12;  // semitones shown below and above the comb's range

// Pitches from low to high, and which of them have a tooth.
struct Range {
  int low = 60;
  int high = 72;
  std::set<int> teeth;
};

Range range_of(const PackInput& input) {
  Range range;
  for (const auto& track : input.arrangement.tracks) range.teeth.insert(track.midi);
  if (range.teeth.empty()) return range;
  const int lowest = *range.teeth.begin();
  const int highest = *range.teeth.rbegin();
  range.low = lowest;
  range.high = highest;
  for (const auto& note : input.arrangement.notes) {
    const int midi = note.midi + input.arrangement.transpose_semitones;
    range.low = std::min(range.low, std::max(midi, lowest - beyond_comb));
    range.high = std::max(range.high, std::min(midi, highest + beyond_comb));
  }
  return range;
}

// One strip of time over all pitches.
class Strip {
 public:
  Strip(PackDocument& document, const PackInput& input, const Range& range, double from_s,
        double length_s, double height_mm)
      : document_(document),
        input_(input),
        range_(range),
        from_s_(from_s),
        length_s_(length_s),
        top_(document.y() + 3.5),
        row_mm_((height_mm - 8.0) / (range.high - range.low + 1)) {}

  void draw() {
    pitches();
    seconds();
    bars();
    for (const auto& note : input_.arrangement.notes) mark(note);
  }

 private:
  double left() const { return document_.left() + label_mm; }
  double width() const { return document_.width() - label_mm; }
  double bottom() const { return top_ + row_mm_ * (range_.high - range_.low + 1); }
  double x(double time_s) const { return left() + width() * (time_s - from_s_) / length_s_; }
  double y(int midi) const {
    return top_ + row_mm_ * (range_.high - std::clamp(midi, range_.low, range_.high));
  }
  bool shows(double time_s) const { return time_s >= from_s_ && time_s < from_s_ + length_s_; }

  // Pitches without a tooth are grey.
  void pitches() {
    auto& pages = document_.pages();
    set_colour(pages, {0.93, 0.93, 0.93});
    for (int midi = range_.low; midi <= range_.high; ++midi) {
      if (range_.teeth.count(midi) != 0) continue;
      cairo_rectangle(pages.cairo(), left(), y(midi), width(), row_mm_);
    }
    cairo_fill(pages.cairo());
    for (int midi = range_.low; midi <= range_.high; ++midi) {
      if (midi % 12 != 0 || midi < 0 || midi > 127) continue;
      stroke_line(pages, left(), y(midi) + row_mm_, document_.right(), y(midi) + row_mm_, 0.1,
                  rule);
      pages.text(left() - 1.5, y(midi) + row_mm_, music::note_name(midi),
                 {Face::sans, 2.2, faint, Align::right});
    }
    stroke_line(pages, left(), bottom(), document_.right(), bottom(), 0.15, faint);
  }

  void seconds() {
    auto& pages = document_.pages();
    const int last = static_cast<int>(from_s_ + length_s_ + 1e-9);
    for (int second = static_cast<int>(std::ceil(from_s_)); second <= last; ++second) {
      const bool fifth = second % 5 == 0;
      stroke_line(pages, x(second), bottom(), x(second), bottom() + (fifth ? 1.4 : 0.7), 0.15,
                  faint);
      if (fifth && shows(second)) {
        pages.text(x(second), bottom() + 3.6, fmt::format("{} s", second),
                   {Face::sans, 2.2, faint, Align::centre});
      }
    }
  }

  // A bar begins, for the eye, where its first note does.
  void bars() {
    std::map<int, double> first;
    for (const auto& note : input_.arrangement.notes) first.try_emplace(note.bar, note.onset_s);
    double free_from = 0.0;
    for (const auto& [bar, time_s] : first) {
      if (!shows(time_s)) continue;
      stroke_line(document_.pages(), x(time_s), top_, x(time_s), bottom(), 0.08, rule);
      if (x(time_s) < free_from) continue;
      document_.pages().text(x(time_s), top_ - 0.8, fmt::format("{}", bar),
                             {Face::sans, 2.2, faint, Align::left});
      free_from = x(time_s) + 6.0;
    }
  }

  void mark(const arrange::ArrangedNote& note) {
    if (!shows(note.onset_s)) return;
    const double height = std::min(row_mm_ * 0.9, 2.0);
    const double room = document_.right() - x(note.onset_s);
    const double width_mm = std::clamp(width() * note.duration_s / length_s_ - 0.2, 0.5, room);
    const int midi = note.midi + input_.arrangement.transpose_semitones;
    mark_fate(document_.pages(), note.fate, x(note.onset_s), y(midi) + (row_mm_ - height) / 2.0,
              std::isfinite(width_mm) ? width_mm : 0.5, height);
  }

  PackDocument& document_;
  const PackInput& input_;
  const Range& range_;
  double from_s_;
  double length_s_;
  double top_;
  double row_mm_;
};

void legend(PackDocument& document) {
  double x = document.left() + label_mm;
  for (const auto fate : all_fates) {
    mark_fate(document.pages(), fate, x + 2.0, document.y() + 1.2, 4.0, 1.6);
    document.pages().text(x + 7.5, document.y() + 2.8, arrange::to_text(fate), small);
    x += 28.0;
  }
  document.move_down(7.0);
}

}  // namespace

void add_roll(PackDocument& document, const PackInput& input) {
  if (input.arrangement.notes.empty() || !(input.arrangement.turn_time_s > 0.0)) return;
  const auto range = range_of(input);
  const double turn_s = input.arrangement.turn_time_s;
  const int strips =
      std::clamp(static_cast<int>(std::ceil(turn_s / seconds_per_row)), 1, most_rows);
  const double height = std::clamp((range.high - range.low + 1) * 1.35 + 8.0, 40.0,
                                   document.bottom() - document.left() - 30.0);
  document.new_page("The notes over one turn");
  document.paragraph(
      fmt::format(
          "Each written note after the transposition, by what became of it; grey: no tooth. "
          "Above: bars; below: seconds of the turn of {:.3g} s.",
          turn_s),
      small);
  legend(document);
  for (int i = 0; i < strips; ++i) {
    document.need(height + 3.0);
    Strip(document, input, range, turn_s * i / strips, turn_s / strips, height).draw();
    document.move_down(height + 3.0);
  }
}

}  // namespace combwright::draw
