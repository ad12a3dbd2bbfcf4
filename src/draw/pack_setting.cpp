// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "action/action.h"
#include "action/setting.h"
#include "action/tolerance.h"
#include "base/quantity.h"
#include "draw/bench_table.h"
#include "draw/caution_box.h"
#include "draw/cautions.h"
#include "draw/pack_document.h"
#include "draw/side_by_side.h"
#include "draw/words.h"
#include "music/pitch.h"

namespace combwright::draw {
namespace {

constexpr double words_mm = 40.0;

constexpr BenchColumns<5> setting_columns{
    {0.13, 0.3, 0.52, 0.76, 1.0},
    {{{"", "track"}, {"", "note"}, {"feeler", "mm"}, {"exact gap", "mm"}, {"lead", "ms"}}}};

using Tracks = std::span<const action::TrackAction>;

std::string degrees(double angle_rad) {
  return fmt::format("{:.1f}\u00b0", angle_rad * 180.0 / std::numbers::pi);
}

std::string heaviest_words(const PackInput& input, double turn_time_s) {
  const auto ranked =
      action::ranked(action::first_order(input.box, input.shop.action_tolerance, turn_time_s));
  std::string words;
  constexpr std::size_t named = 3;
  for (std::size_t i = 0; i < std::min(named, ranked.size()); ++i) {
    const action::Contribution& part = ranked[i];
    words += fmt::format("{}{} ({} mm: {:.2f} dB, {:.1f} ms)", i == 0 ? "" : ", ",
                         action::to_text(part.deviation),
                         in_mm(tolerance_m(input.shop.action_tolerance, part.deviation), 2),
                         part.spread.loudness_db, part.spread.timing_s * 1e3);
  }
  return words;
}

void write_setting_words(PackDocument& document, const PackInput& input, double turn_time_s) {
  const box::Box& box = input.box;
  const action::WheelAction wheel = action::wheel_action(box);
  constexpr double name_mm = 26.0;
  document.entry("Axes",
                 fmt::format("{} from the disc's under side down to the axes of the star wheels",
                             to_text(box.star_wheel.axis_below_disc_m, Dimension::length)),
                 name_mm);
  document.entry(
      "Combs",
      fmt::format(
          "the points reach {} past the tips of the teeth; struck faces level with the axes",
          to_text(box.star_wheel.tooth_overlap_m, Dimension::length)),
      name_mm);
  for (const box::Comb& comb : box.combs) {
    if (comb.level_m == 0.0) continue;
    document.entry(
        "",
        fmt::format(
            "but those of {} {} {} them", box::comb_words(comb.name),
            to_text(std::abs(comb.level_m), Dimension::length),
            (comb.level_m > 0.0) == (comb.plucked == box::Plucked::down) ? "above" : "below"),
        name_mm);
  }
  document.entry(
      "Wheels",
      fmt::format("wait with a point {} before upright, its tip {} above the projections' lower "
                  "edge; the brake must hold them there, within {} on and {} back",
                  degrees(-wheel.rest_rad), to_text(wheel.catch_m, Dimension::length),
                  degrees(wheel.drift_on_rad), degrees(wheel.drift_back_rad)),
      name_mm);
  document.entry("Hold tight", heaviest_words(input, turn_time_s), name_mm);
  document.paragraph(
      "Feeler: the gap to set between damper and tooth with a feeler gauge while the wheel waits, "
      "in steps of 0.05 mm; 0: let the damper rest on the tooth. Lead: from the damper's touch to "
      "letting the tooth go, at the gap as computed. Set, listen, correct.",
      small);
  document.move_down(2.0);
}

void write_tracks(PdfPages& pages, const box::Box& box, BenchPlace place, Tracks tracks) {
  const std::vector<box::Track> all = box::tracks(box);
  write_heads(pages, place, setting_columns);
  place.y_mm += bench_heads_mm;
  for (const action::TrackAction& track : tracks) {
    write_row(pages, place, setting_columns,
              {fmt::format("{}", track.track),
               music::note_name(all[static_cast<std::size_t>(track.track - 1)].midi),
               in_mm(action::feeler_m(track.gap_m), 2), in_mm(track.gap_m, 3),
               fmt::format("{:.0f}", track.damper_lead_s * 1e3)});
    place.y_mm += bench_row_mm;
    if (track.track % 5 == 0) thin_rule(pages, place);
  }
}

}  // namespace

void add_setting(PackDocument& document, const PackInput& input) {
  const double turn_time_s = input.arrangement.turn_time_s;
  const std::vector<action::TrackAction> all = action::action(input.box, turn_time_s);
  document.section("Star wheels and dampers", words_mm + side_by_side_mm(document, all.size()));
  write_setting_words(document, input, turn_time_s);
  write_side_by_side(
      document, all.size(), [&](const BenchPlace& place, std::size_t first, std::size_t count) {
        write_tracks(document.pages(), input.box, place, Tracks(all).subspan(first, count));
      });
  add_caution_box(document, setting_cautions());
}

}  // namespace combwright::draw
