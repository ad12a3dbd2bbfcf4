// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>
#include <string>

#include "draw/pack_document.h"
#include "draw/pdf_pages.h"

// Tables of numbers on the sheets, their columns set to the right.
namespace combwright::draw {

inline constexpr double bench_row_mm = 3.7;
inline constexpr double bench_heads_mm = 8.0;
inline constexpr double bench_size_mm = 2.6;
inline constexpr double bench_head_size_mm = 2.3;

// Heads of two lines, right edges of the columns as shares of the table's width.
template <std::size_t columns>
struct BenchColumns {
  std::array<double, columns> edges;
  std::array<std::array<const char*, 2>, columns> heads;
};

// Upper left corner and width of a table or of what follows in it.
struct BenchPlace {
  double x_mm;
  double y_mm;
  double width_mm;
};

inline BenchPlace here(const PackDocument& document) {
  return {document.left(), document.y(), document.width()};
}

// The heads and a line under them, `bench_heads_mm` high.
template <std::size_t columns>
void write_heads(PdfPages& pages, const BenchPlace& place, const BenchColumns<columns>& table,
                 double size_mm = bench_head_size_mm) {
  const TextStyle head{Face::sans, size_mm, faint, Align::right};
  for (std::size_t i = 0; i < columns; ++i) {
    const double x = place.x_mm + place.width_mm * table.edges[i];
    pages.text(x, place.y_mm + 2.4, table.heads[i][0], head);
    pages.text(x, place.y_mm + 5.4, table.heads[i][1], head);
  }
  stroke_line(pages, place.x_mm, place.y_mm + 6.8, place.x_mm + place.width_mm, place.y_mm + 6.8,
              0.2, accent);
}

template <std::size_t columns>
void write_row(PdfPages& pages, const BenchPlace& place, const BenchColumns<columns>& table,
               const std::array<std::string, columns>& cells, double size_mm = bench_size_mm) {
  for (std::size_t i = 0; i < columns; ++i) {
    pages.text(place.x_mm + place.width_mm * table.edges[i], place.y_mm + size_mm, cells[i],
               {Face::sans, size_mm, ink, Align::right});
  }
}

// Above the row that comes next.
inline void thin_rule(PdfPages& pages, const BenchPlace& place) {
  stroke_line(pages, place.x_mm, place.y_mm - 0.3, place.x_mm + place.width_mm, place.y_mm - 0.3,
              0.08, rule);
}

}  // namespace combwright::draw
