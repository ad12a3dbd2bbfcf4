// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>

#include "draw/bench_table.h"
#include "draw/pack_document.h"

namespace combwright::draw {

// Height of so many rows of a table that stand side by side in as many columns as the page has room
// for, with their heads, all on one page.
double side_by_side_mm(const PackDocument& document, std::size_t rows);

// Writes them as evenly as can be, over as many pages as they need. `write` puts `count` rows from
// `first` on, and the heads above them, at a place.
void write_side_by_side(PackDocument& document, std::size_t rows,
                        const std::function<void(const BenchPlace& place, std::size_t first,
                                                 std::size_t count)>& write);

}  // namespace combwright::draw
