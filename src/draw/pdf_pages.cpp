// SPDX-License-Identifier: Apache-2.0
#include "draw/pdf_pages.h"

#include <array>

#include <cairo-pdf.h>
#include <pango/pangocairo.h>

#include "base/angle.h"
#include "base/error.h"
#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

constexpr double points_per_mm = 72.0 / 25.4;
constexpr std::size_t longest_line = 2000;

cairo_status_t append_bytes(void* to, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(to)->append(bytes, bytes + count);
  return CAIRO_STATUS_SUCCESS;
}

struct Release {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
  void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
};

template <typename T>
using Held = std::unique_ptr<T, Release>;

Held<PangoFontDescription> font_of(Face face) {
  Held<PangoFontDescription> font(pango_font_description_new());
  pango_font_description_set_family_static(font.get(),
                                           face == Face::serif ? "DejaVu Serif" : "DejaVu Sans");
  if (face == Face::bold) pango_font_description_set_weight(font.get(), PANGO_WEIGHT_BOLD);
  return font;
}

// Glyphs lie where the outline says, not on a pixel grid that paper does not have.
void switch_hinting_off(PangoLayout* layout) {
  auto* context = pango_layout_get_context(layout);
  auto* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context, FALSE);
  pango_layout_context_changed(layout);
}

PangoAlignment pango_align(Align align) {
  switch (align) {
    case Align::centre:
      return PANGO_ALIGN_CENTER;
    case Align::right:
      return PANGO_ALIGN_RIGHT;
    case Align::left:
      break;
  }
  return PANGO_ALIGN_LEFT;
}

double share_left_of_anchor(Align align) {
  switch (align) {
    case Align::centre:
      return 0.5;
    case Align::right:
      return 1.0;
    case Align::left:
      break;
  }
  return 0.0;
}

double mm_of(int pango_units) {
  return static_cast<double>(pango_units) / PANGO_SCALE;
}

}  // namespace

struct PdfPages::State {
  std::string out;
  Held<cairo_surface_t> surface;
  Held<cairo_t> cairo;
  std::array<Held<PangoFontDescription>, 3> fonts{font_of(Face::sans), font_of(Face::bold),
                                                  font_of(Face::serif)};
  Held<PangoLayout> layout;

  explicit State(PageSize page)
      : surface(cairo_pdf_surface_create_for_stream(
            append_bytes, &out, page.width_mm * points_per_mm, page.height_mm * points_per_mm)),
        cairo(cairo_create(surface.get())) {
    cairo_scale(cairo.get(), points_per_mm, points_per_mm);
    layout.reset(pango_cairo_create_layout(cairo.get()));
    switch_hinting_off(layout.get());
  }

  void check() const {
    const auto status = cairo_status(cairo.get());
    if (status != CAIRO_STATUS_SUCCESS) {
      throw Error({}, std::string("the PDF could not be drawn: ") + cairo_status_to_string(status),
                  Error::Kind::machine);
    }
  }

  void set(std::string_view text, const TextStyle& style, double width_mm) {
    auto* font = fonts.at(static_cast<std::size_t>(style.face)).get();
    pango_font_description_set_absolute_size(font, style.size_mm * PANGO_SCALE);
    pango_layout_set_font_description(layout.get(), font);
    pango_layout_set_alignment(layout.get(), pango_align(style.align));
    pango_layout_set_width(layout.get(),
                           width_mm < 0.0 ? -1 : static_cast<int>(width_mm * PANGO_SCALE));
    const auto line = label(text, longest_line);
    pango_layout_set_text(layout.get(), line.c_str(), static_cast<int>(line.size()));
  }

  void show(double x_mm, double y_mm, const Colour& colour) {
    cairo_set_source_rgb(cairo.get(), colour.red, colour.green, colour.blue);
    cairo_move_to(cairo.get(), x_mm, y_mm);
    pango_cairo_show_layout(cairo.get(), layout.get());
    cairo_new_path(cairo.get());
  }

  double height_mm() const {
    int height = 0;
    pango_layout_get_size(layout.get(), nullptr, &height);
    return mm_of(height);
  }

  double width_mm() const {
    int width = 0;
    pango_layout_get_size(layout.get(), &width, nullptr);
    return mm_of(width);
  }

  // Draws the one line that the layout holds.
  void show_line(double x_mm, double y_mm, const TextStyle& style) {
    show(x_mm - share_left_of_anchor(style.align) * width_mm(),
         y_mm - mm_of(pango_layout_get_baseline(layout.get())), style.colour);
  }
};

