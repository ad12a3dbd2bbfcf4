// SPDX-License-Identifier: Apache-2.0
#include "draw/shape.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <utility>

#include <fmt/core.h>

#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

Box2 around(const Polyline& line) {
  assert(!line.points.empty());
  Box2 box{line.points.front(), line.points.front()};
  for (const auto& point : line.points) {
    box.low = {std::min(box.low.x, point.x), std::min(box.low.y, point.y)};
    box.high = {std::max(box.high.x, point.x), std::max(box.high.y, point.y)};
  }
  return box;
}

Box2 around(const Circle& circle) {
  const auto [centre, r] = circle;
  return {{centre.x - r, centre.y - r}, {centre.x + r, centre.y + r}};
}

Box2 around(const Line& line) {
  return around(Polyline{{line.from, line.to}, false});
}

Box2 around(const Dot& dot) {
  return {dot.at, dot.at};
}

Box2 around(const Text& text) {
  const auto width = text_width(text.text, text.height);
  auto left = text.at.x;
  if (text.anchor == Anchor::middle) left -= width / 2;
  if (text.anchor == Anchor::end) left -= width;
  // Descenders and accents reach about a third of the capitals' height past them.
  return {{left, text.at.y - text.height / 3}, {left + width, text.at.y + text.height * 4 / 3}};
}

}  // namespace

std::int64_t to_lattice(double length_m) {
  assert(std::abs(length_m) <= 100.0);
  return std::llround(length_m / lattice_m);
}

double to_mm(std::int64_t lattice) {
  return static_cast<double>(lattice) / static_cast<double>(lattice_per_mm);
}

std::string mm_text(std::int64_t lattice) {
  const auto size = std::abs(lattice);
  return fmt::format("{}{}.{:04}", lattice < 0 ? "-" : "", size / lattice_per_mm,
                     size % lattice_per_mm);
}

std::string degrees_text(double angle_rad) {
  constexpr std::int64_t per_degree = 100'000;
  constexpr std::int64_t turn = 360 * per_degree;
  const auto steps = std::llround(angle_rad * (180.0 / std::numbers::pi) * per_degree);
  const auto within = (steps % turn + turn) % turn;
  return fmt::format("{}.{:05}", within / per_degree, within % per_degree);
}

Point polar(double radius_m, double angle_rad) {
  return {to_lattice(radius_m * std::cos(angle_rad)), to_lattice(radius_m * std::sin(angle_rad))};
}

std::string_view to_text(Layer layer) {
  switch (layer) {
    case Layer::edge:
      return "EDGE";
    case Layer::holes:
      return "HOLES";
    case Layer::marks:
      return "MARKS";
    case Layer::projections:
      return "PROJECTIONS";
    case Layer::axes:
      return "AXES";
    case Layer::text:
      break;
  }
  return "TEXT";
}

void Drawing::add(Layer layer, Shape shape) {
  items.push_back({layer, std::move(shape)});
}

bool Box2::overlaps(const Box2& other) const {
  return low.x <= other.high.x && other.low.x <= high.x && low.y <= other.high.y &&
         other.low.y <= high.y;
}

Box2 bounds(const Shape& shape) {
  return std::visit([](const auto& each) { return around(each); }, shape);
}

Box2 bounds(const Drawing& drawing) {
  if (drawing.items.empty()) return {};
  Polyline corners;
  for (const auto& item : drawing.items) {
    const auto [low, high] = bounds(item.shape);
    corners.points.insert(corners.points.end(), {low, high});
  }
  return around(corners);
}

std::int64_t text_width(std::string_view text, std::int64_t height) {
  std::int64_t halves = 0;
  for (const char32_t letter : code_points(text)) halves += letter >= 0x1100 ? 3 : 2;
  return halves * height / 2;
}

}  // namespace combwright::draw
