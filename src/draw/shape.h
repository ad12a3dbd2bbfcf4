// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace combwright::draw {

// One step of the lattice that every drawn shape lies on: 0.1 um. A length is rounded to it once,
// and all files are written from the rounded value.
inline constexpr double lattice_m = 1.0e-7;
inline constexpr std::int64_t lattice_per_mm = 10'000;

// The lattice length nearest to a finite length of at most 100 m either way.
std::int64_t to_lattice(double length_m);

// A lattice length in millimetres: exact to the last of its four decimals.
double to_mm(std::int64_t lattice);

// "12.3456": a lattice length in millimetres with all its four decimals, without a float between.
std::string mm_text(std::int64_t lattice);

// "123.45678": the angle in degrees, 0 <= angle < 360, with the five decimals of all our files: a
// step is 0.04 um at a radius of 200 mm, finer than the lattice.
std::string degrees_text(double angle_rad);

struct Point {
  std::int64_t x = 0;
  std::int64_t y = 0;  // up

  bool operator==(const Point&) const = default;
};

// The lattice point nearest to (x, y).
inline Point point(double x_m, double y_m) {
  return {to_lattice(x_m), to_lattice(y_m)};
}

// The lattice point nearest to (radius, angle), the angle counted counter-clockwise from +X.
Point polar(double radius_m, double angle_rad);

enum class Layer { edge, holes, marks, projections, axes, text };
inline constexpr std::array<Layer, 6> all_layers{Layer::edge,        Layer::holes, Layer::marks,
                                                 Layer::projections, Layer::axes,  Layer::text};

// The layer's name in every file: "EDGE", "HOLES", "MARKS", "PROJECTIONS", "AXES", "TEXT".
std::string_view to_text(Layer layer);

struct Polyline {
  std::vector<Point> points;
  bool closed = true;
};

struct Circle {
  Point centre;
  std::int64_t radius = 0;
};

struct Line {
  Point from;
  Point to;
};

// A point by itself: the axis point of a projection.
struct Dot {
  Point at;
};

enum class Anchor { start, middle, end };

// How high a capital of DejaVu Sans is, of the font size (its OS/2 table).
inline constexpr double capital_height = 0.729;

// One line of upright text. `at` is on its base line; height is that of a capital letter.
struct Text {
  Point at;
  std::int64_t height = 0;
  Anchor anchor = Anchor::start;
  std::string text;
};

using Shape = std::variant<Polyline, Circle, Line, Dot, Text>;

struct Item {
  Layer layer = Layer::edge;
  Shape shape;
};

// Shapes on named layers, in the order in which every writer writes them.
struct Drawing {
  std::string title;
  std::vector<Item> items;

  void add(Layer layer, Shape shape);
};

struct Box2 {
  Point low;
  Point high;

  bool overlaps(const Box2& other) const;
};

// The box around a shape. A text counts as `text_width(...)` wide.
Box2 bounds(const Shape& shape);

// The box around the whole drawing; a point at the origin if it is empty.
Box2 bounds(const Drawing& drawing);

// A generous estimate of how wide a text will come out in any of the fonts that the readers of our
// files use: one height for a letter, 1.5 for an East Asian one.
std::int64_t text_width(std::string_view text, std::int64_t height);

}  // namespace combwright::draw
