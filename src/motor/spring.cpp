// SPDX-License-Identifier: Apache-2.0
#include "motor/spring.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/angle.h"

namespace combwright::motor {
namespace {

using std::numbers::pi;
constexpr int cells = 4000;  // along the strip
constexpr int steps = 160;   // of the moment

// One place on the strip: by how much the moment must straighten or bend it, as a curvature, before
// it leaves the wall and before it is tight on the arbor.
struct Place {
  double leaves;
  double tight;
};

std::vector<Place> places(const box::Spring& spring) {
  const double h = spring.strip_thickness_m;
  const double core = spring.arbor_radius_m + 0.5 * h;
  const double drum = spring.barrel_radius_m - 0.5 * h;
  const double set = 2.0 * spring.stress_limit_pa / (spring.modulus_pa * h);
  std::vector<Place> result;
  result.reserve(cells + 1);
  for (int i = 0; i <= cells; ++i) {
    const double s = spring.strip_length_m * i / cells;
    const double arbor = 1.0 / std::sqrt(core * core + s * h / pi);
    const double wall = 1.0 / std::sqrt(drum * drum - (spring.strip_length_m - s) * h / pi);
    // Wound up once, the strip has taken what set the arbor gives it.
    const double natural = std::max(0.0, arbor - set);
    // A strip nearly filling its barrel has no way at that place.
    result.push_back({std::min(wall, arbor) - natural, arbor - natural});
  }
  return result;
}

// Integral of max(0, m - x) over a cell on which x runs straight from a to b, over the cell's
// length; and the share of it where m > x.
struct Above {
  double area;
  double share;
};
Above above(double m, double a, double b) {
  const double low = std::min(a, b);
  const double high = std::max(a, b);
  if (m <= low) return {0.0, 0.0};
  if (m >= high) return {m - 0.5 * (a + b), 1.0};
  const double part = (m - low) / (high - low);
  return {0.5 * part * (m - low), part};
}

struct Wound {
  double turns;
  double free_m;
};
Wound wound(const std::vector<Place>& strip, double length_m, double m) {
  double bent = 0.0;
  double free = 0.0;
  for (int i = 0; i < cells; ++i) {
    const Place& a = strip[static_cast<std::size_t>(i)];
    const Place& b = strip[static_cast<std::size_t>(i) + 1];
    const Above wall = above(m, a.leaves, b.leaves);
    const Above arbor = above(m, a.tight, b.tight);
    bent += wall.area - arbor.area;
    free += wall.share - arbor.share;
  }
  const double cell_m = length_m / cells;
  return {bent * cell_m / two_pi, free * cell_m};
}

// The moments, as curvatures, at which the torque is found: those at which a stretch of the strip
// begins or ends to be free are among them, since the slope has a corner there.
std::vector<double> moments(const std::vector<Place>& strip) {
  double full = 0.0;
  double first = std::numeric_limits<double>::infinity();
  for (const Place& place : strip) {
    full = std::max(full, place.tight);
    first = std::min(first, place.leaves);
  }
  first = std::max(0.0, first);
  std::vector<double> result;
  for (int i = 0; i <= steps; ++i) result.push_back(first + (full - first) * i / steps);
  for (const Place& end : {strip.front(), strip.back()})
    for (const double m : {end.leaves, end.tight})
      if (m > first && m < full) result.push_back(m);
  std::sort(result.begin(), result.end());
  const double least = 1e-6 * (full - first);
  std::vector<double> apart;
  for (const double m : result)
    if (apart.empty() || m - apart.back() > least) apart.push_back(m);
  apart.back() = full;
  return apart;
}

// Where a place in turns lies on the curve: the piece from points[i] to the next.
std::size_t piece_at(const SpringCurve& curve, double turns) {
  const auto after =
      std::upper_bound(curve.points.begin(), curve.points.end(), turns,
                       [](double value, const SpringPoint& point) { return value < point.turns; });
  const auto at = std::distance(curve.points.begin(), after);
  return static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(at, 1, std::ssize(curve.points) - 1) -
                                  1);
}

// Integral of the torque over turns from the piece's beginning to the share u of it.
double area(const SpringPoint& a, const SpringPoint& b, double u) {
  const double h = b.turns - a.turns;
  const double u2 = u * u;
  const double u3 = u2 * u;
  const double u4 = u2 * u2;
  return h * (a.torque_n_m * (u - u3 + 0.5 * u4) + b.torque_n_m * (u3 - 0.5 * u4) +
              h * (a.slope_n_m * (0.5 * u2 - 2.0 / 3.0 * u3 + 0.25 * u4) +
                   b.slope_n_m * (0.25 * u4 - u3 / 3.0)));
}

double area_to(const SpringCurve& curve, double turns) {
  double sum = 0.0;
  const std::size_t last = piece_at(curve, turns);
  for (std::size_t i = 0; i < last; ++i) sum += area(curve.points[i], curve.points[i + 1], 1.0);
  const SpringPoint& a = curve.points[last];
  const SpringPoint& b = curve.points[last + 1];
  return sum + area(a, b, std::clamp((turns - a.turns) / (b.turns - a.turns), 0.0, 1.0));
}

}  // namespace

