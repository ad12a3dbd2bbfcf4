// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/shop.h"
#include "draw/shape.h"

namespace combwright::draw {

// One sheet of a drawing cut up for small paper: row 1 is the top one, column 1 the left one.
struct Tile {
  int row = 1;
  int column = 1;
  Box2 window;  // what it shows, in the drawing's lattice
};

struct Tiling {
  int rows = 1;
  int columns = 1;
  std::vector<Tile> tiles;         // those with something on them, row by row
  std::vector<Point> register_at;  // marks that two or four neighbours share

  // True if there is a tile at this place: in range and not left out.
  bool has(int row, int column) const;
};

// The strip under every tile for its label, the level check bar and the key map, and the one at its
// left for the upright bar.
inline constexpr double tile_strip_mm = 20.0;
inline constexpr double tile_side_mm = 8.0;
inline constexpr double tile_overlap_mm = 10.0;

// Cuts the drawing into tiles of the paper's size less margins and strip, each sharing an overlap
// with its neighbours. The seams keep off the middle with all holes, or at least off every hole, or
// off the first of them, where the sheets have the room to be shifted. Throws Error if the paper
// has no room for a 100 mm check bar.
Tiling tile(const Drawing& drawing, const box::Paper& paper);

}  // namespace combwright::draw
