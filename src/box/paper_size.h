// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace combwright::box {

// A size of paper, upright.
struct PaperSize {
  std::string_view name;
  double width_m = 0.0;
  double height_m = 0.0;
};

// The size of that name, in capitals or not: A0 to A5 (ISO 216), Letter and Tabloid (sizes A and B
// of ANSI/ASME Y14.1) and Legal (8 1/2 in by 14 in, from memory). Nothing if it is none of these.
std::optional<PaperSize> paper_size(std::string_view name);

// "A0, A1, ... or Tabloid".
std::string paper_names();

}  // namespace combwright::box
