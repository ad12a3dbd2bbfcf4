// SPDX-License-Identifier: Apache-2.0
#include "draw/tiling.h"

#include <algorithm>
#include <cmath>

#include "base/error.h"
#include "draw/free_space.h"

namespace combwright::draw {
namespace {

constexpr std::int64_t overlap = static_cast<std::int64_t>(tile_overlap_mm) * lattice_per_mm;
constexpr double least_width_mm = 110.0;
constexpr double least_height_mm = 105.0;

struct Area {
  std::int64_t width = 0;
  std::int64_t height = 0;
};

Area tile_area(const box::Paper& paper) {
  const double width_m = paper.width_m - 2.0 * paper.margin_m - tile_side_mm / 1000.0;
  const double height_m = paper.height_m - 2.0 * paper.margin_m - tile_strip_mm / 1000.0;
  if (!(width_m * 1000.0 >= least_width_mm && height_m * 1000.0 >= least_height_mm)) {
    throw Error({}, "paper \"" + paper.name +
                        "\" leaves no room for a tile and its check bars; take A5 or larger");
  }
  return {to_lattice(width_m), to_lattice(height_m)};
}

int tiles_for(std::int64_t length, std::int64_t tile_length) {
  const auto step = tile_length - overlap;
  return static_cast<int>(std::max<std::int64_t>(1, (length - overlap + step - 1) / step));
}

struct Span {
  std::int64_t low = 0;
  std::int64_t high = 0;
};

// True if the sheets from this edge on meet nowhere within the span.
bool seams_clear(std::int64_t first_edge, int tiles, std::int64_t tile_length, const Span& span) {
  for (int i = 1; i < tiles; ++i) {
    const auto seam = first_edge + i * (tile_length - overlap);
    if (seam <= span.high && seam + overlap >= span.low) return false;
  }
  return true;
}

// Where the first tile begins: so that the sheets reach equally far past both ends of the drawing,
// or as near to that as keeps the seams off all of the first cores that they can be kept off.
std::int64_t first_edge(const Span& drawing, int tiles, std::int64_t tile_length,
                        const std::vector<std::vector<Span>>& cores) {
  const auto whole = tiles * (tile_length - overlap) + overlap;
  const auto centred = (drawing.low + drawing.high - whole) / 2;
  const auto most_shift = std::max<std::int64_t>(0, whole - (drawing.high - drawing.low)) / 2;
  for (const auto& all : cores) {
    const auto clear = [&](std::int64_t edge) {
      return std::all_of(all.begin(), all.end(), [&](const Span& core) {
        return seams_clear(edge, tiles, tile_length, core);
      });
    };
    for (std::int64_t shift = 0; shift <= most_shift; shift += lattice_per_mm) {
      for (const auto edge : {centred + shift, centred - shift}) {
        if (clear(edge)) return edge;
      }
    }
  }
  return centred;
}

// What had best lie within one sheet each, with some sheet around: all holes together, or if that
// can not be every hole by itself, or the first, the centre hole.
std::vector<std::vector<Box2>> cores_of(const Drawing& drawing) {
  constexpr std::int64_t around = 5 * lattice_per_mm;
  const auto widened = [](const Box2& box) {
    return Box2{{box.low.x - around, box.low.y - around},
                {box.high.x + around, box.high.y + around}};
  };
  Drawing holes;
  std::vector<Box2> each;
  for (const auto& item : drawing.items) {
    if (item.layer != Layer::holes) continue;
    holes.items.push_back(item);
    each.push_back(widened(bounds(item.shape)));
  }
  if (each.empty()) return {};
  return {{widened(bounds(holes))}, each, {each.front()}};
}

bool holds_something(const Drawing& drawing, const Box2& window) {
  return std::any_of(drawing.items.begin(), drawing.items.end(),
                     [&window](const Item& item) { return touches(item.shape, window); });
}

// Points in the middle of the overlaps that at least two tiles show.
std::vector<Point> shared_points(const Tiling& tiling, Point top_left, const Area& area) {
  std::vector<Point> points;
  for (int row = 0; row <= tiling.rows; ++row) {
    for (int column = 0; column <= tiling.columns; ++column) {
      const Point at{top_left.x + overlap / 2 + column * (area.width - overlap),
                     top_left.y - overlap / 2 - row * (area.height - overlap)};
      const auto shows = [at](const Tile& tile) { return Box2{at, at}.overlaps(tile.window); };
      if (std::count_if(tiling.tiles.begin(), tiling.tiles.end(), shows) > 1) points.push_back(at);
    }
  }
  return points;
}

}  // namespace

bool Tiling::has(int row, int column) const {
  return std::any_of(tiles.begin(), tiles.end(), [row, column](const Tile& tile) {
    return tile.row == row && tile.column == column;
  });
}

Tiling tile(const Drawing& drawing, const box::Paper& paper) {
  const auto area = tile_area(paper);
  const auto [low, high] = bounds(drawing);
  Tiling tiling;
  tiling.columns = tiles_for(high.x - low.x, area.width);
  tiling.rows = tiles_for(high.y - low.y, area.height);
  const auto cores = cores_of(drawing);
  std::vector<std::vector<Span>> cores_x;
  std::vector<std::vector<Span>> cores_y;
  for (const auto& all : cores) {
    cores_x.emplace_back();
    cores_y.emplace_back();
    for (const auto& [core_low, core_high] : all) {
      cores_x.back().push_back({core_low.x, core_high.x});
      cores_y.back().push_back({core_low.y, core_high.y});
    }
  }
  const Point top_left{first_edge({low.x, high.x}, tiling.columns, area.width, cores_x),
                       first_edge({low.y, high.y}, tiling.rows, area.height, cores_y) +
                           tiling.rows * (area.height - overlap) + overlap};
  for (int row = 0; row < tiling.rows; ++row) {
    for (int column = 0; column < tiling.columns; ++column) {
      const auto left = top_left.x + column * (area.width - overlap);
      const auto top = top_left.y - row * (area.height - overlap);
      const Box2 window{{left, top - area.height}, {left + area.width, top}};
      if (holds_something(drawing, window)) tiling.tiles.push_back({row + 1, column + 1, window});
    }
  }
  tiling.register_at = shared_points(tiling, top_left, area);
  return tiling;
}

}  // namespace combwright::draw
