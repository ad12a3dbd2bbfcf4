// SPDX-License-Identifier: Apache-2.0
#include "draw/side_by_side.h"

#include <algorithm>

namespace combwright::draw {
namespace {

constexpr double gutter_mm = 10.0;
constexpr double three_from_mm = 150.0;

std::size_t columns_of(const PackDocument& document) {
  return document.width() >= three_from_mm ? 3 : 2;
}

std::size_t rows_each(std::size_t rows, std::size_t columns) {
  return (rows + columns - 1) / columns;
}

}  // namespace

double side_by_side_mm(const PackDocument& document, std::size_t rows) {
  return bench_heads_mm + bench_row_mm * static_cast<double>(rows_each(rows, columns_of(document)));
}

void write_side_by_side(PackDocument& document, std::size_t rows,
                        const std::function<void(const BenchPlace& place, std::size_t first,
                                                 std::size_t count)>& write) {
  const std::size_t columns = columns_of(document);
  const double width_mm = (document.width() - gutter_mm * static_cast<double>(columns - 1)) /
                          static_cast<double>(columns);
  std::size_t first = 0;
  while (true) {
    const double room_mm = document.bottom() - document.y() - bench_heads_mm;
    const auto most = static_cast<std::size_t>(std::max(1.0, room_mm / bench_row_mm));
    const std::size_t tallest = std::min(most, rows_each(rows - first, columns));
    double x_mm = document.left();
    for (std::size_t i = 0; i < columns && first < rows; ++i) {
      const std::size_t count = std::min(tallest, rows - first);
      write({x_mm, document.y(), width_mm}, first, count);
      first += count;
      x_mm += width_mm + gutter_mm;
    }
    document.move_down(bench_heads_mm + bench_row_mm * static_cast<double>(tallest));
    if (first == rows) return;
    document.continue_section();
  }
}

}  // namespace combwright::draw
