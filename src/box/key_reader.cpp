// SPDX-License-Identifier: Apache-2.0
#include "box/key_reader.h"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "base/suggest.h"

namespace combwright::box {
namespace {

// "tip_radius" for "tip_diameter".
std::string radius_for_diameter(std::string word) {
  constexpr std::string_view diameter = "diameter";
  const std::size_t at = word.find(diameter);
  return at == std::string::npos ? word : word.replace(at, diameter.size(), "radius");
}

// "; did you mean "disc"?", or all that would do.
std::string remedy(const std::string& word, const std::vector<std::string>& known) {
  const std::string nearest = nearest_word(word, known);
  if (!nearest.empty()) return fmt::format("did you mean \"{}\"?", nearest);
  const std::string other = radius_for_diameter(word);
  if (std::find(known.begin(), known.end(), other) != known.end())
    return fmt::format("did you mean \"{}\", half of the diameter?", other);
  return fmt::format("write one of: {}", fmt::join(known, ", "));
}

std::vector<std::string> key_names(const std::vector<KeyInfo>& keys, std::string_view section) {
  std::vector<std::string> names;
  for (const KeyInfo& key : keys)
    if (key.section == section) names.emplace_back(key.name);
  return names;
}

// A section that tells a box file from a shop file is named where the other was due.
void check_kind(const Section& section, std::string_view thing) {
  const auto is_one_of = [&](std::initializer_list<std::string_view> names) {
    return std::find(names.begin(), names.end(), section.name) != names.end();
  };
  std::string_view found;
  if (thing == "shop" && is_one_of({"disc", "projection", "tracks", "star_wheel", "comb", "scale"}))
    found = "box";
  if (thing == "box" && is_one_of({"punch", "paper", "sheet", "tolerance"})) found = "shop";
  if (found.empty()) return;
  throw Error(section.place, fmt::format("[{}] stands in a {} file: this is a {} file; give a {} "
                                         "file here",
                                         section.name, found, found, thing));
}

void check_section(const Section& section, std::string_view thing,
                   const std::vector<SectionInfo>& sections) {
  const auto found = std::find_if(sections.begin(), sections.end(),
                                  [&](const SectionInfo& s) { return s.name == section.name; });
  if (found == sections.end()) {
    check_kind(section, thing);
    std::vector<std::string> names;
    names.reserve(sections.size());
    for (const SectionInfo& s : sections) names.emplace_back(s.name);
    throw Error(section.place, fmt::format("a {} has no section \"{}\"; {}", thing, section.name,
                                           remedy(section.name, names)));
  }
  if (section.repeated && !found->repeated())
    throw Error(section.place,
                fmt::format("[[{0}]] stands once in a {1}; write [{0}]", section.name, thing));
  if (!section.repeated && found->repeated())
    throw Error(section.place, fmt::format("[{0}] can stand more than once in a {1}; write [[{0}]]",
                                           section.name, thing));
}

void check_entry(const Entry& entry, std::string_view thing,
                 const std::vector<SectionInfo>& sections, const std::vector<KeyInfo>& keys) {
  const bool known = std::any_of(keys.begin(), keys.end(), [&](const KeyInfo& key) {
    return key.section == entry.section && key.name == entry.key;
  });
  if (known) return;
  const std::string owner =
      entry.section.empty() ? fmt::format("a {}", thing) : fmt::format("[{}]", entry.section);
  const bool section_as_value =
      entry.section.empty() && std::any_of(sections.begin(), sections.end(),
                                           [&](const auto& s) { return s.name == entry.key; });
  if (section_as_value) {
    throw Error(entry.place,
                fmt::format("\"{0}\" is a section, not a key; write [{0}] and its keys below it",
                            entry.key));
  }
  throw Error(entry.place, fmt::format("{} has no key \"{}\"; {}", owner, entry.key,
                                       remedy(entry.key, key_names(keys, entry.section))));
}

}  // namespace

std::string_view to_text(Source source) {
  switch (source) {
    case Source::given:
      return "given";
    case Source::derived:
      return "derived";
    case Source::fallback:
      return "default";
  }
  return "";
}

Place Places::of(std::string_view section, std::string_view key, std::size_t row) const {
  for (const std::string_view name : {key, std::string_view()}) {
    const auto found = places_.find({std::string(section), row, std::string(name)});
    if (found != places_.end()) return found->second;
  }
  return {.file = file_};
}

void check_names(const Document& document, std::string_view thing,
                 const std::vector<SectionInfo>& sections, const std::vector<KeyInfo>& keys) {
  for (const Section& section : document.sections) check_section(section, thing, sections);
  for (const Entry& entry : document.entries) check_entry(entry, thing, sections, keys);
}

std::size_t rows_of(const Document& document, const SectionInfo& section, const std::string& file) {
  std::size_t rows = 0;
  for (const Section& found : document.sections) {
    if (found.name != section.name) continue;
    if (++rows > section.greatest_rows)
      throw Error(found.place, fmt::format("is one [[{}]] too many; at most {} can stand here",
                                           section.name, section.greatest_rows));
  }
  if (rows < section.least_rows)
    throw Error({.file = file}, fmt::format("has no [[{}]]; at least {} is needed", section.name,
                                            section.least_rows));
  return rows;
}

Places places_of(const Document& document, const std::string& file) {
  Places places(file);
  std::map<std::string_view, std::size_t> rows;
  for (const Section& section : document.sections)
    places.add(section.name, rows[section.name]++, "", section.place);
  for (const Entry& entry : document.entries)
    places.add(entry.section, entry.row, entry.key, entry.value_place);
  return places;
}

void check_derived(const KeyInfo& key, std::size_t row, const Value& value, const Places& places) {
  const std::string problem = bounds_problem(key, value);
  if (problem.empty()) return;
  throw Error(places.of(key.section, key.name, row),
              fmt::format("{} ({}) {}; give it or correct what it comes from", full_name(key, row),
                          key.otherwise, problem));
}

void refuse_missing(const KeyInfo& key, std::size_t row, const Places& places) {
  std::string help(key.help);
  help.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(help.front())));
  help.pop_back();
  const bool quantity = key.kind == Kind::quantity || key.kind == Kind::quantities;
  throw Error(places.of(key.section, "", row),
              fmt::format("{} is missing; give it {} {} ({})", full_name(key, row),
                          quantity ? "in" : "as", what_to_write(key), help));
}

}  // namespace combwright::box