PdfPages::PdfPages(PageSize page, const PdfInfo& info) : state_(std::make_unique<State>(page)) {
  auto* surface = state_->surface.get();
  const auto set = [surface](cairo_pdf_metadata_t key, const std::string& text) {
    cairo_pdf_surface_set_metadata(surface, key, text.c_str());
  };
  set(CAIRO_PDF_METADATA_TITLE, label(info.title));
  set(CAIRO_PDF_METADATA_SUBJECT, label(info.subject));
  set(CAIRO_PDF_METADATA_CREATOR, "Combwright");
  set(CAIRO_PDF_METADATA_CREATE_DATE, info.date);
  set(CAIRO_PDF_METADATA_MOD_DATE, info.date);
}

PdfPages::~PdfPages() = default;

cairo_t* PdfPages::cairo() {
  return state_->cairo.get();
}

void PdfPages::text(double x_mm, double y_mm, std::string_view text, const TextStyle& style) {
  auto plain = style;
  plain.align = Align::left;
  state_->set(text, plain, -1.0);
  state_->show_line(x_mm, y_mm, style);
}

void PdfPages::text_within(double x_mm, double y_mm, double width_mm, std::string_view text,
                           const TextStyle& style) {
  auto plain = style;
  plain.align = Align::left;
  state_->set(text, plain, width_mm);
  pango_layout_set_single_paragraph_mode(state_->layout.get(), TRUE);
  pango_layout_set_ellipsize(state_->layout.get(), PANGO_ELLIPSIZE_END);
  state_->show_line(x_mm, y_mm, style);
  pango_layout_set_ellipsize(state_->layout.get(), PANGO_ELLIPSIZE_NONE);
  pango_layout_set_single_paragraph_mode(state_->layout.get(), FALSE);
}

double PdfPages::text_width(std::string_view text, const TextStyle& style) {
  state_->set(text, style, -1.0);
  return state_->width_mm();
}

double PdfPages::paragraph(double x_mm, double y_mm, double width_mm, std::string_view text,
                           const TextStyle& style) {
  const double height_mm = paragraph_height(width_mm, text, style);
  state_->show(x_mm, y_mm, style.colour);
  return height_mm;
}

double PdfPages::paragraph_height(double width_mm, std::string_view text, const TextStyle& style) {
  state_->set(text, style, width_mm);
  pango_layout_set_wrap(state_->layout.get(), PANGO_WRAP_WORD_CHAR);
  return state_->height_mm();
}

void PdfPages::end_page() {
  cairo_show_page(state_->cairo.get());
  state_->check();
}

std::string PdfPages::finish() {
  cairo_surface_finish(state_->surface.get());
  state_->check();
  const auto status = cairo_surface_status(state_->surface.get());
  if (status != CAIRO_STATUS_SUCCESS) {
    throw Error({}, std::string("the PDF could not be finished: ") + cairo_status_to_string(status),
                Error::Kind::machine);
  }
  return std::move(state_->out);
}

void set_colour(PdfPages& pages, const Colour& colour) {
  cairo_set_source_rgb(pages.cairo(), colour.red, colour.green, colour.blue);
}

void stroke_line(PdfPages& pages, double x0_mm, double y0_mm, double x1_mm, double y1_mm,
                 double width_mm, const Colour& colour) {
  set_colour(pages, colour);
  cairo_set_line_width(pages.cairo(), width_mm);
  cairo_new_path(pages.cairo());
  cairo_move_to(pages.cairo(), x0_mm, y0_mm);
  cairo_line_to(pages.cairo(), x1_mm, y1_mm);
  cairo_stroke(pages.cairo());
}

void fill_rectangle(PdfPages& pages, double x_mm, double y_mm, double width_mm, double height_mm,
                    const Colour& colour) {
  set_colour(pages, colour);
  cairo_new_path(pages.cairo());
  cairo_rectangle(pages.cairo(), x_mm, y_mm, width_mm, height_mm);
  cairo_fill(pages.cairo());
}

void stroke_circle(PdfPages& pages, double x_mm, double y_mm, double radius_mm, double width_mm,
                   const Colour& colour) {
  set_colour(pages, colour);
  cairo_set_line_width(pages.cairo(), width_mm);
  cairo_new_path(pages.cairo());
  cairo_arc(pages.cairo(), x_mm, y_mm, radius_mm, 0.0, two_pi);
  cairo_close_path(pages.cairo());
  cairo_stroke(pages.cairo());
}

}  // namespace combwright::draw
