// SPDX-License-Identifier: Apache-2.0
#include "draw/dxf.h"

#include <iterator>

#include <fmt/core.h>

#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

constexpr std::size_t longest_dxf_text = 255;

int colour_of(Layer layer) {
  switch (layer) {
    case Layer::edge:
    case Layer::holes:
      return 7;  // black or white
    case Layer::projections:
      return 1;  // red
    case Layer::axes:
      return 5;  // blue
    case Layer::marks:
      return 3;  // green
    case Layer::text:
      break;
  }
  return 8;  // grey
}

// What stands for one letter in a group 1 string. '^' and "%%" start control codes of their own.
std::string escaped_letter(char32_t letter, bool after_percent) {
  if (letter == U'^') return "^ ";
  if (letter == U'%' && after_percent) return " %";
  if (letter == U'\\' || (letter > 0x7e && letter <= 0xffff)) {
    return fmt::format("\\U+{:04X}", static_cast<unsigned>(letter));
  }
  if (letter > 0xffff || letter < 0x20) return "?";
  return {static_cast<char>(letter)};
}

std::string dxf_text(std::string_view text) {
  std::string out;
  char32_t before = 0;
  for (const char32_t letter : code_points(label(text, longest_dxf_text))) {
    const auto next = escaped_letter(letter, before == U'%');
    if (out.size() + next.size() > longest_dxf_text) break;
    out += next;
    before = letter;
  }
  return out;
}

class DxfFile {
 public:
  void group(int code, std::string_view value) {
    fmt::format_to(std::back_inserter(out_), "{}\n{}\n", code, value);
  }
  void group(int code, int value) {
    fmt::format_to(std::back_inserter(out_), "{}\n{}\n", code, value);
  }
  void length(int code, std::int64_t lattice) { group(code, mm_text(lattice)); }

  // A point takes three groups whose codes lie ten apart.
  void point(int code, Point at) {
    length(code, at.x);
    length(code + 10, at.y);
    group(code + 20, "0.0");
  }

  void entity(std::string_view kind, Layer layer) {
    group(0, kind);
    group(8, to_text(layer));
  }

  void section(std::string_view name) {
    group(0, "SECTION");
    group(2, name);
  }

  void table(std::string_view name, int entries) {
    group(0, "TABLE");
    group(2, name);
    group(70, entries);
  }

  void operator()(Layer layer, const Polyline& line) {
    entity("POLYLINE", layer);
    group(66, 1);
    point(10, {});
    group(70, line.closed ? 1 : 0);
    for (const auto& at : line.points) {
      entity("VERTEX", layer);
      point(10, at);
    }
    entity("SEQEND", layer);
  }

  void operator()(Layer layer, const Circle& circle) {
    entity("CIRCLE", layer);
    point(10, circle.centre);
    length(40, circle.radius);
  }

  void operator()(Layer layer, const Line& line) {
    entity("LINE", layer);
    point(10, line.from);
    point(11, line.to);
  }

  void operator()(Layer layer, const Dot& dot) {
    entity("POINT", layer);
    point(10, dot.at);
  }

  void operator()(Layer layer, const Text& text) {
    entity("TEXT", layer);
    point(10, text.at);
    length(40, text.height);
    group(1, dxf_text(text.text));
    if (text.anchor == Anchor::start) return;
    group(72, text.anchor == Anchor::middle ? 1 : 2);
    point(11, text.at);
  }

  std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

void write_header(DxfFile& file, const Drawing& drawing) {
  const auto [low, high] = bounds(drawing);
  file.section("HEADER");
  file.group(999, "All lengths in millimetres");
  file.group(9, "$ACADVER");
  file.group(1, "AC1009");
  file.group(9, "$EXTMIN");
  file.point(10, low);
  file.group(9, "$EXTMAX");
  file.point(10, high);
  file.group(0, "ENDSEC");
}

void write_tables(DxfFile& file) {
  file.section("TABLES");
  file.table("LTYPE", 1);
  file.group(0, "LTYPE");
  file.group(2, "CONTINUOUS");
  file.group(70, 0);
  file.group(3, "Solid line");
  file.group(72, 65);
  file.group(73, 0);
  file.group(40, "0.0");
  file.group(0, "ENDTAB");
  file.table("LAYER", static_cast<int>(all_layers.size()));
  for (const auto layer : all_layers) {
    file.group(0, "LAYER");
    file.group(2, to_text(layer));
    file.group(70, 0);
    file.group(62, colour_of(layer));
    file.group(6, "CONTINUOUS");
  }
  file.group(0, "ENDTAB");
  file.group(0, "ENDSEC");
}

}  // namespace

std::string write_dxf(const Drawing& drawing) {
  DxfFile file;
  write_header(file, drawing);
  write_tables(file);
  file.section("ENTITIES");
  for (const auto& [layer, shape] : drawing.items) {
    std::visit([&file, on = layer](const auto& each) { file(on, each); }, shape);
  }
  file.group(0, "ENDSEC");
  file.group(0, "EOF");
  return file.take();
}

}  // namespace combwright::draw
