// SPDX-License-Identifier: Apache-2.0
#include "draw/free_space.h"

#include <algorithm>
#include <array>
#include <optional>

#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

// Heights to try in 0.1 mm steps of the lattice's millimetre; below the last one cannot read.
constexpr std::array<std::int64_t, 8> heights{40'000, 35'000, 30'000, 25'000,
                                              20'000, 17'000, 14'000, 12'000};
constexpr std::array<std::size_t, 4> lengths{60, 40, 25, 12};

std::int64_t squared(std::int64_t x) {
  return x * x;
}

Box2 grown(const Box2& box, std::int64_t by) {
  return {{box.low.x - by, box.low.y - by}, {box.high.x + by, box.high.y + by}};
}

// The base lines to try, nearest to the middle first: upwards or downwards from `from`.
std::optional<Text> fit_at_height(const std::string& text, std::int64_t height, bool upwards,
                                  std::int64_t from, const Circle& space,
                                  const std::vector<Circle>& holes) {
  const auto step = height / 2;
  for (std::int64_t i = 0; i * step <= space.radius; ++i) {
    const Point at{0, from + (upwards ? i : -i) * step};
    const Text placed{at, height, Anchor::middle, text};
    const auto box = grown(bounds(placed), height / 3);
    const bool free = std::none_of(holes.begin(), holes.end(),
                                   [&box](const Circle& hole) { return overlaps(box, hole); });
    if (free && inside(box, space)) return placed;
  }
  return std::nullopt;
}

// All texts at one height, one under the other from the middle; those that find no place are left
// out.
std::vector<Text> column(const std::vector<std::string>& texts, std::size_t length,
                         std::int64_t height, const Circle& space,
                         const std::vector<Circle>& holes) {
  std::vector<Text> placed;
  auto from = space.centre.y - height * 7 / 4;
  for (const auto& text : texts) {
    const auto fitted = fit_at_height(label(text, length), height, false, from, space, holes);
    if (!fitted) continue;
    placed.push_back(*fitted);
    from = fitted->at.y - height * 7 / 4;
  }
  return placed;
}

std::vector<Text> fit_below(const std::vector<std::string>& texts, const Circle& space,
                            const std::vector<Circle>& holes) {
  std::vector<Text> best;
  for (const auto length : lengths) {
    for (const auto height : heights) {
      auto placed = column(texts, length, height, space, holes);
      if (placed.size() > best.size()) best = std::move(placed);
      if (best.size() == texts.size()) return best;
    }
  }
  return best;
}

std::optional<Text> fit_above(const std::string& text, const Circle& space,
                              const std::vector<Circle>& holes) {
  for (const auto length : lengths) {
    for (const auto height : heights) {
      const auto from = space.centre.y + height / 2;
      auto placed = fit_at_height(label(text, length), height, true, from, space, holes);
      if (placed) return placed;
    }
  }
  return std::nullopt;
}

}  // namespace

bool overlaps(const Box2& box, const Circle& circle) {
  const auto x = std::clamp(circle.centre.x, box.low.x, box.high.x) - circle.centre.x;
  const auto y = std::clamp(circle.centre.y, box.low.y, box.high.y) - circle.centre.y;
  return squared(x) + squared(y) <= squared(circle.radius);
}

bool inside(const Box2& box, const Circle& circle) {
  const auto x = std::max(circle.centre.x - box.low.x, box.high.x - circle.centre.x);
  const auto y = std::max(circle.centre.y - box.low.y, box.high.y - circle.centre.y);
  return squared(x) + squared(y) <= squared(circle.radius);
}

// The line of a circle crosses the box if the circle touches it and does not hold it whole.
bool touches(const Shape& shape, const Box2& box) {
  if (const auto* circle = std::get_if<Circle>(&shape)) {
    return overlaps(box, *circle) && !inside(box, *circle);
  }
  return bounds(shape).overlaps(box);
}

std::optional<Point> nearest_free(const std::vector<Shape>& shapes, const Box2& room,
                                  std::int64_t width, std::int64_t height, Point wish) {
  constexpr std::int64_t step = lattice_per_mm / 2;
  constexpr std::int64_t around = lattice_per_mm * 2 / 5;
  std::vector<const Shape*> near;
  for (const auto& shape : shapes) {
    if (touches(shape, room)) near.push_back(&shape);
  }
  std::vector<Point> places;
  for (auto y = room.low.y + around; y + height + around <= room.high.y; y += step) {
    for (auto x = room.low.x + around; x + width + around <= room.high.x; x += step) {
      places.push_back({x, y});
    }
  }
  const auto way = [wish](Point at) { return squared(at.x - wish.x) + squared(at.y - wish.y); };
  std::stable_sort(places.begin(), places.end(),
                   [&way](Point a, Point b) { return way(a) < way(b); });
  const auto found = std::find_if(places.begin(), places.end(), [&](Point at) {
    const auto box = grown({at, {at.x + width, at.y + height}}, around);
    return std::none_of(near.begin(), near.end(),
                        [&box](const Shape* shape) { return touches(*shape, box); });
  });
  return found == places.end() ? std::nullopt : std::optional(*found);
}

std::vector<Text> fit_texts(const std::vector<std::string>& texts, const Circle& space,
                            const std::vector<Circle>& holes) {
  if (texts.empty()) return {};
  auto placed = fit_below({texts.begin() + 1, texts.end()}, space, holes);
  const auto first = fit_above(texts.front(), space, holes);
  if (first) placed.insert(placed.begin(), *first);
  return placed;
}

}  // namespace combwright::draw
