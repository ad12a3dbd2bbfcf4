// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/core.h>

#include "draw/fate_mark.h"
#include "draw/pack_document.h"
#include "draw/roll_lanes.h"
#include "draw/words.h"
#include "music/pitch.h"

namespace combwright::draw {
namespace {

constexpr double label_mm = 9.0;
constexpr double seconds_per_row = 20.0;
constexpr int most_rows = 24;
constexpr double around_lanes_mm = 8.0;  // numbers of bars above a strip, seconds below it
constexpr double between_strips_mm = 3.0;
constexpr double least_lane_mm = 1.1;
constexpr double greatest_lane_mm = 2.4;
constexpr Colour no_tooth{0.92, 0.92, 0.92};
constexpr Colour lane_rule{0.90, 0.91, 0.92};

constexpr double stub_mm = 3.0;
constexpr double stub_height_mm = 0.9;

// A short faint stub where a note is written that sounds in another octave; y is its middle.
void mark_written(PdfPages& pages, double x, double y, double length, double height) {
  const auto [red, green, blue] = colour_of(arrange::Fate::octave);
  const auto paler = [](double part) { return 0.45 + 0.55 * part; };
  fill_rectangle(pages, x, y - height / 2.0, length, height,
                 {paler(red), paler(green), paler(blue)});
}

// One strip of time over all lanes.
class Strip {
 public:
  Strip(PackDocument& document, const PackInput& input, const RollLanes& lanes, double from_s,
        double length_s, double lane_mm)
      : document_(document),
        input_(input),
        roll_(lanes),
        from_s_(from_s),
        length_s_(length_s),
        top_(document.y() + 3.5),
        lane_mm_(lane_mm) {}

  void draw() {
    lanes();
    seconds();
    bars();
    for (const auto& note : input_.arrangement.notes) mark(note);
  }

 private:
  double left() const { return document_.left() + label_mm; }
  double width() const { return document_.width() - label_mm; }
  double bottom() const { return top_ + lane_mm_ * static_cast<double>(roll_.lanes().size()); }
  double x(double time_s) const { return left() + width() * (time_s - from_s_) / length_s_; }
  double y(std::size_t lane) const { return bottom() - lane_mm_ * static_cast<double>(lane + 1); }
  double middle(std::size_t lane) const { return y(lane) + lane_mm_ / 2.0; }
  bool shows(double time_s) const { return time_s >= from_s_ && time_s < from_s_ + length_s_; }

  void lanes() {
    for (std::size_t i = 0; i < roll_.lanes().size(); ++i) lane(i);
    stroke_line(document_.pages(), left(), bottom(), document_.right(), bottom(), 0.15, faint);
  }

  // Pitches without a tooth are grey; teeth of one note are tied together at the left.
  void lane(std::size_t i) {
    auto& pages = document_.pages();
    const auto& [midi, has_tooth, is_duplicate] = roll_.lanes()[i];
    const double below = y(i) + lane_mm_;
    const bool is_c = midi % 12 == 0 && !is_duplicate;
    if (!has_tooth) fill_rectangle(pages, left(), y(i), width(), lane_mm_, no_tooth);
    stroke_line(pages, left(), below, document_.right(), below, is_c ? 0.15 : 0.06,
                is_c ? rule : lane_rule);
    if (is_duplicate) {
      stroke_line(pages, left() - 0.8, y(i) + 0.2, left() - 0.8, y(i) + 2.0 * lane_mm_ - 0.2, 0.4,
                  accent);
    }
    if (is_c && midi >= 0 && midi <= 127) {
      pages.text(left() - 1.8, below, music::note_name(midi),
                 {Face::sans, tick_size_mm, faint, Align::right});
    }
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
                   {Face::sans, tick_size_mm, faint, Align::centre});
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
                             {Face::sans, tick_size_mm, faint, Align::left});
      free_from = x(time_s) + 6.0;
    }
  }

  void mark(const arrange::ArrangedNote& note) {
    const auto place = roll_.place(note);
    if (!shows(place.time_s)) return;
    auto& pages = document_.pages();
    const double at = x(place.time_s);
    const double height = std::min(lane_mm_ * 0.85, 1.8);
    const double room = std::max(0.5, document_.right() - at);
    const double wanted = width() * note.duration_s / length_s_ - 0.2;
    const double length = std::isfinite(wanted) ? std::clamp(wanted, 0.5, room) : 0.5;
    if (place.written != place.lane && note.fate == arrange::Fate::octave) {
      stroke_line(pages, at, middle(place.lane), at, middle(place.written), 0.12,
                  colour_of(note.fate));
      mark_written(pages, at, middle(place.written), std::min(length, stub_mm),
                   std::min(lane_mm_ * 0.6, stub_height_mm));
    }
    mark_fate(pages, note.fate, at, middle(place.lane) - height / 2.0, length, height);
  }

  PackDocument& document_;
  const PackInput& input_;
  const RollLanes& roll_;
  double from_s_;
  double length_s_;
  double top_;
  double lane_mm_;
};

void legend(PackDocument& document) {
  auto& pages = document.pages();
  const double between_mm = 0.04 * document.width();
  double x = document.left() + label_mm;
  for (const auto fate : all_fates) {
    mark_fate(pages, fate, x + 2.0, document.y() + 1.2, 4.0, 1.6);
    pages.text(x + 7.5, document.y() + 2.8, fate_words(fate), small);
    x += 7.5 + pages.text_width(fate_words(fate), small) + between_mm;
  }
  document.move_down(5.0);
  mark_written(pages, document.left() + label_mm + 2.0, document.y() + 2.0, stub_mm,
               stub_height_mm);
  pages.text(document.left() + label_mm + 7.5, document.y() + 2.8,
             "where a note is written that sounds in another octave", small);
  document.move_down(6.0);
}

// Height of a lane so that the strips fill their pages evenly.
double lane_height_mm(double room_mm, int strips, std::size_t lanes) {
  const auto count = static_cast<double>(lanes);
  const double around = around_lanes_mm + between_strips_mm;
  const int most = std::max(1, static_cast<int>(room_mm / (count * least_lane_mm + around)));
  const int pages = (strips + most - 1) / most;
  const int on_page = (strips + pages - 1) / pages;
  return std::min((room_mm / on_page - around) / count, greatest_lane_mm);
}

}  // namespace

void add_roll(PackDocument& document, const PackInput& input) {
  if (input.arrangement.notes.empty() || !(input.arrangement.turn_time_s > 0.0)) return;
  const RollLanes lanes(input.arrangement);
  const double turn_s = input.arrangement.turn_time_s;
  const int strips =
      std::clamp(static_cast<int>(std::ceil(turn_s / seconds_per_row)), 1, most_rows);
  document.new_page("The notes over one turn");
  document.paragraph(
      fmt::format("Each written note where it sounds, by what became of it. One line a tooth, low "
                  "notes below; a bar at the left ties the teeth of one note; grey: no tooth. "
                  "Above: bars; below: seconds of the turn of {:.3g} s.",
                  turn_s),
      small);
  legend(document);
  const double lane_mm =
      lane_height_mm(document.bottom() - document.y(), strips, lanes.lanes().size());
  const double height =
      lane_mm * static_cast<double>(lanes.lanes().size()) + around_lanes_mm + between_strips_mm;
  for (int i = 0; i < strips; ++i) {
    document.need(height - 0.01);
    Strip(document, input, lanes, turn_s * i / strips, turn_s / strips, lane_mm).draw();
    document.move_down(height);
  }
}

}  // namespace combwright::draw
