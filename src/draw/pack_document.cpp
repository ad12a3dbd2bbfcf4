// SPDX-License-Identifier: Apache-2.0
#include "draw/pack_document.h"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "base/error.h"
#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

constexpr double section_head_mm = 13.0;
constexpr double between_sections_mm = 8.0;

PageSize page_of(const box::Paper& paper) {
  constexpr double a5_width_m = 0.148;  // ISO 216
  constexpr double a5_height_m = 0.210;
  if (!(paper.width_m >= a5_width_m && paper.height_m >= a5_height_m)) {
    throw Error({}, "paper \"" + label(paper.name) +
                        "\" is too small for the pack; take A5 upright or larger");
  }
  return {paper.width_m * 1000.0, paper.height_m * 1000.0};
}

PdfInfo info_of(const PageHeading& heading) {
  return {dashed(label(heading.subject) + " - " + label(heading.box)),
          "Sheets for the workshop, " + source_words(heading.stamp), heading.stamp.date};
}

}  // namespace

Findings all_findings(const PackInput& input) {
  return merged({&input.arrangement.findings, &input.disc.findings});
}

PackDocument::PackDocument(PageHeading heading, const box::Paper& paper, const PageNumbers& numbers)
    : heading_(std::move(heading)),
      page_(page_of(paper)),
      margin_mm_(std::clamp(paper.margin_m * 1000.0, 15.0, 25.0)),
      numbers_(numbers),
      pages_(page_, info_of(heading_)) {}

void PackDocument::turn_page() {
  if (number_ > 0) {
    foot();
    pages_.end_page();
  }
  ++number_;
  y_ = margin_mm_;
}

void PackDocument::new_page(std::string_view section) {
  turn_page();
  section_ = section;
  if (!section_.empty()) section_head(section_);
}

void PackDocument::continue_section() {
  turn_page();
  if (!section_.empty()) section_head(section_ + ", continued");
}

void PackDocument::section(std::string_view title, double height_mm) {
  if (number_ == 0 || y_ + between_sections_mm + section_head_mm + height_mm > bottom()) {
    new_page(title);
    return;
  }
  section_ = title;
  y_ += between_sections_mm;
  section_head(section_);
}

void PackDocument::section_head(std::string_view text) {
  pages_.text(left(), y_ + 4.5, text, {Face::serif, 5.6, accent, Align::left});
  stroke_line(pages_, left(), y_ + 8.0, right(), y_ + 8.0, 0.25, rule);
  y_ += section_head_mm;
}

void PackDocument::need(double height_mm) {
  if (y_ + height_mm > bottom()) continue_section();
}

void PackDocument::heading(std::string_view text, double room_after_mm) {
  need(9.0 + room_after_mm);
  y_ += 3.0;
  pages_.text(left(), y_ + 3.0, text, {Face::bold, 3.5, accent, Align::left});
  y_ += 6.0;
}

void PackDocument::paragraph(std::string_view text, const TextStyle& style, double indent_mm) {
  const double height_mm = pages_.paragraph_height(width() - indent_mm, text, style);
  need(height_mm);
  pages_.paragraph(left() + indent_mm, y_, width() - indent_mm, text, style);
  y_ += height_mm + 1.2;
}

void PackDocument::entry(std::string_view name, std::string_view text, double name_width_mm,
                         const TextStyle& name_style) {
  const double text_width = width() - name_width_mm;
  const double height_mm = pages_.paragraph_height(text_width, text, body);
  need(height_mm);
  pages_.text_within(left(), y_ + 2.9, name_width_mm - 2.0, name, name_style);
  pages_.paragraph(left() + name_width_mm, y_, text_width, text, body);
  y_ += height_mm + 1.4;
}

std::string PackDocument::finish() {
  foot();
  pages_.end_page();
  return pages_.finish();
}

void PackDocument::foot() {
  const double y = page_.height_mm - margin_mm_;
  const TextStyle style{Face::sans, 2.4, faint, Align::left};
  auto at_right = style;
  at_right.align = Align::right;
  const auto right_text = fmt::format("{} · {} · page {} of {}", label(heading_.stamp.date, 20),
                                      source_words(heading_.stamp), number_, numbers_.count);
  stroke_line(pages_, left(), y - 5.0, right(), y - 5.0, 0.15, rule);
  pages_.text_within(left(), y - 1.5, width() - 72.0,
                     dashed(label(heading_.box, 60) + " · " + label(heading_.subject)), style);
  pages_.text(right(), y - 1.5, right_text, at_right);
}

}  // namespace combwright::draw
