// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <string_view>

// The library's own name.
// NOLINTNEXTLINE(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp)
using cairo_t = struct _cairo;

namespace combwright::draw {

struct Colour {
  double red = 0.0;
  double green = 0.0;
  double blue = 0.0;
};

inline constexpr Colour ink{0.13, 0.14, 0.16};
inline constexpr Colour faint{0.45, 0.47, 0.50};
inline constexpr Colour rule{0.78, 0.79, 0.80};
inline constexpr Colour accent{0.10, 0.30, 0.42};
inline constexpr Colour alarm{0.65, 0.16, 0.10};

enum class Face { sans, bold, serif };
enum class Align { left, centre, right };

struct TextStyle {
  Face face = Face::sans;
  double size_mm = 3.0;  // of the font; a capital is 0.73 of it
  Colour colour = ink;
  Align align = Align::left;
};

struct PageSize {
  double width_mm = 210.0;
  double height_mm = 297.0;
};

// What the PDF says about itself.
struct PdfInfo {
  std::string title;
  std::string subject;
  std::string date;  // ISO 8601; stands for the time of making, so that the same input gives the
                     // same bytes
};

// Pages of a PDF in memory, in millimetres from the upper left corner, y downwards. One text layout
// serves all texts. Throws Error (machine) if the drawing library fails.
class PdfPages {
 public:
  PdfPages(PageSize page, const PdfInfo& info);
  ~PdfPages();
  PdfPages(const PdfPages&) = delete;
  PdfPages& operator=(const PdfPages&) = delete;

  // For lines and areas; current colour and line width are the caller's.
  cairo_t* cairo();

  // One line of text: x is its left end, middle or right end, y its base line.
  void text(double x_mm, double y_mm, std::string_view text, const TextStyle& style = {});

  // The same, shortened with an ellipsis to fit into a width.
  void text_within(double x_mm, double y_mm, double width_mm, std::string_view text,
                   const TextStyle& style = {});

  // The width in mm of one line of text.
  double text_width(std::string_view text, const TextStyle& style);

  // Text broken into lines of a width; y is the upper edge. Gives the height in mm.
  double paragraph(double x_mm, double y_mm, double width_mm, std::string_view text,
                   const TextStyle& style = {});

  // Its height in mm without drawing it.
  double paragraph_height(double width_mm, std::string_view text, const TextStyle& style = {});

  void end_page();

  // The file. Nothing can be drawn afterwards.
  std::string finish();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

// The size of letters of notes in drawings and tables of the pack, and of what stands beside ticks.
inline constexpr double note_size_mm = 2.6;
inline constexpr double tick_size_mm = 2.2;
// Left of a scale.
inline constexpr TextStyle tick_style{Face::sans, tick_size_mm, faint, Align::right};

void set_colour(PdfPages& pages, const Colour& colour);
void stroke_line(PdfPages& pages, double x0_mm, double y0_mm, double x1_mm, double y1_mm,
                 double width_mm, const Colour& colour);
void fill_rectangle(PdfPages& pages, double x_mm, double y_mm, double width_mm, double height_mm,
                    const Colour& colour);
void stroke_circle(PdfPages& pages, double x_mm, double y_mm, double radius_mm, double width_mm,
                   const Colour& colour);

}  // namespace combwright::draw