double bending_stiffness_n_m2(const box::Spring& spring) {
  return spring.modulus_pa * spring.strip_width_m * std::pow(spring.strip_thickness_m, 3) / 12.0;
}

double torque_per_turn_n_m(const box::Spring& spring) {
  return two_pi * bending_stiffness_n_m2(spring) / spring.strip_length_m;
}

double torque_at_stress_n_m(const box::Spring& spring, double stress_pa) {
  return spring.strip_width_m * spring.strip_thickness_m * spring.strip_thickness_m * stress_pa /
         6.0;
}

SpringCurve spring_curve(const box::Spring& spring) {
  const std::vector<Place> strip = places(spring);
  const double stiffness = bending_stiffness_n_m2(spring);
  SpringCurve curve;
  const std::vector<double> found = moments(strip);
  for (const double m : found) {
    const Wound now = wound(strip, spring.strip_length_m, m);
    if (!curve.points.empty() && now.turns - curve.points.back().turns < 1e-9) continue;
    // At the two ends nothing is free any more; the slope is that just inside.
    const double inside =
        std::clamp(m, found.front() + 1e-7 * found.back(), found.back() * (1.0 - 1e-7));
    const double free =
        inside == m ? now.free_m : wound(strip, spring.strip_length_m, inside).free_m;
    const double least_free = 1e-4 * spring.strip_length_m;
    curve.points.push_back(
        {now.turns, m * stiffness, two_pi * stiffness / std::max(free, least_free)});
  }
  // A strip without any way to go still has two ends.
  if (curve.points.size() < 2) {
    SpringPoint end = curve.points.front();
    end.turns += 1e-6;
    curve.points.push_back(end);
  }
  return curve;
}

double torque_n_m(const SpringCurve& curve, double turns) {
  const std::size_t i = piece_at(curve, turns);
  const SpringPoint& a = curve.points[i];
  const SpringPoint& b = curve.points[i + 1];
  const double h = b.turns - a.turns;
  const double u = std::clamp((turns - a.turns) / h, 0.0, 1.0);
  const double v = 1.0 - u;
  return a.torque_n_m * v * v * (1.0 + 2.0 * u) + b.torque_n_m * u * u * (1.0 + 2.0 * v) +
         h * u * v * (a.slope_n_m * v - b.slope_n_m * u);
}

double work_j(const SpringCurve& curve, double from_turns, double to_turns) {
  return two_pi * (area_to(curve, from_turns) - area_to(curve, to_turns));
}

SpringLife spring_life(const box::Spring& spring, double full_torque_n_m, double last_torque_n_m) {
  const double per_torque = 1.0 / torque_at_stress_n_m(spring, 1.0);
  SpringLife life{.greatest_pa = full_torque_n_m * per_torque,
                  .least_pa = last_torque_n_m * per_torque};
  const double amplitude = 0.5 * (life.greatest_pa - life.least_pa);
  const double mean = 0.5 * (life.greatest_pa + life.least_pa);
  const double strength = spring.tensile_strength_pa;
  if (!(mean < strength)) {
    life.reversed_pa = std::numeric_limits<double>::infinity();
    return life;
  }
  life.reversed_pa = amplitude / (1.0 - mean / strength);
  const double endurance = std::min(0.5 * strength, 700e6);
  const double at_thousand = 0.9 * strength;
  if (life.reversed_pa <= endurance) {
    life.winds = std::numeric_limits<double>::infinity();
  } else {
    const double exponent = std::log(endurance / at_thousand) / 3.0 / std::log(10.0);
    life.winds = 1e3 * std::pow(life.reversed_pa / at_thousand, 1.0 / exponent);
  }
  return life;
}

}  // namespace combwright::motor
