// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <iterator>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

// Drawings as SVG in colour, for looking at: shapes to be cut go through draw/svg.h.
namespace combwright::draw {

inline constexpr std::string_view svg_ink = "#222222";
inline constexpr std::string_view svg_faint = "#777777";
inline constexpr double svg_text_mm = 4.0;

// On the sheet, y down.
struct Place {
  double x = 0.0;
  double y = 0.0;
};

// An SVG whose user unit is a millimetre on paper.
class SvgSheet {
 public:
  // `title_id` tells drawings apart that stand on one page.
  SvgSheet(double width, double height, const std::string& title,
           std::string_view title_id = "title");

  // What is drawn from here to the end of the part shows a section of the box file, and one of its
  // keys if that is named: data-section="disc" data-key="disc.diameter". Parts don't nest.
  void begin_part(std::string_view section, std::string_view key = {});
  void end_part();

  void text(Place at, std::string_view words, std::string_view anchor = "start",
            std::string_view colour = svg_ink, double size = svg_text_mm);

  void line(Place from, Place to, std::string_view colour, double width,
            std::string_view dashes = "none");

  void shape(const std::vector<Place>& points, std::string_view fill, std::string_view stroke,
             double width, bool closed = true, std::string_view dashes = "none");

  void circle(Place at, double radius, std::string_view fill, std::string_view stroke, double width,
              std::string_view dashes = "none");

  // White, to write on.
  void blank(Place corner, double width, double height);

  // The whole file; nothing can be added after it.
  std::string take();

 private:
  template <typename... Args>
  void write(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(out_), format, std::forward<Args>(args)...);
  }

  std::string out_;
};

}  // namespace combwright::draw
