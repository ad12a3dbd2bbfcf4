// SPDX-License-Identifier: Apache-2.0
#include "draw/action_outlines.h"

#include <cmath>
#include <numbers>

#include "base/angle.h"

namespace combwright::draw {

std::vector<Place> wheel_outline(const box::StarDrive& drive, double driven_rad, const View& view) {
  std::vector<Place> outline;
  const int points = static_cast<int>(std::lround(two_pi / drive.pitch_rad));
  const double root = drive.root_m();
  for (int i = 0; i < points; ++i) {
    const double angle = driven_rad + i * drive.pitch_rad;
    const auto put = [&](double out, double aside) {
      outline.push_back(view.at(out * std::sin(angle) + aside * std::cos(angle),
                                out * std::cos(angle) - aside * std::sin(angle)));
    };
    const double before = angle - 0.5 * drive.pitch_rad;
    outline.push_back(view.at(root * std::sin(before), root * std::cos(before)));
    constexpr int steps = 10;
    const double half = 0.5 * std::numbers::pi - drive.flank_rad;
    for (int step = 0; step <= steps; ++step) {
      const double around = -half + 2.0 * half * step / steps;
      put(drive.centre_m + drive.rounding_m * std::cos(around),
          drive.rounding_m * std::sin(around));
    }
  }
  return outline;
}

std::vector<Place> projection_outline(const box::Box& box, double face_m, double disc_m,
                                      const View& view) {
  const double depth = box.star_wheel.axis_below_disc_m - box.projection.height_m;
  const double corner = box.projection.corner_m;
  const double back = face_m - box.projection.length_m;
  std::vector<Place> outline{view.at(back, disc_m)};
  constexpr int steps = 8;
  for (int i = 0; i <= steps; ++i) {
    const double turn = 0.5 * std::numbers::pi * i / steps;
    outline.push_back(
        view.at(back + corner * (1.0 - std::cos(turn)), depth + corner * (1.0 - std::sin(turn))));
  }
  for (int i = 0; i <= steps; ++i) {
    const double turn = 0.5 * std::numbers::pi * i / steps;
    outline.push_back(
        view.at(face_m - corner * (1.0 - std::sin(turn)), depth + corner * (1.0 - std::cos(turn))));
  }
  outline.push_back(view.at(face_m, disc_m));
  return outline;
}

}  // namespace combwright::draw
