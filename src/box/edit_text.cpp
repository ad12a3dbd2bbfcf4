// SPDX-License-Identifier: Apache-2.0
#include "box/edit_text.h"

#include <algorithm>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "box/document.h"
#include "box/key_value.h"
#include "box/list_patch.h"
#include "box/text_patch.h"
#include "box/value_text.h"

namespace combwright::box {
namespace {

// What a document says, wherever it says it.
using Address = std::tuple<std::string, std::size_t, std::string>;
using Said = std::map<Address, std::pair<bool, std::vector<Item>>>;

Said said_by(const Document& document) {
  Said said;
  for (const Entry& entry : document.entries)
    said[{entry.section, entry.row, entry.key}] = {entry.is_list, entry.items};
  return said;
}

bool same(const Said& a, const Said& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
    const auto& [list, items] = x.second;
    const auto& [other_list, others] = y.second;
    return x.first == y.first && list == other_list &&
           std::equal(items.begin(), items.end(), others.begin(), others.end(), same_value);
  });
}

// The value alone, as the parser takes it.
Entry entry_of(const KeyInfo& key, const std::vector<std::string>& items, const Place& place) {
  const std::string value = fmt::format("{}", fmt::join(items, ",\n"));
  Document document = parse_document(
      is_list(key.kind) ? fmt::format("v = [{}]", value) : "v = " + value, place.file);
  Entry entry = std::move(document.entries.front());
  for (Item& item : entry.items) item.place = place;
  entry.value_place = place;
  return entry;
}

class Editor {
 public:
  Editor(std::string_view text, const std::string& file, const std::vector<SectionInfo>& sections,
         const std::vector<KeyInfo>& keys)
      : text_(text),
        file_(file),
        sections_(sections),
        keys_(keys),
        document_(parse_document(text, file)),
        patch_(text),
        expected_(said_by(document_)) {}

  std::string edited(const KeyEdit& edit) {
    if (edit.name.empty() && !edit.value)
      remove_row(edit);
    else if (!edit.value)
      remove(edit);
    else
      set(edit);
    std::string result = patch_.applied();
    if (!same(said_by(parse_document(result, file_)), expected_)) refuse_layout(edit);
    return result;
  }

 private:
  [[noreturn]] void refuse_layout(const KeyEdit& edit) const {
    throw Error(
        {.file = file_},
        fmt::format("{}{}{} can't be changed without a hand, as this file is laid out; "
                    "change it in the file itself",
                    edit.section, edit.section.empty() || edit.name.empty() ? "" : ".", edit.name));
  }

  const KeyInfo& key_of(const KeyEdit& edit) const {
    const auto found = std::find_if(keys_.begin(), keys_.end(), [&](const KeyInfo& key) {
      return key.section == edit.section && key.name == edit.name;
    });
    if (found == keys_.end())
      throw Error({.file = file_}, fmt::format("there is no key {}{}{}", edit.section,
                                               edit.section.empty() ? "" : ".", edit.name));
    return *found;
  }

  const Entry* find(const std::string& section, std::size_t row, std::string_view name) const {
    for (const Entry& entry : document_.entries)
      if (entry.section == section && entry.row == row && entry.key == name) return &entry;
    return nullptr;
  }

  std::vector<const Section*> rows_of(std::string_view name) const {
    std::vector<const Section*> rows;
    for (const Section& section : document_.sections)
      if (section.name == name) rows.push_back(&section);
    return rows;
  }

  // Whether the section has a line of its own, [name] or [[name]].
  bool has_header(const Section& section) const {
    const std::size_t at = patch_.offset(section.place);
    return text_.substr(at).starts_with('[') &&
           patch_.line_begin(at) + patch_.indent(at).size() == at &&
           !(section.repeated && !text_.substr(at).starts_with("[["));
  }

  bool begins_line(std::size_t at) const {
    return patch_.line_begin(at) + patch_.indent(at).size() == at;
  }

  void remove(const KeyEdit& edit) {
    key_of(edit);
    const Entry* entry = find(edit.section, edit.row, edit.name);
    if (entry == nullptr) return;
    if (!begins_line(patch_.offset(entry->place))) refuse_layout(edit);
    patch_.erase_line_part(patch_.offset(entry->place), patch_.offset(entry->value_end));
    expected_.erase({edit.section, edit.row, edit.name});
  }

  void set(const KeyEdit& edit) {
    const KeyInfo& key = key_of(edit);
    const Entry* old = find(edit.section, edit.row, edit.name);
    const Place place = old != nullptr ? old->value_place : Place{.file = file_};
    const std::vector<std::string> items = written_items(key, *edit.value, place);
    const Entry wanted = entry_of(key, items, place);
    static_cast<void>(read_value(key, wanted));
    if (old == nullptr)
      add(edit, fmt::format(
                    "{} = {}", edit.name,
                    wanted.is_list ? fmt::format("[{}]", fmt::join(items, ", ")) : items.front()));
    else if (old->is_list && wanted.is_list)
      patch_list(patch_, text_, *old, wanted.items, items);
    else
      replace(*old, wanted, items);
    expected_[{edit.section, edit.row, edit.name}] = {wanted.is_list, wanted.items};
  }

  void replace(const Entry& old, const Entry& wanted, const std::vector<std::string>& items) {
    if (!old.is_list && !wanted.is_list && same_value(old.items.front(), wanted.items.front()))
      return;
    const std::size_t at = patch_.offset(old.value_place);
    patch_.erase(at, patch_.offset(old.value_end));
    patch_.insert(at, wanted.is_list ? fmt::format("[{}]", fmt::join(items, ", ")) : items.front());
  }

