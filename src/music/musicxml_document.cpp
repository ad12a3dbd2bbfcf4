// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_document.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "music/musicxml_text.h"

namespace combwright::music::musicxml {
namespace {

// An element takes 64 bytes of the parser's memory and at least four of the file's. This many
// tags, opening and closing, keep the worst file below half a gigabyte.
constexpr std::ptrdiff_t max_tags = 6'000'000;

}  // namespace

Document::Document(std::string_view bytes, std::string name)
    : name_(std::move(name)), text_(to_utf8(bytes)) {
  if (std::count(text_.begin(), text_.end(), '<') > max_tags)
    throw Error({name_}, fmt::format("more than {} tags; a smaller score would do", max_tags));
  const pugi::xml_parse_result result =
      xml_.load_buffer(text_.data(), text_.size(), pugi::parse_default | pugi::parse_embed_pcdata,
                       pugi::encoding_utf8);
  if (!result) {
    throw Error(
        place_at(static_cast<std::size_t>(std::max<std::ptrdiff_t>(result.offset, 0))),
        fmt::format("not well-formed XML ({}); a MusicXML score would do", result.description()));
  }
}

Place Document::place(pugi::xml_node element) const {
  const std::ptrdiff_t offset = element.offset_debug();
  // The offset is that of the element's name, one after its '<'.
  return offset > 0 ? place_at(static_cast<std::size_t>(offset - 1)) : Place{name_};
}

Place Document::place_at(std::size_t offset) const {
  const std::string_view before = std::string_view(text_).substr(0, offset);
  const std::size_t line_start = before.rfind('\n') + 1;
  const auto line = static_cast<std::size_t>(std::count(before.begin(), before.end(), '\n'));
  return {name_, line + 1, before.size() - line_start + 1};
}

Error Document::error(pugi::xml_node element, const std::string& message) const {
  return {place(element), message};
}

void Remarks::add(Level level, const std::string& what, const std::string& remedy,
                  pugi::xml_node where) {
  Remark& remark = remarks_[what];
  if (remark.count++ == 0) remark.first = {level, to_text(document_->place(where)), what, remedy};
}

Findings Remarks::findings() const {
  Findings findings;
  for (const auto& [what, remark] : remarks_) {
    findings.push_back(remark.first);
    if (remark.count > 1) findings.back().what += fmt::format(" ({} times)", remark.count);
  }
  return findings;
}

}  // namespace combwright::music::musicxml
