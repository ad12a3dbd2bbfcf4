// SPDX-License-Identifier: Apache-2.0
#include "disc/polygon.h"

#include <algorithm>
#include <cmath>

namespace combwright::disc {
namespace {

double cross(const Corner& origin, const Corner& a, const Corner& b) {
  return (a.x_m - origin.x_m) * (b.y_m - origin.y_m) - (a.y_m - origin.y_m) * (b.x_m - origin.x_m);
}

const Corner& following(const Rectangle& rectangle, std::size_t i) {
  return rectangle[(i + 1) % rectangle.size()];
}

bool contains(const Rectangle& rectangle, const Corner& point) {
  bool left = true;
  bool right = true;
  for (std::size_t i = 0; i < rectangle.size(); ++i) {
    const double side = cross(rectangle[i], following(rectangle, i), point);
    left = left && side >= 0.0;
    right = right && side <= 0.0;
  }
  return left || right;
}

// True if a side of `a` has all of `a` on one side and all of `b` on the other: convex shapes
// without such a side of one of them overlap (separating axis theorem).
bool side_separates(const Rectangle& a, const Rectangle& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    const Corner& from = a[i];
    const Corner& to = following(a, i);
    const double inside = cross(from, to, a[(i + 2) % a.size()]);
    if (std::all_of(b.begin(), b.end(),
                    [&](const Corner& corner) { return cross(from, to, corner) * inside < 0.0; })) {
      return true;
    }
  }
  return false;
}

}  // namespace

double distance_m(const Corner& point, const Corner& a, const Corner& b) {
  const double dx = b.x_m - a.x_m;
  const double dy = b.y_m - a.y_m;
  const double square = dx * dx + dy * dy;
  double share = 0.0;
  if (square > 0.0) {
    share = ((point.x_m - a.x_m) * dx + (point.y_m - a.y_m) * dy) / square;
    share = std::clamp(share, 0.0, 1.0);
  }
  return std::hypot(point.x_m - (a.x_m + share * dx), point.y_m - (a.y_m + share * dy));
}

double distance_m(const Rectangle& a, const Rectangle& b) {
  if (!side_separates(a, b) && !side_separates(b, a)) return 0.0;
  // Apart, the nearest two points are a corner of one and a point on a side of the other.
  double least = std::hypot(a[0].x_m - b[0].x_m, a[0].y_m - b[0].y_m);
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t j = 0; j < b.size(); ++j) {
      least = std::min(least, distance_m(a[i], b[j], following(b, j)));
      least = std::min(least, distance_m(b[j], a[i], following(a, i)));
    }
  }
  return least;
}

double distance_m(const Rectangle& rectangle, const Corner& point) {
  if (contains(rectangle, point)) return 0.0;
  double least = distance_m(point, rectangle[0], rectangle[1]);
  for (std::size_t i = 1; i < rectangle.size(); ++i) {
    least = std::min(least, distance_m(point, rectangle[i], following(rectangle, i)));
  }
  return least;
}

Reach reach(const Rectangle& rectangle) {
  Reach result{distance_m(rectangle, Corner{}), 0.0};
  for (const Corner& corner : rectangle) {
    result.outer_m = std::max(result.outer_m, std::hypot(corner.x_m, corner.y_m));
  }
  return result;
}

}  // namespace combwright::disc
