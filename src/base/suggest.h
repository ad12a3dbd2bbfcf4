// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace combwright {

// How many letters must be put in, taken out, changed or swapped with their neighbour to get from
// one word to the other (optimal string alignment distance; Damerau 1964).
std::size_t edit_distance(std::string_view a, std::string_view b);

// The known word nearest to `word`, empty if none is near enough to be a slip of the pen.
std::string nearest_word(std::string_view word, const std::vector<std::string>& known);

}  // namespace combwright
