// SPDX-License-Identifier: Apache-2.0
#include "box/list_patch.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>

#include <fmt/format.h>

namespace combwright::box {
namespace {

// An item in the text, and what follows it up to the next or to the end of the list.
struct Span {
  std::size_t begin = 0;
  std::size_t end = 0;
  std::size_t gap_end = 0;
};

class ListPatch {
 public:
  ListPatch(TextPatch& patch, std::string_view text, const Entry& list)
      : patch_(patch), text_(text), begin_(patch.offset(list.value_place)) {
    for (const Item& item : list.items)
      spans_.push_back({patch.offset(item.place), patch.offset(item.end), 0});
    const std::size_t end = patch.offset(list.value_end) - 1;
    for (std::size_t i = 0; i < spans_.size(); ++i)
      spans_[i].gap_end = i + 1 < spans_.size() ? spans_[i + 1].begin : end;
  }

  void replace(std::size_t item, std::string_view with) {
    patch_.erase(spans_[item].begin, spans_[item].end);
    patch_.insert(spans_[item].begin, with);
  }

  // Items `from` up to before `to`.
  void remove(std::size_t from, std::size_t to) {
    while (from < to) {
      std::size_t last = from;
      while (last + 1 < to && beside_next(last)) ++last;
      const std::size_t comma = comma_after(last);
      std::size_t begin = spans_[from].begin;
      std::size_t end = spans_[last].end;
      if (comma != std::string_view::npos) {
        end = comma + 1;
        if (!begins_line(from))
          end = std::min(text_.find_first_not_of(blanks, end), spans_[last].gap_end);
      } else if (from > 0 && beside_next(from - 1)) {
        begin = spans_[from - 1].end;
      }
      patch_.erase_line_part(begin, end);
      from = last + 1;
    }
  }

  // New items behind `before` of the old ones.
  void insert(std::size_t before, const std::vector<std::string>& items) {
    if (spans_.empty()) {
      patch_.insert(begin_ + 1, fmt::format("{}", fmt::join(items, ", ")));
    } else if (before == 0) {
      const std::string between = begins_line(0) ? new_line(0) : " ";
      for (const std::string& item : items)
        patch_.insert(spans_.front().begin, item + "," + between);
    } else {
      insert_behind(before - 1, items);
    }
  }

 private:
  bool begins_line(std::size_t item) const {
    const std::size_t begin = patch_.line_begin(spans_[item].begin);
    return begin + patch_.indent(begin).size() == spans_[item].begin;
  }

  // A line break and the blanks before that item.
  std::string new_line(std::size_t item) const {
    return fmt::format("{}{}", patch_.line_break(), patch_.indent(spans_[item].begin));
  }

  std::size_t comma_after(std::size_t item) const {
    for (std::size_t at = spans_[item].end; at < spans_[item].gap_end; ++at) {
      if (text_[at] == ',') return at;
      if (text_[at] == '#') at = patch_.line_end(at);
    }
    return std::string_view::npos;
  }

  // No comment and no line break up to the next item.
  bool beside_next(std::size_t item) const {
    const auto gap = text_.substr(spans_[item].end, spans_[item].gap_end - spans_[item].end);
    return gap.find_first_of("#\n") == std::string_view::npos;
  }

  void insert_behind(std::size_t item, const std::vector<std::string>& items) {
    const Span& span = spans_[item];
    const std::size_t comma = comma_after(item);
    const bool ended = comma != std::string_view::npos;
    const std::size_t line = patch_.line_end(ended ? comma : span.end);
    if (!begins_line(item) || line >= span.gap_end) {
      for (const std::string& each : items) patch_.insert(span.end, ", " + each);
      return;
    }
    // Behind its comment, each on a line of its own.
    if (!ended) patch_.insert(span.end, ",");
    for (std::size_t i = 0; i < items.size(); ++i) {
      const bool comma_due = ended || i + 1 < items.size();
      patch_.insert(line, new_line(item) + items[i] + (comma_due ? "," : ""));
    }
  }

  TextPatch& patch_;
  std::string_view text_;
  std::size_t begin_;
  std::vector<Span> spans_;
};

}  // namespace

bool same_value(const Item& a, const Item& b) {
  if (a.value.index() != b.value.index()) return false;
  if (const auto* unusable = std::get_if<Unusable>(&a.value))
    return unusable->kind == std::get<Unusable>(b.value).kind;
  if (const auto* real = std::get_if<double>(&a.value)) {
    const double other = std::get<double>(b.value);
    return *real == other || (std::isnan(*real) && std::isnan(other));
  }
  if (const auto* text = std::get_if<std::string>(&a.value))
    return *text == std::get<std::string>(b.value);
  if (const auto* integer = std::get_if<std::int64_t>(&a.value))
    return *integer == std::get<std::int64_t>(b.value);
  return std::get<bool>(a.value) == std::get<bool>(b.value);
}

void patch_list(TextPatch& patch, std::string_view text, const Entry& list,
                const std::vector<Item>& wanted, const std::vector<std::string>& written) {
  const std::vector<Item>& old = list.items;
  const std::size_t shorter = std::min(old.size(), wanted.size());
  std::size_t first = 0;
  while (first < shorter && same_value(old[first], wanted[first])) ++first;
  std::size_t last = 0;
  while (last < shorter - first &&
         same_value(old[old.size() - 1 - last], wanted[wanted.size() - 1 - last]))
    ++last;
  ListPatch items(patch, text, list);
  const std::size_t changed = shorter - first - last;
  for (std::size_t i = first; i < first + changed; ++i) items.replace(i, written[i]);
  if (old.size() > shorter)
    items.remove(first + changed, old.size() - last);
  else if (wanted.size() > shorter)
    items.insert(first + changed,
                 {std::next(written.begin(), static_cast<std::ptrdiff_t>(first + changed)),
                  std::prev(written.end(), static_cast<std::ptrdiff_t>(last))});
}

}  // namespace combwright::box
