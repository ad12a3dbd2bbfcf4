// SPDX-License-Identifier: Apache-2.0
#include "box/paper_size.h"

#include <algorithm>
#include <array>
#include <cctype>

namespace combwright::box {
namespace {

constexpr std::array<PaperSize, 9> sizes = {{
    {"A0", 0.841, 1.189},
    {"A1", 0.594, 0.841},
    {"A2", 0.420, 0.594},
    {"A3", 0.297, 0.420},
    {"A4", 0.210, 0.297},
    {"A5", 0.148, 0.210},
    {"Letter", 0.2159, 0.2794},
    {"Legal", 0.2159, 0.3556},
    {"Tabloid", 0.2794, 0.4318},
}};

bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](unsigned char x, unsigned char y) {
    return std::tolower(x) == std::tolower(y);
  });
}

}  // namespace

std::optional<PaperSize> paper_size(std::string_view name) {
  const auto* const found = std::find_if(sizes.begin(), sizes.end(), [&](const PaperSize& size) {
    return same_word(size.name, name);
  });
  if (found == sizes.end()) return std::nullopt;
  return *found;
}

std::string paper_names() {
  std::string names;
  for (const PaperSize& size : sizes) {
    if (!names.empty()) names += &size == &sizes.back() ? " or " : ", ";
    names += size.name;
  }
  return names;
}

}  // namespace combwright::box
