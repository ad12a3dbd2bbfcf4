// SPDX-License-Identifier: Apache-2.0
#include "draw/svg.h"

#include <algorithm>
#include <iterator>

#include <fmt/core.h>

#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

// A cutter takes every closed outline for one to cut; a projection stays on the sheet.
constexpr std::string_view svg_use =
    " For screens and for marking: do not cut the projections out.";

constexpr std::int64_t margin = 5 * lattice_per_mm;

std::string xml_text(std::string_view text) {
  std::string out;
  for (const char letter : label(text, 1000)) {
    switch (letter) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      default:
        out += letter;
    }
  }
  return out;
}

std::string_view paint_of(Layer layer) {
  switch (layer) {
    case Layer::projections:
      return R"(fill="none" stroke="#c00000" stroke-width="0.1")";
    case Layer::axes:
      return R"(fill="#0000c0" stroke="none")";
    case Layer::marks:
      return R"(fill="none" stroke="#007000" stroke-width="0.1")";
    case Layer::text:
      return R"(fill="#404040" stroke="none" font-family="DejaVu Sans, sans-serif")";
    case Layer::edge:
    case Layer::holes:
      break;
  }
  return R"(fill="none" stroke="#000000" stroke-width="0.2")";
}

std::string_view name_of(Anchor anchor) {
  switch (anchor) {
    case Anchor::middle:
      return "middle";
    case Anchor::end:
      return "end";
    case Anchor::start:
      break;
  }
  return "start";
}

class SvgFile {
 public:
  template <typename... Args>
  void write(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(out_), format, std::forward<Args>(args)...);
  }

  void operator()(const Polyline& line) {
    write("<{} points=\"", line.closed ? "polygon" : "polyline");
    const char* gap = "";
    for (const auto& [x, y] : line.points) {
      write("{}{},{}", gap, mm_text(x), mm_text(-y));
      gap = " ";
    }
    write("\"/>\n");
  }

  void operator()(const Circle& circle) {
    write("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", mm_text(circle.centre.x),
          mm_text(-circle.centre.y), mm_text(circle.radius));
  }

  void operator()(const Line& line) {
    write("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"/>\n", mm_text(line.from.x),
          mm_text(-line.from.y), mm_text(line.to.x), mm_text(-line.to.y));
  }

  void operator()(const Dot& dot) {
    write("<circle cx=\"{}\" cy=\"{}\" r=\"0.1\"/>\n", mm_text(dot.at.x), mm_text(-dot.at.y));
  }

  void operator()(const Text& text) {
    write("<text x=\"{}\" y=\"{}\" font-size=\"{:.4f}\" text-anchor=\"{}\">{}</text>\n",
          mm_text(text.at.x), mm_text(-text.at.y), to_mm(text.height) / capital_height,
          name_of(text.anchor), xml_text(text.text));
  }

  std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

}  // namespace

std::string write_svg(const Drawing& drawing) {
  const auto [low, high] = bounds(drawing);
  const auto width = mm_text(high.x - low.x + 2 * margin);
  const auto height = mm_text(high.y - low.y + 2 * margin);
  SvgFile file;
  file.write("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
  file.write(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0}mm\" "
      "height=\"{1}mm\" viewBox=\"{2} {3} {0} {1}\" role=\"img\" aria-labelledby=\"title\">\n",
      width, height, mm_text(low.x - margin), mm_text(-high.y - margin));
  file.write("<title id=\"title\">{}</title>\n", xml_text(drawing.title));
  const bool any_projection =
      std::any_of(drawing.items.begin(), drawing.items.end(),
                  [](const Item& item) { return item.layer == Layer::projections; });
  file.write("<desc>Lengths in millimetres.{}</desc>\n", any_projection ? svg_use : "");
  for (const auto layer : all_layers) {
    file.write("<g id=\"{}\" {}>\n", to_text(layer), paint_of(layer));
    for (const auto& item : drawing.items) {
      if (item.layer == layer) std::visit([&file](const auto& each) { file(each); }, item.shape);
    }
    file.write("</g>\n");
  }
  file.write("</svg>\n");
  return file.take();
}

}  // namespace combwright::draw
