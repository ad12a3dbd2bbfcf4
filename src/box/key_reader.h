// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "box/document.h"
#include "box/key_value.h"
#include "box/keys.h"
#include "box/note_list.h"
#include "box/setting.h"

namespace combwright::box {

// Where each key stood in the file, by section, row and name; for what is wrong with several keys
// together.
class Places {
 public:
  explicit Places(std::string file) : file_(std::move(file)) {}

  void add(std::string_view section, std::size_t row, std::string_view key, const Place& place) {
    places_[{std::string(section), row, std::string(key)}] = place;
  }
  void add_notes(std::vector<NoteCount> notes) { notes_ = std::move(notes); }
  // The texts of the one list of notes that a file can have.
  const std::vector<NoteCount>& notes() const { return notes_; }

  // The key's value, else its section, else the file.
  Place of(std::string_view section, std::string_view key, std::size_t row = 0) const;

 private:
  std::string file_;
  std::map<std::tuple<std::string, std::size_t, std::string>, Place> places_;
  std::vector<NoteCount> notes_;
};

// The file's sections and keys must be ones of the table; suggests a near one for those that are
// not. Throws Error.
void check_names(const Document& document, std::string_view thing,
                 const std::vector<SectionInfo>& sections, const std::vector<KeyInfo>& keys);

// How many times the section stands in the document.
std::size_t rows_of(const Document& document, const SectionInfo& section, const std::string& file);

// Places of all sections and keys of the document.
Places places_of(const Document& document, const std::string& file);

[[noreturn]] void refuse_missing(const KeyInfo& key, std::size_t row, const Places& places);

// Throws Error if a derived value lies out of the key's bounds.
void check_derived(const KeyInfo& key, std::size_t row, const Value& value, const Places& places);

template <typename T>
std::vector<KeyInfo> infos(const Schema<T>& schema) {
  std::vector<KeyInfo> result;
  for (const Key<T>& key : schema.keys) result.push_back(key.info);
  return result;
}

template <typename T>
struct KeyReading {
  T value;
  std::vector<Setting> settings;  // in the order of the table
  Places places;
};

// Fills a T from the text by its schema: given keys, then fallbacks, then derived keys. Throws
// Error with line and column.
template <typename T>
KeyReading<T> read_keys(const Schema<T>& schema, std::string_view text, const std::string& file) {
  const Document document = parse_document(text, file);
  check_names(document, schema.thing, schema.sections, infos(schema));
  KeyReading<T> reading{.value = {}, .settings = {}, .places = places_of(document, file)};

  std::map<std::string_view, std::size_t> rows{{"", 1}};
  for (const SectionInfo& section : schema.sections) {
    rows[section.name] = section.repeated() ? rows_of(document, section, file) : 1;
    if (section.repeated()) schema.resize(reading.value, section.name, rows[section.name]);
  }

  std::map<std::pair<std::size_t, std::size_t>, Setting> settings;
  const auto settle = [&](std::size_t index, std::size_t row, const Value& value, Source source) {
    const Key<T>& key = schema.keys[index];
    key.set(reading.value, row, value);
    settings[{index, row}] = {
        .key = full_name(key.info, row), .value = to_text(key.info, value), .source = source};
  };
  const auto find = [&](const Entry& entry) {
    std::size_t index = 0;
    while (schema.keys[index].info.section != entry.section ||
           schema.keys[index].info.name != entry.key)
      ++index;
    return index;
  };
  for (const Entry& entry : document.entries) {
    const std::size_t index = find(entry);
    const KeyInfo& info = schema.keys[index].info;
    settle(index, entry.row, read_value(info, entry), Source::given);
    if (info.kind == Kind::notes) reading.places.add_notes(count_notes(entry));
  }
  for (const Otherwise pass : {Otherwise::fallback, Otherwise::required, Otherwise::derived}) {
    for (std::size_t index = 0; index < schema.keys.size(); ++index) {
      const Key<T>& key = schema.keys[index];
      if (key.info.absent != pass) continue;
      for (std::size_t row = 0; row < rows[key.info.section]; ++row) {
        if (settings.count({index, row}) > 0) continue;
        if (pass == Otherwise::required) refuse_missing(key.info, row, reading.places);
        if (pass == Otherwise::fallback) {
          settle(index, row, fallback_value(key.info), Source::fallback);
        } else {
          const Value value = key.derive(reading.value, row);
          check_derived(key.info, row, value, reading.places);
          settle(index, row, value, Source::derived);
        }
      }
    }
  }
  for (auto& [place, setting] : settings) reading.settings.push_back(std::move(setting));
  return reading;
}

}  // namespace combwright::box
