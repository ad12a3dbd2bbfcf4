// SPDX-License-Identifier: Apache-2.0
#include "box/edit_lines.h"

#include <algorithm>

#include "box/box_keys.h"
#include "box/document.h"
#include "box/key_reader.h"
#include "box/value_text.h"

namespace combwright::box {

std::vector<KeyEdit> edits_of(std::string_view lines, const std::string& file) {
  const Document document = parse_document(lines, file);
  const std::vector<KeyInfo> keys = infos(box_schema());
  check_names(document, box_schema().thing, box_schema().sections, keys);
  std::vector<KeyEdit> edits;
  edits.reserve(document.entries.size());
  for (const Entry& entry : document.entries) {
    const auto key = std::find_if(keys.begin(), keys.end(), [&](const KeyInfo& info) {
      return info.section == entry.section && info.name == entry.key;
    });
    edits.push_back({.section = entry.section,
                     .row = entry.row,
                     .name = entry.key,
                     .value = field_text(*key, entry)});
  }
  return edits;
}

}  // namespace combwright::box
