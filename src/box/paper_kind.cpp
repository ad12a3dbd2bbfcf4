// SPDX-License-Identifier: Apache-2.0
#include "box/paper_kind.h"

#include <algorithm>

#include "base/text.h"
#include "box/box_keys.h"
#include "box/shop_keys.h"

namespace combwright::box {
namespace {

bool names(const std::vector<SectionInfo>& sections, std::string_view name) {
  return std::any_of(sections.begin(), sections.end(),
                     [&](const SectionInfo& section) { return section.name == name; });
}

}  // namespace

bool is_shop_file(std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    if (!line.starts_with('[')) continue;
    line.remove_prefix(std::min(line.find_first_not_of('['), line.size()));
    const std::string_view name = trimmed(line.substr(0, line.find(']')));
    if (names(shop_schema().sections, name) && !names(box_schema().sections, name)) return true;
  }
  return false;
}

}  // namespace combwright::box
