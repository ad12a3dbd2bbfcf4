// SPDX-License-Identifier: Apache-2.0
#include "box/hold_down.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "box/measures.h"

namespace combwright::box {
namespace {

constexpr double widest_m = 0.003;
constexpr double narrowest_m = 0.0002;  // the least that hold_down.roller_width can be
constexpr double innermost_m = 0.001;   // the same of hold_down.rollers
constexpr double slack_m = 1.0e-9;

// A ring of plain sheet.
struct FreeRing {
  double from_m = 0.0;
  double to_m = 0.0;

  double width_m() const { return to_m - from_m; }
  double middle_m() const { return 0.5 * (from_m + to_m); }
};

std::optional<FreeRing> between_middle_tracks(const Box& box) {
  if (box.tracks.count < 2) return std::nullopt;
  const int inner = std::min((box.tracks.count + 1) / 2, box.tracks.count - 1);
  return FreeRing{hole_ring(box, track_radius_m(box, inner)).outer_m,
                  hole_ring(box, track_radius_m(box, inner + 1)).inner_m};
}

// What the drive holes leave of a ring, the outer part first.
std::vector<FreeRing> beside_drive_holes(const Box& box, const FreeRing& ring) {
  const Disc& disc = box.disc;
  const double from = disc.drive_hole_radius_m - 0.5 * disc.drive_hole_diameter_m;
  const double to = disc.drive_hole_radius_m + 0.5 * disc.drive_hole_diameter_m;
  if (disc.drive_hole_count == 0 || to <= ring.from_m || from >= ring.to_m) return {ring};
  return {{to, ring.to_m}, {ring.from_m, from}};
}

}  // namespace

HoleRing hole_ring(const Box& box, double track_radius_m) {
  const double half = 0.5 * box.projection.width_m;
  return {.inner_m = track_radius_m - half,
          .outer_m = std::hypot(track_radius_m + half, box.projection.length_m)};
}

bool runs_over(const Box& box, double roller_radius_m, const HoleRing& ring) {
  const double half = 0.5 * box.hold_down.roller_width_m;
  return ring.inner_m < roller_radius_m + half - slack_m &&
         ring.outer_m > roller_radius_m - half + slack_m;
}

double default_roller_width_m(const Box& box) {
  constexpr double step_m = 0.0001;
  const auto gap = between_middle_tracks(box);
  if (!gap || gap->width_m() < narrowest_m - slack_m) return widest_m;
  return std::min(widest_m, std::floor((gap->width_m() + slack_m) / step_m) * step_m);
}

std::vector<double> default_roller_radii_m(const Box& box) {
  const double width = box.hold_down.roller_width_m;
  std::vector<double> radii;
  const auto place = [&](const std::vector<FreeRing>& rings, double wanted_m) {
    for (const FreeRing& ring : rings) {
      if (ring.width_m() < width - slack_m) continue;
      const double half = 0.5 * std::min(width, ring.width_m());
      radii.push_back(
          std::clamp(wanted_m, ring.from_m + half, std::max(ring.from_m + half, ring.to_m - half)));
      return;
    }
  };
  const double inside_from = std::max(0.5 * box.disc.centre_hole_diameter_m, innermost_m);
  const FreeRing inside{inside_from, hole_ring(box, box.tracks.inner_radius_m).inner_m};
  place(beside_drive_holes(box, inside), box.tracks.inner_radius_m - 2.0 * box.tracks.pitch_m);
  if (const auto gap = between_middle_tracks(box)) place({*gap}, gap->middle_m());
  const double edge = 0.5 * box.disc.diameter_m;
  const FreeRing outside{hole_ring(box, outer_radius_m(box)).outer_m, edge};
  place(beside_drive_holes(box, outside), edge);
  return radii;
}

}  // namespace combwright::box
