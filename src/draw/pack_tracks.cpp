// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <string>

#include <fmt/core.h>

#include "draw/pack_document.h"
#include "draw/track_table.h"
#include "music/pitch.h"

namespace combwright::draw {
namespace {

constexpr double row_mm = 4.3;
constexpr double head_mm = 9.0;
constexpr double gutter_mm = 10.0;
constexpr double two_columns_from_mm = 150.0;

// Right edges of the columns, as shares of the table's width.
constexpr std::array<double, 6> edges{0.11, 0.25, 0.45, 0.61, 0.80, 1.0};

using Cells = std::array<std::string, edges.size()>;

Cells cells_of(const TrackLoad& load) {
  const auto in_ms = [](double time_s) { return fmt::format("{:.0f}", time_s * 1000.0); };
  return {fmt::format("{}", load.track.track),
          music::note_name(load.track.midi),
          fmt::format("{:.2f}", load.track.radius_m * 1000.0),
          fmt::format("{}", load.plucks),
          in_ms(load.track.min_interval_s),
          load.closest_s ? in_ms(*load.closest_s) : "-"};
}

// A track that is asked for more than it can do stands out; one that is not played stands back.
TextStyle style_of(const TrackLoad& load) {
  constexpr double rounding_s = 1e-9;
  if (load.closest_s.value_or(load.track.min_interval_s) < load.track.min_interval_s - rounding_s) {
    return {Face::bold, 2.8, alarm, Align::right};
  }
  return {Face::sans, 2.8, load.plucks == 0 ? faint : ink, Align::right};
}

void write_cells(PdfPages& pages, double x, double y, double width, const Cells& cells,
                 TextStyle style) {
  style.align = Align::right;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    pages.text(x + width * edges.at(i), y, cells.at(i), style);
  }
}

void write_head(PdfPages& pages, double x, double y, double width) {
  const TextStyle style{Face::sans, 2.4, faint, Align::right};
  write_cells(pages, x, y + 3.0, width, {"", "", "radius", "", "least", "closest"}, style);
  write_cells(pages, x, y + 6.2, width, {"track", "note", "mm", "plucks", "ms", "ms"}, style);
  stroke_line(pages, x, y + 7.6, x + width, y + 7.6, 0.2, accent);
}

}  // namespace

void add_tracks(PackDocument& document, const PackInput& input) {
  const auto loads = track_loads(input.arrangement);
  document.new_page("The tracks");
  document.paragraph(
      "From the innermost outwards. Least: the time a track needs between two plucks; closest: the "
      "shortest there is in this tune.",
      small);
  const bool two_columns = document.width() >= two_columns_from_mm;
  const double width = two_columns ? (document.width() - gutter_mm) / 2.0 : document.width();
  double top = document.y();
  double x = document.left();
  double y = top + head_mm;
  write_head(document.pages(), x, top, width);
  for (std::size_t i = 0; i < loads.size(); ++i) {
    if (y + row_mm > document.bottom()) {
      if (!two_columns || x > document.left()) {
        document.new_page("The tracks");
        top = document.y();
        x = document.left();
      } else {
        x += width + gutter_mm;
      }
      y = top + head_mm;
      write_head(document.pages(), x, top, width);
    }
    write_cells(document.pages(), x, y + 2.4, width, cells_of(loads[i]), style_of(loads[i]));
    if (i % 5 == 4) stroke_line(document.pages(), x, y + 3.4, x + width, y + 3.4, 0.08, rule);
    y += row_mm;
  }
}

}  // namespace combwright::draw
