// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace combwright::box {

// A punch with a rotary table for the disc and a radial slide. The defaults are a light bench
// machine's; the shop file gives the real one's.
struct Punch {
  double radial_speed_m_s = 0.05;
  double radial_acceleration_m_s2 = 0.5;
  double rotary_speed_rad_s = 1.5707963267948966;         // 90 deg/s
  double rotary_acceleration_rad_s2 = 6.283185307179586;  // 360 deg/s2
  double stroke_time_s = 0.25;                            // down and up again
  double up_m = 0.005;                                    // of the tool over the sheet between hits
  double down_m = -0.002;                                 // at the bottom of the stroke
  double feed_m_s = 0.02;                                 // of the stroke down
  double sheet_shear_strength_pa = 3.0e8;
  double force_limit_n = 5000.0;  // greatest that the machine can press
  std::vector<std::string> hit;   // RS-274 lines of one stroke; empty for the plain Z move

  bool operator==(const Punch&) const = default;
};

struct Paper {
  std::string name = "A4";
  double width_m = 0.210;
  double height_m = 0.297;
  double margin_m = 0.010;

  bool operator==(const Paper&) const = default;
};

struct SheetStock {
  std::string material = "steel";
  double thickness_m = 0.0005;

  bool operator==(const SheetStock&) const = default;
};

// Plates for combs that the workshop can get.
struct SteelStock {
  std::vector<double> plate_thickness_m{0.002, 0.003};

  bool operator==(const SteelStock&) const = default;
};

struct LeadStock {
  // Heights of the bars at hand; the width is the tooth's.
  std::vector<double> bar_m{0.0003, 0.0005, 0.0008, 0.0012, 0.002,
                            0.003,  0.004,  0.006,  0.008,  0.01};
  double section_spread = 0.04;      // of a bar's weight for its length, as a share
  double smallest_clip_kg = 1.0e-6;  // that the nippers can take off

  bool operator==(const LeadStock&) const = default;
};

// Spring strip that the workshop can get.
struct StripStock {
  double width_m = 0.030;
  double thickness_m = 0.0005;
  double longest_m = 10.0;

  bool operator==(const StripStock&) const = default;
};

// Wheels and pinions that it can cut.
struct GearStock {
  std::vector<double> module_m{0.0004, 0.0005, 0.0006, 0.0008, 0.001};
  std::vector<int> pinion_teeth{6, 7, 8, 10, 12};
  int most_teeth = 120;  // of a wheel

  bool operator==(const GearStock&) const = default;
};

// How well the tuner's hand takes off what it was told: shares, one standard deviation. A bias is
// common to all cuts of a tooth, a scatter is each cut's own.
struct Hand {
  double clip_bias = 0.08;
  double clip_scatter = 0.08;
  double file_bias = 0.2;
  double file_scatter = 0.2;

  bool operator==(const Hand&) const = default;
};

// How closely the workshop works.
struct Tolerance {
  double angle_rad = 1.7453292519943295e-4;  // 0.01 deg, of the punch's table
  double radius_m = 5.0e-5;                  // of the punch's slide
  double pitch_cents = 2.0;                  // of a tuned tooth

  bool operator==(const Tolerance&) const = default;
};

// How closely it builds the action. The defaults are common practice, no source.
struct ActionTolerance {
  double axis_height_m = 3.0e-5;        // of a star wheel's axis from the disc
  double axle_play_m = 2.0e-5;          // of a star wheel in its bearings, from the middle
  double projection_height_m = 5.0e-5;  // of one projection
  double comb_overlap_m = 1.0e-5;       // how far the points reach past the teeth's tips
  double comb_level_m = 3.0e-5;         // of the teeth from the star wheels' axes
  double eccentricity_m = 5.0e-5;       // of the disc on its spindle

  bool operator==(const ActionTolerance&) const = default;
};

// What the workshop has, from its optional shop file.
struct Shop {
  std::string name = "workshop";
  Punch punch;
  Paper paper;
  std::vector<SheetStock> sheets;
  std::vector<StripStock> strips;
  GearStock gears;
  SteelStock steel;
  LeadStock lead;
  Hand hand;
  Tolerance tolerance;
  ActionTolerance action_tolerance;

  bool operator==(const Shop&) const = default;
};

}  // namespace combwright::box
