// SPDX-License-Identifier: Apache-2.0
#include "draw/disc_view.h"

#include <cmath>
#include <numbers>

#include <cairo.h>
#include <fmt/core.h>

namespace combwright::draw {
namespace {

constexpr Colour tint{0.85, 0.91, 0.94};
constexpr Colour paper_white{1.0, 1.0, 1.0};
constexpr int ring_every = 10;

struct Spot {
  double x_mm = 0.0;
  double y_mm = 0.0;
};

// Where a polar point of the disc lies on the page, its radius given on the page.
Spot spot(const DiscView& view, double radius_mm, double angle_rad) {
  return {view.placement.origin_x_mm + radius_mm * std::cos(angle_rad),
          view.placement.origin_y_mm - radius_mm * std::sin(angle_rad)};
}

double on_page_mm(const DiscView& view, double length_m) {
  return length_m * 1000.0 * view.placement.scale;
}

double radians(double degrees) {
  return degrees * std::numbers::pi / 180.0;
}

// A disc that turns clockwise brings rising angles, so the gap lies at small positive ones.
double gap_end_rad(const box::Disc& disc) {
  return disc.turning == box::Turning::clockwise ? disc.start_gap_rad : -disc.start_gap_rad;
}

// Adds an arc to the path, its angles as on the disc.
void arc(const DiscView& view, double radius_mm, double from_rad, double to_rad) {
  const auto draw = to_rad > from_rad ? cairo_arc_negative : cairo_arc;
  draw(view.pages.cairo(), view.placement.origin_x_mm, view.placement.origin_y_mm, radius_mm,
       -from_rad, -to_rad);
}

template <typename Each>
void for_each_ring(const DiscView& view, Each each) {
  for (const auto& track : box::tracks(view.box)) {
    if (track.number % ring_every == 0) each(track.number, on_page_mm(view, track.radius_m));
  }
}

}  // namespace

void tint_start_gap(const DiscView& view) {
  auto* cairo = view.pages.cairo();
  const double end_rad = gap_end_rad(view.box.disc);
  cairo_new_path(cairo);
  arc(view, on_page_mm(view, view.box.disc.diameter_m / 2.0), 0.0, end_rad);
  arc(view, on_page_mm(view, view.box.tracks.inner_radius_m), end_rad, 0.0);
  cairo_close_path(cairo);
  set_colour(view.pages, tint);
  cairo_fill(cairo);
}

void draw_track_rings(const DiscView& view) {
  for_each_ring(view, [&view](int, double radius_mm) {
    stroke_circle(view.pages, view.placement.origin_x_mm, view.placement.origin_y_mm, radius_mm,
                  0.1, rule);
  });
}

void number_track_rings(const DiscView& view) {
  constexpr double patch_width_mm = 3.6;
  constexpr double patch_height_mm = 2.4;
  constexpr double least_step_mm = 5.0;
  const double middle_rad = gap_end_rad(view.box.disc) / 2.0;
  double free_from_mm = 0.0;
  for_each_ring(view, [&](int number, double radius_mm) {
    if (radius_mm < free_from_mm) return;
    free_from_mm = radius_mm + least_step_mm;
    const auto at = spot(view, radius_mm, middle_rad);
    fill_rectangle(view.pages, at.x_mm - patch_width_mm / 2.0, at.y_mm - patch_height_mm / 2.0,
                   patch_width_mm, patch_height_mm, paper_white);
    view.pages.text(at.x_mm, at.y_mm + 0.36 * tick_size_mm, fmt::format("{}", number),
                    {Face::sans, tick_size_mm, ink, Align::centre});
  });
}

void mark_angles(const DiscView& view, int step_deg, double label_outside_mm) {
  constexpr double tick_mm = 1.8;
  const double edge_mm = on_page_mm(view, view.box.disc.diameter_m / 2.0);
  const double tick_end_mm = edge_mm + (label_outside_mm > 0.0 ? tick_mm : -tick_mm);
  for (int degrees = 0; degrees < 360; degrees += step_deg) {
    const double angle_rad = radians(degrees);
    const auto from = spot(view, edge_mm, angle_rad);
    const auto to = spot(view, tick_end_mm, angle_rad);
    stroke_line(view.pages, from.x_mm, from.y_mm, to.x_mm, to.y_mm, 0.2, ink);
    if (degrees == 0) continue;
    const auto at = spot(view, edge_mm + label_outside_mm, angle_rad);
    view.pages.text(at.x_mm, at.y_mm + 0.36 * note_size_mm, fmt::format("{}°", degrees),
                    {Face::sans, note_size_mm, ink, Align::centre});
  }
}

void draw_arrow(const DiscView& view, double radius_mm, double from_deg, double to_deg,
                const Colour& colour) {
  constexpr double half_head_mm = 1.0;
  auto* cairo = view.pages.cairo();
  set_colour(view.pages, colour);
  cairo_set_line_width(cairo, 0.35);
  cairo_new_path(cairo);
  arc(view, radius_mm, radians(from_deg), radians(to_deg));
  cairo_stroke(cairo);
  const double sense = to_deg > from_deg ? 1.0 : -1.0;
  const double end_rad = radians(to_deg);
  const auto inner = spot(view, radius_mm - half_head_mm, end_rad);
  const auto outer = spot(view, radius_mm + half_head_mm, end_rad);
  const auto tip = spot(view, radius_mm, end_rad + sense * 3.0 * half_head_mm / radius_mm);
  cairo_move_to(cairo, inner.x_mm, inner.y_mm);
  cairo_line_to(cairo, outer.x_mm, outer.y_mm);
  cairo_line_to(cairo, tip.x_mm, tip.y_mm);
  cairo_close_path(cairo);
  cairo_fill(cairo);
}

}  // namespace combwright::draw
