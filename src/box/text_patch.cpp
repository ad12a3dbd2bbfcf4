// SPDX-License-Identifier: Apache-2.0
#include "box/text_patch.h"

#include <algorithm>

namespace combwright::box {
namespace {}  // namespace

TextPatch::TextPatch(std::string_view text) : text_(text) {
  const std::size_t end = text.find('\n');
  if (end != std::string_view::npos && end > 0 && text[end - 1] == '\r') line_break_ = "\r\n";
}

std::size_t TextPatch::offset(const Place& place) const {
  std::size_t at = 0;
  for (std::size_t line = 1; line < place.line.value_or(1); ++line) {
    at = text_.find('\n', at);
    if (at == std::string_view::npos) return text_.size();
    ++at;
  }
  for (std::size_t column = 1; column < place.column.value_or(1) && at < text_.size(); ++column) {
    ++at;
    while (at < text_.size() && (static_cast<unsigned char>(text_[at]) & 0xC0) == 0x80) ++at;
  }
  return at;
}

std::size_t TextPatch::line_begin(std::size_t offset) const {
  const std::size_t before = offset == 0 ? std::string_view::npos : text_.rfind('\n', offset - 1);
  return before == std::string_view::npos ? 0 : before + 1;
}

std::size_t TextPatch::line_end(std::size_t offset) const {
  const std::size_t end = std::min(text_.find('\n', offset), text_.size());
  return end > offset && end < text_.size() && text_[end - 1] == '\r' ? end - 1 : end;
}

std::string_view TextPatch::indent(std::size_t offset) const {
  const std::size_t begin = line_begin(offset);
  const std::size_t end = std::min(text_.find_first_not_of(blanks, begin), text_.size());
  return text_.substr(begin, end - begin);
}

void TextPatch::erase(std::size_t from, std::size_t to) {
  std::size_t& end = erased_[from];
  end = std::max(end, to);
}

void TextPatch::erase_line_part(std::size_t from, std::size_t to) {
  const std::size_t begin = line_begin(from);
  const std::size_t end = line_end(to);
  const bool first =
      text_.substr(begin, from - begin).find_first_not_of(blanks) == std::string_view::npos;
  const std::size_t rest = std::min(text_.find_first_not_of(blanks, to), end);
  if (!first || (rest < end && text_[rest] != '#')) {
    erase(from, to);
  } else if (rest < end) {
    erase(from, rest);
  } else {
    erase(begin, std::min(text_.find('\n', end), text_.size() - 1) + 1);
  }
}

void TextPatch::insert(std::size_t at, std::string_view what) {
  inserted_[at] += what;
}

std::string TextPatch::applied() const {
  std::string out;
  std::size_t done = 0;
  const auto copy_to = [&](std::size_t to) {
    if (to <= done) return;
    out += text_.substr(done, to - done);
    done = to;
  };
  auto next = inserted_.begin();
  const auto insert_to = [&](std::size_t to) {
    for (; next != inserted_.end() && next->first <= to; ++next) {
      copy_to(next->first);
      out += next->second;
    }
  };
  for (const auto& [from, to] : erased_) {
    insert_to(from);
    copy_to(from);
    done = std::max(done, to);
  }
  insert_to(text_.size());
  copy_to(text_.size());
  return out;
}

}  // namespace combwright::box
