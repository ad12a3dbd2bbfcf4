// SPDX-License-Identifier: Apache-2.0
#include "draw/svg_sheet.h"

#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char letter : label(text)) {
    if (letter == '&')
      out += "&amp;";
    else if (letter == '<')
      out += "&lt;";
    else
      out += letter;
  }
  return out;
}

}  // namespace

SvgSheet::SvgSheet(double width, double height, const std::string& title,
                   std::string_view title_id) {
  write("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
  write(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0:.2f}mm\" "
      "height=\"{1:.2f}mm\" viewBox=\"0 0 {0:.2f} {1:.2f}\" role=\"img\" "
      "aria-labelledby=\"{3}\">\n<title id=\"{3}\">{2}</title>\n",
      width, height, escaped(title), title_id);
  write("<desc>combwright</desc>\n<rect width=\"{:.2f}\" height=\"{:.2f}\" fill=\"white\"/>\n",
        width, height);
  write("<g font-family=\"DejaVu Sans, sans-serif\" font-size=\"{:.2f}\" fill=\"{}\">\n",
        svg_text_mm, svg_ink);
}

void SvgSheet::text(Place at, std::string_view words, std::string_view anchor,
                    std::string_view colour, double size) {
  write(
      "<text x=\"{:.3f}\" y=\"{:.3f}\" text-anchor=\"{}\" fill=\"{}\" font-size=\"{:.2f}\">{}"
      "</text>\n",
      at.x, at.y, anchor, colour, size, escaped(words));
}

void SvgSheet::line(Place from, Place to, std::string_view colour, double width,
                    std::string_view dashes) {
  write(
      "<line x1=\"{:.3f}\" y1=\"{:.3f}\" x2=\"{:.3f}\" y2=\"{:.3f}\" stroke=\"{}\" "
      "stroke-width=\"{:.2f}\" stroke-dasharray=\"{}\"/>\n",
      from.x, from.y, to.x, to.y, colour, width, dashes);
}

void SvgSheet::shape(const std::vector<Place>& points, std::string_view fill,
                     std::string_view stroke, double width, bool closed, std::string_view dashes) {
  write("<{} points=\"", closed ? "polygon" : "polyline");
  for (const Place& point : points) write("{:.3f},{:.3f} ", point.x, point.y);
  write(
      "\" fill=\"{}\" stroke=\"{}\" stroke-width=\"{:.2f}\" stroke-linejoin=\"round\" "
      "stroke-dasharray=\"{}\"/>\n",
      fill, stroke, width, dashes);
}

void SvgSheet::circle(Place at, double radius, std::string_view fill, std::string_view stroke,
                      double width, std::string_view dashes) {
  write(
      "<circle cx=\"{:.3f}\" cy=\"{:.3f}\" r=\"{:.3f}\" fill=\"{}\" stroke=\"{}\" "
      "stroke-width=\"{:.2f}\" stroke-dasharray=\"{}\"/>\n",
      at.x, at.y, radius, fill, stroke, width, dashes);
}

void SvgSheet::blank(Place corner, double width, double height) {
  write("<rect x=\"{:.3f}\" y=\"{:.3f}\" width=\"{:.3f}\" height=\"{:.3f}\" fill=\"white\"/>\n",
        corner.x, corner.y, width, height);
}

void SvgSheet::begin_part(std::string_view section, std::string_view key) {
  write("<g class=\"part\" data-section=\"{}\"", section);
  if (!key.empty()) write(" data-key=\"{}\"", key);
  write(">\n");
}

void SvgSheet::end_part() {
  write("</g>\n");
}

std::string SvgSheet::take() {
  out_ += "</g>\n</svg>\n";
  return std::move(out_);
}

}  // namespace combwright::draw
