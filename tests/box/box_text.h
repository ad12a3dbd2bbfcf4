// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "base/error.h"
#include "box/box_reader.h"

namespace combwright::box {

// The shortest box there is: every required key, one a line. Invented.
inline const std::string short_box = R"(name = "short"
[disc]
diameter = "100 mm"
centre_hole_diameter = "6 mm"
[projection]
length = "1.2 mm"
width = "1.1 mm"
height = "0.9 mm"
[tracks]
inner_radius = "30 mm"
pitch = "2 mm"
[star_wheel]
tip_radius = "2.55 mm"
axis_below_disc = "3.05 mm"
tooth_overlap = "0.06 mm"
[[comb]]
longest_tooth = "40 mm"
shortest_tooth = "20 mm"
[scale]
notes = ["C5 D5 E5 G5*2"]
[motor]
turn_time = "30 s"
most_plucks = 3
)";

// The text with its one `from` replaced.
inline std::string with(std::string text, std::string_view from, std::string_view to) {
  const std::size_t place = text.find(from);
  if (place == std::string::npos) return "not in the text: " + std::string(from);
  return text.replace(place, from.size(), to);
}

// What the reader says of the text, as the user sees it; empty if it reads it.
inline std::string refusal(const std::string& text) {
  try {
    read_box(text, "b.toml");
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

}  // namespace combwright::box
