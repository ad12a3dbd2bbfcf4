// SPDX-License-Identifier: Apache-2.0
#include "draw/disc_drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/core.h>

#include "base/angle.h"
#include "base/quantity.h"
#include "disc/footprint.h"
#include "draw/free_space.h"
#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

constexpr double clear_m = 0.001;  // between what is written and what is punched

Circle circle_at_centre(double radius_m) {
  return {{}, to_lattice(radius_m)};
}

std::vector<Circle> holes_of(const box::Disc& disc) {
  std::vector<Circle> holes{circle_at_centre(disc.centre_hole_diameter_m / 2.0)};
  for (int i = 0; i < disc.drive_hole_count; ++i) {
    const double angle_rad = disc.drive_hole_angle_rad + two_pi * i / disc.drive_hole_count;
    holes.push_back(
        {polar(disc.drive_hole_radius_m, angle_rad), to_lattice(disc.drive_hole_diameter_m / 2.0)});
  }
  return holes;
}

// Radius of the plain sheet inside the innermost projections.
double plain_radius_m(const box::Box& box) {
  return std::max(0.0, box.tracks.inner_radius_m - box.projection.width_m / 2.0 - clear_m);
}

Polyline outline(const box::Box& box, const disc::Projection& projection) {
  Polyline line;
  for (const auto& [x_m, y_m] : disc::footprint(box, projection.radius_m, projection.angle_rad)) {
    line.points.push_back({to_lattice(x_m), to_lattice(y_m)});
  }
  return line;
}

// How far the cross-hairs of a hole reach past its edge, to be seen when it is drilled out.
constexpr std::int64_t cross_past_hole = 15'000;  // 1.5 mm

std::int64_t cross_arm(const Circle& hole) {
  return hole.radius + cross_past_hole;
}

// Two lines through the middle of a hole, one of them through the centre of the disc.
std::vector<Line> cross_hairs(const Circle& hole) {
  const auto x = static_cast<double>(hole.centre.x);
  const auto y = static_cast<double>(hole.centre.y);
  const double radius = std::hypot(x, y);
  const auto arm = static_cast<double>(cross_arm(hole));
  const auto dx = std::llround(radius > 0.0 ? arm * x / radius : arm);
  const auto dy = std::llround(radius > 0.0 ? arm * y / radius : 0.0);
  const auto [at_x, at_y] = hole.centre;
  return {{{at_x - dx, at_y - dy}, {at_x + dx, at_y + dy}},
          {{at_x + dy, at_y - dx}, {at_x - dy, at_y + dx}}};
}

// What texts keep clear of: the holes with their cross-hairs.
std::vector<Circle> marked_holes(const box::Disc& disc) {
  auto holes = holes_of(disc);
  for (auto& hole : holes) hole.radius = cross_arm(hole);
  return holes;
}

// From where the cross-hairs of the centre hole end on +X to the edge.
Line start_line(const box::Disc& disc) {
  return {{cross_arm(holes_of(disc).front()), 0}, polar(disc.diameter_m / 2.0, 0.0)};
}

double arrow_head_m(const box::Box& box) {
  return plain_radius_m(box) / 40.0;
}

// Radius of the sheet within the turning arrow.
double caption_radius_m(const box::Box& box) {
  return std::max(0.0, plain_radius_m(box) - 4.0 * arrow_head_m(box));
}

// An arc over the top third of the plain sheet with its head the way the disc turns.
std::vector<Polyline> turning_arrow(const box::Box& box) {
  const double head_m = arrow_head_m(box);
  const double radius_m = plain_radius_m(box) - 2.0 * head_m;
  constexpr int segments = 24;
  constexpr double half_span_rad = std::numbers::pi / 6.0;
  const double sense = box.disc.turning == box::Turning::clockwise ? -1.0 : 1.0;
  const double middle_rad = std::numbers::pi / 2.0;
  Polyline arc{{}, false};
  for (int i = 0; i <= segments; ++i) {
    const double along = 2.0 * i / segments - 1.0;
    arc.points.push_back(polar(radius_m, middle_rad + sense * along * half_span_rad));
  }
  const double end_rad = middle_rad + sense * half_span_rad;
  const Polyline head{{polar(radius_m, end_rad + sense * 3.0 * head_m / radius_m),
                       polar(radius_m + head_m, end_rad), polar(radius_m - head_m, end_rad)},
                      true};
  return {arc, head};
}

std::vector<std::string> captions(const box::Box& box, const disc::Disc& disc) {
  return {label(disc.title), label(box.name),
          fmt::format("{} a turn", to_text(disc.turn_time_s, Dimension::time)), "punch side"};
}

// Numbers of every fifth track (or tenth, where the tracks lie close) beside the start line, on
// the side where more of them find room.
std::vector<Text> track_numbers(const box::Box& box, const std::vector<Polyline>& projections) {
  constexpr std::int64_t smallest = 12'000;  // 1.2 mm can be read
  const int every = box.tracks.pitch_m >= 0.0015 ? 5 : 10;
  const auto height =
      std::min<std::int64_t>(20'000, to_lattice(every * box.tracks.pitch_m) * 2 / 7);
  if (height < smallest) return {};
  std::vector<Text> best;
  for (const int side : {-1, 1}) {
    std::vector<Text> numbers;
    const auto base_line = side > 0 ? height / 2 : -height * 3 / 2;
    for (const auto& track : box::tracks(box)) {
      if (track.number % every != 0) continue;
      const Text number{{to_lattice(track.radius_m), base_line},
                        height,
                        Anchor::middle,
                        fmt::format("{}", track.number)};
      const auto taken = [box = bounds(number)](const Polyline& projection) {
        return bounds(projection).overlaps(box);
      };
      if (std::none_of(projections.begin(), projections.end(), taken)) numbers.push_back(number);
    }
    if (numbers.size() > best.size()) best = std::move(numbers);
  }
  return best;
}

template <typename Shapes>
void add(Drawing& drawing, Layer layer, Shapes&& shapes) {
  for (auto& shape : shapes) drawing.add(layer, shape);
}

}  // namespace

Drawing draw_blank(const box::Box& box) {
  Drawing drawing;
  drawing.title = label(box.name);
  drawing.add(Layer::edge, circle_at_centre(box.disc.diameter_m / 2.0));
  add(drawing, Layer::holes, holes_of(box.disc));
  for (const auto& hole : holes_of(box.disc)) add(drawing, Layer::marks, cross_hairs(hole));
  drawing.add(Layer::marks, start_line(box.disc));
  if (plain_radius_m(box) > 0.0) add(drawing, Layer::marks, turning_arrow(box));
  return drawing;
}

Drawing draw_disc(const box::Box& box, const disc::Disc& disc) {
  Drawing drawing = draw_blank(box);
  drawing.title = label(fmt::format("{} - {}", label(disc.title), label(box.name)), 160);
  std::vector<Polyline> projections;
  projections.reserve(disc.projections.size());
  for (const auto& projection : disc.projections) projections.push_back(outline(box, projection));
  add(drawing, Layer::text, track_numbers(box, projections));
  add(drawing, Layer::text,
      fit_texts(captions(box, disc), circle_at_centre(caption_radius_m(box)),
                marked_holes(box.disc)));
  add(drawing, Layer::projections, projections);
  for (const auto& projection : disc.projections) {
    drawing.add(Layer::axes, Dot{polar(projection.radius_m, projection.angle_rad)});
  }
  return drawing;
}

}  // namespace combwright::draw