  void add(const KeyEdit& edit, const std::string& line) {
    if (edit.section.empty()) {
      add_before_sections(edit, line);
      return;
    }
    const std::vector<const Section*> rows = rows_of(edit.section);
    if (edit.row < rows.size())
      add_to(edit, *rows[edit.row], line);
    else
      add_section(edit, rows, line);
  }

  // The last given one of the keys that stand before it in the table.
  const Entry* before(const KeyEdit& edit) const {
    const Entry* found = nullptr;
    for (const KeyInfo& key : keys_) {
      if (key.section != edit.section) continue;
      if (key.name == edit.name) break;
      if (const Entry* entry = find(edit.section, edit.row, key.name)) found = entry;
    }
    return found;
  }

  void insert_behind_line(std::size_t at, std::string_view indent, const std::string& line) {
    patch_.insert(patch_.line_end(at), fmt::format("{}{}{}", patch_.line_break(), indent, line));
  }

  void add_before_sections(const KeyEdit& edit, const std::string& line) {
    if (const Entry* entry = before(edit)) {
      insert_behind_line(patch_.offset(entry->value_end), "", line);
      return;
    }
    // Below the words that the file begins with.
    std::size_t at = 0;
    while (text_.substr(at).starts_with('#'))
      at = std::min(text_.find('\n', at), text_.size() - 1) + 1;
    const bool open = at > 0 && text_[at - 1] != '\n';
    patch_.insert(
        at, fmt::format("{}{}{}", open ? patch_.line_break() : "", line, patch_.line_break()));
  }

  void add_to(const KeyEdit& edit, const Section& section, const std::string& line) {
    if (!has_header(section)) refuse_layout(edit);
    const Entry* entry = before(edit);
    const std::size_t at =
        entry != nullptr ? patch_.offset(entry->value_end) : patch_.offset(section.place);
    std::string_view indent;
    for (const Entry& other : document_.entries)
      if (other.section == edit.section && other.row == edit.row) {
        indent = patch_.indent(patch_.offset(other.place));
        break;
      }
    insert_behind_line(at, indent, line);
  }

  // The end of the last line that says something in that row of a section.
  std::size_t end_of(const Section& section, std::size_t row) const {
    std::size_t end = patch_.line_end(patch_.offset(section.place));
    for (const Entry& entry : document_.entries)
      if (entry.section == section.name && entry.row == row)
        end = std::max(end, patch_.line_end(patch_.offset(entry.value_end)));
    return end;
  }

  // The end of the last section given of those before it in the table.
  std::size_t where_section_goes(std::string_view name) const {
    std::size_t at = text_.size();
    for (const Entry& entry : document_.entries)
      if (entry.section.empty()) at = patch_.line_end(patch_.offset(entry.value_end));
    for (const SectionInfo& info : sections_) {
      const std::vector<const Section*> rows = rows_of(info.name);
      if (!rows.empty() && has_header(*rows.back())) at = end_of(*rows.back(), rows.size() - 1);
      if (info.name == name) break;
    }
    return at;
  }

  void add_section(const KeyEdit& edit, const std::vector<const Section*>& rows,
                   const std::string& line) {
    const auto info = std::find_if(sections_.begin(), sections_.end(),
                                   [&](const SectionInfo& s) { return s.name == edit.section; });
    const std::size_t most = info->repeated() ? info->greatest_rows : 1;
    if (edit.row >= most || edit.row > rows.size())
      throw Error({.file = file_}, fmt::format("a [[{}]] number {} can't stand in this file",
                                               edit.section, edit.row + 1));
    const std::size_t at = where_section_goes(edit.section);
    const std::string_view broken = patch_.line_break();
    const bool begins = at == 0 || text_[at - 1] == '\n';
    const std::string_view gap = at == 0 ? "" : broken;
    patch_.insert(at, fmt::format(fmt::runtime(info->repeated() ? "{0}{1}[[{2}]]{3}{4}{5}"
                                                                : "{0}{1}[{2}]{3}{4}{5}"),
                                  gap, begins ? "" : broken, edit.section, broken, line,
                                  at == text_.size() ? broken : ""));
  }

  void remove_row(const KeyEdit& edit) {
    const std::vector<const Section*> rows = rows_of(edit.section);
    if (edit.row >= rows.size() || !has_header(*rows[edit.row])) refuse_layout(edit);
    const Section& section = *rows[edit.row];
    const std::size_t begin = patch_.line_begin(patch_.offset(section.place));
    std::size_t end = std::min(end_of(section, edit.row) + 1, text_.size());
    if (end < text_.size() && text_[end - 1] == '\r') ++end;
    // One of the empty lines around it.
    const std::size_t next = patch_.line_end(end);
    if (end < text_.size() &&
        text_.substr(end, next - end).find_first_not_of(" \t") == std::string_view::npos)
      end = std::min(text_.find('\n', next), text_.size() - 1) + 1;
    patch_.erase(begin, end);
    Said left;
    for (auto& [address, value] : expected_) {
      const auto& [name, row, key] = address;
      if (name != edit.section || row < edit.row)
        left[address] = value;
      else if (row > edit.row)
        left[{name, row - 1, key}] = value;
    }
    expected_ = std::move(left);
  }

  std::string_view text_;
  const std::string& file_;
  const std::vector<SectionInfo>& sections_;
  const std::vector<KeyInfo>& keys_;
  Document document_;
  TextPatch patch_;
  Said expected_;
};

}  // namespace

std::string edit_text(std::string_view text, const std::string& file,
                      const std::vector<SectionInfo>& sections, const std::vector<KeyInfo>& keys,
                      const std::vector<KeyEdit>& edits) {
  std::string edited(text);
  for (const KeyEdit& edit : edits) edited = Editor(edited, file, sections, keys).edited(edit);
  return edited;
}

}  // namespace combwright::box
