// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <random>

#include "arrange/arrangement.h"
#include "box/box.h"

namespace combwright::disc::testing {

// An invented box: 76 tracks over 150 mm, one turn in 66 s.
inline box::Box sample_box(box::Turning turning = box::Turning::clockwise) {
  box::Box box;
  box.name = "sample";
  box.disc = {.diameter_m = 0.43,
              .thickness_m = 0.0006,
              .centre_hole_diameter_m = 0.008,
              .drive_hole_count = 3,
              .drive_hole_diameter_m = 0.005,
              .drive_hole_radius_m = 0.03,
              .drive_hole_angle_rad = 0.3,
              .edge_margin_m = 0.006,
              .start_gap_rad = 0.2,
              .turning = turning};
  box.projection = {.length_m = 0.0025, .width_m = 0.001, .height_m = 0.001, .web_m = 0.0008};
  box.tracks = {.count = 76, .inner_radius_m = 0.05, .pitch_m = 0.002};
  box.star_wheel = {
      .points = 6, .tip_radius_m = 0.004, .axis_below_disc_m = 0.0043, .tooth_overlap_m = 0.0004};
  for (int i = 0; i < box.tracks.count; ++i) box.scale.midi.push_back(36 + i * 3 / 4);
  box.damper.lead_time_s = 0.05;
  box.motor.turn_time_s = 66.0;
  box.motor.most_plucks = 40;
  box.motor.pluck_window_s = 0.1;
  box.hold_down = {.roller_radius_m = {0.045}, .roller_width_m = 0.004};
  return box;
}

// A number in [0, 1), the same with every library.
inline double unit(std::mt19937_64& random) {
  return static_cast<double>(random() >> 11) * 0x1p-53;
}

// Plucks anywhere on the box's tracks and in the part of the turn that may be used.
inline arrange::Arrangement random_arrangement(const box::Box& box, std::size_t plucks,
                                               std::uint64_t seed) {
  std::mt19937_64 random(seed);
  arrange::Arrangement arrangement;
  arrangement.box_name = box.name;
  arrangement.title = "random";
  arrangement.turn_time_s = box.motor.turn_time_s;
  for (std::size_t i = 0; i < plucks; ++i) {
    arrangement.plucks.push_back({.time_s = 2.0 + unit(random) * (box.motor.turn_time_s - 6.0),
                                  .track = 1 + static_cast<int>(unit(random) * box.tracks.count),
                                  .note = static_cast<int>(i)});
  }
  return arrangement;
}

}  // namespace combwright::disc::testing
