// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <limits>

#include "box/measures.h"

namespace combwright::box {
namespace {

// Of a uniform cantilever pulled at its end, w(x) = d (3 x^2 L - x^3) / (2 L^3): the integral of
// w'^2 / 2 is 0.6 d^2 / L.
constexpr double draw_back = 0.6;

}  // namespace

double tooth_length_m(const Box& box, const Comb& comb, int place) {
  const auto last = static_cast<double>(box.scale.midi.size()) - 1.0;
  const double share = last > 0.0 ? 1.0 - place / last : 1.0;
  const double bend = comb.lines.empty() ? 0.0 : comb.lines.front();
  return std::lerp(comb.shortest_tooth_m, comb.longest_tooth_m,
                   (1.0 - bend) * share + bend * share * share);
}

double draw_back_m(double length_m, double lift_m) {
  return std::isfinite(length_m) ? draw_back * lift_m * lift_m / length_m : 0.0;
}

double slip_rad(double tip_radius_m, double overlap_m, double length_m, double level_m) {
  const double r = tip_radius_m;
  const double back = std::isfinite(length_m) ? draw_back / length_m : 0.0;
  // Level with the axis: a quadratic in u = 1 - cos a, back r^2 u^2 - (r + 2 back r^2) u + overlap.
  const double b = r + 2.0 * back * r * r;
  const double u = 2.0 * overlap_m / (b + std::sqrt(b * b - 4.0 * back * r * r * overlap_m));
  double angle = std::acos(1.0 - std::min(u, 1.0));
  if (level_m == 0.0) return angle;
  // From there by Newton's steps, or by halving where they leave what is known: where the tooth is
  // met the overlap is not used up, a quarter of a turn past the level it is.
  double low = -std::asin(std::clamp(level_m / r, -1.0, 1.0));
  double high = 0.5 * pi;
  angle = std::max(angle, low);
  constexpr int steps = 60;
  for (int i = 0; i < steps; ++i) {
    const double lift = r * std::sin(angle) + level_m;
    const double over = r * (1.0 - std::cos(angle)) + back * lift * lift - overlap_m;
    (over < 0.0 ? low : high) = angle;
    const double slope = r * std::sin(angle) + 2.0 * back * lift * r * std::cos(angle);
    double next = angle - over / slope;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::abs(next - angle) < 1e-15) break;
    angle = next;
  }
  return angle;
}

double lift_m(double tip_radius_m, double overlap_m, double length_m, double level_m) {
  const double angle = slip_rad(tip_radius_m, overlap_m, length_m, level_m);
  return std::max(0.0, tip_radius_m * std::sin(angle) + level_m);
}

double lift_m(const Box& box, const Comb& comb, int place) {
  const double length = tooth_length_m(box, comb, place);
  return lift_m(box.star_wheel.tip_radius_m, box.star_wheel.tooth_overlap_m,
                length > 0.0 ? length : std::numeric_limits<double>::infinity(), comb.level_m);
}

}  // namespace combwright::box
