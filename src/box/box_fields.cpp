// SPDX-License-Identifier: Apache-2.0
#include "box/box_fields.h"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "base/error.h"
#include "box/box_keys.h"
#include "box/key_reader.h"
#include "box/value_text.h"

namespace combwright::box {
namespace {

// The box as far as its keys can be read one by one; nothing if one can't.
std::optional<Box> read_loosely(std::string_view text, const std::string& file) {
  try {
    return read_keys(box_schema(), text, file).value;
  } catch (const Error&) {
    return std::nullopt;
  }
}

std::optional<std::string> without_the_text(const Key<Box>& key, std::size_t row,
                                            const std::optional<Box>& box) {
  if (key.info.absent == Otherwise::fallback) return field_text(key.info, fallback_value(key.info));
  if (key.info.absent == Otherwise::required || !box) return std::nullopt;
  return field_text(key.info, key.derive(*box, row));
}

Field field_of(const Key<Box>& key, std::size_t row, const Entry* entry,
               const std::optional<Box>& box) {
  Field field{.key = &key.info, .row = row, .otherwise = without_the_text(key, row, box)};
  if (entry != nullptr) {
    field.value = field_text(key.info, *entry);
    field.source = Source::given;
    field.first_line = entry->place.line.value_or(0);
    field.last_line = entry->value_end.line.value_or(0);
  } else if (key.info.absent != Otherwise::required) {
    field.value = field.otherwise;
    field.source = key.info.absent == Otherwise::derived ? Source::derived : Source::fallback;
  }
  return field;
}

}  // namespace

std::string BoxFields::at_line(std::size_t line) const {
  for (const Field& field : fields)
    if (line >= field.first_line && line <= field.last_line && line > 0)
      return full_name(*field.key, field.row);
  for (std::size_t i = 0; i < section_lines.size(); ++i)
    if (section_lines[i] == line) return section_names[i];
  return {};
}

BoxFields box_fields(std::string_view text, const std::string& file) {
  const Document document = parse_document(text, file);
  const std::optional<Box> box = read_loosely(text, file);
  const Schema<Box>& schema = box_schema();
  BoxFields result;
  std::map<std::string_view, std::size_t> rows;
  for (const Section& section : document.sections) {
    const std::size_t row = rows[section.name]++;
    result.section_lines.push_back(section.place.line.value_or(0));
    result.section_names.push_back(row == 0 ? section.name
                                            : fmt::format("{} {}", section.name, row + 1));
  }
  const auto add = [&](std::string_view section, std::size_t row) {
    for (const Key<Box>& key : schema.keys) {
      if (key.info.section != section) continue;
      const auto entry =
          std::find_if(document.entries.begin(), document.entries.end(), [&](const Entry& e) {
            return e.section == section && e.row == row && e.key == key.info.name;
          });
      result.fields.push_back(
          field_of(key, row, entry == document.entries.end() ? nullptr : &*entry, box));
    }
  };
  add("", 0);
  for (const SectionInfo& section : schema.sections) {
    const std::size_t count =
        section.repeated()
            ? std::clamp(rows[section.name], section.least_rows, section.greatest_rows)
            : 1;
    for (std::size_t row = 0; row < count; ++row) add(section.name, row);
  }
  return result;
}

}  // namespace combwright::box
