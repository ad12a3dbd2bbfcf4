// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <span>
#include <string>

#include <fmt/core.h>

#include "base/quantity.h"
#include "draw/pack_document.h"
#include "draw/track_table.h"
#include "draw/words.h"
#include "music/pitch.h"

namespace combwright::draw {
namespace {

constexpr double row_mm = 4.3;
constexpr double track_heads_mm = 12.0;
constexpr double intro_mm = 15.0;
constexpr double cell_size_mm = 2.6;
constexpr double tracks_gutter_mm = 8.0;
constexpr double two_columns_from_mm = 150.0;

// Right edges of the columns, as shares of the table's width.
constexpr std::array<double, 9> edges{0.07, 0.16, 0.28, 0.405, 0.51, 0.645, 0.78, 0.89, 1.0};

using TrackCells = std::array<std::string, edges.size()>;
using Loads = std::span<const TrackLoad>;

TrackCells track_cells(const TrackLoad& load) {
  const auto in_s = [](double interval_s) { return fmt::format("{:.3f}", interval_s); };
  return {fmt::format("{}", load.track.track),
          music::note_name(load.track.midi),
          duplicate_words(load),
          in_mm(load.track.radius_m, 2),
          fmt::format("{}", load.plucks),
          in_s(load.track.min_interval_s),
          load.closest_s ? in_s(*load.closest_s) : "-",
          in_mm(load.lift_m, 2),
          in_mm(load.gap_m, 2)};
}

// A track that is asked for more than it can do stands out; one that is not played stands back.
TextStyle style_of(const TrackLoad& load) {
  constexpr double rounding_s = 1e-9;
  if (load.closest_s.value_or(load.track.min_interval_s) < load.track.min_interval_s - rounding_s) {
    return {Face::bold, cell_size_mm, alarm, Align::right};
  }
  return {Face::sans, cell_size_mm, load.plucks == 0 ? faint : ink, Align::right};
}

void write_cells(PdfPages& pages, double x, double y, double width, const TrackCells& cells,
                 const TextStyle& style) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    pages.text(x + width * edges.at(i), y, cells.at(i), style);
  }
}

void write_track_heads(PdfPages& pages, double x, double y, double width) {
  const TextStyle style{Face::sans, 2.4, faint, Align::right};
  write_cells(pages, x, y + 3.0, width, {"", "", "", "", "", "least", "", "", "damper"}, style);
  write_cells(pages, x, y + 6.2, width,
              {"", "", "dupli-", "radius", "", "interval", "closest", "lift", "gap"}, style);
  write_cells(pages, x, y + 9.4, width,
              {"track", "note", "cate", "mm", "plucks", "s", "s", "mm", "mm"}, style);
  stroke_line(pages, x, y + 10.8, x + width, y + 10.8, 0.2, accent);
}

void write_column(PdfPages& pages, double x, double top, double width, Loads loads) {
  write_track_heads(pages, x, top, width);
  double y = top + track_heads_mm;
  for (const auto& load : loads) {
    write_cells(pages, x, y + 2.4, width, track_cells(load), style_of(load));
    if (load.track.track % 5 == 0) {
      stroke_line(pages, x, y + 3.4, x + width, y + 3.4, 0.08, rule);
    }
    y += row_mm;
  }
}

// The tracks side by side in so many columns, as evenly as can be; gives the height.
double write_columns(PackDocument& document, std::size_t columns, Loads loads) {
  const auto gaps = static_cast<double>(columns - 1) * tracks_gutter_mm;
  const double width = (document.width() - gaps) / static_cast<double>(columns);
  const std::size_t rows = (loads.size() + columns - 1) / columns;
  double x = document.left();
  for (std::size_t first = 0; first < loads.size(); first += rows) {
    write_column(document.pages(), x, document.y(), width,
                 loads.subspan(first, std::min(rows, loads.size() - first)));
    x += width + tracks_gutter_mm;
  }
  return track_heads_mm + row_mm * static_cast<double>(rows);
}

std::size_t rows_in(double height_mm) {
  return static_cast<std::size_t>(std::max(1.0, (height_mm - track_heads_mm) / row_mm));
}

void write_intro(PackDocument& document) {
  document.paragraph(
      "From the innermost outwards. Least interval: the time that a track needs from one pluck to "
      "the next. Closest: the shortest time between two of its plucks in this tune. Bold: the tune "
      "asks for more than the track can do. Lift: of the tooth's tip when it is let go. Damper "
      "gap: to set between damper and tooth; 0: let the damper rest on the tooth.",
      small);
}

}  // namespace

void add_tracks(PackDocument& document, const PackInput& input) {
  const auto loads = track_loads(input.box, input.arrangement);
  const std::size_t columns = document.width() >= two_columns_from_mm ? 2 : 1;
  const std::size_t rows = (loads.size() + columns - 1) / columns;
  document.section("The tracks", intro_mm + track_heads_mm + row_mm * static_cast<double>(rows));
  write_intro(document);
  // Where one page is too small, all get the same number of rows.
  const std::size_t on_page = columns * rows_in(document.bottom() - document.y());
  const std::size_t pages = std::max<std::size_t>(1, (loads.size() + on_page - 1) / on_page);
  const std::size_t share = (loads.size() + pages - 1) / pages;
  for (std::size_t first = 0; first < loads.size(); first += share) {
    if (first > 0) document.continue_section();
    document.move_down(write_columns(
        document, columns, Loads(loads).subspan(first, std::min(share, loads.size() - first))));
  }
}

}  // namespace combwright::draw
