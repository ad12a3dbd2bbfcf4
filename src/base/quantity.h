// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

namespace combwright {

// What a quantity measures. Inside the library every quantity is a double in the SI unit named
// here; text with a unit exists only at the edges.
enum class Dimension {
  length,                // m
  mass,                  // kg
  time,                  // s
  frequency,             // Hz
  interval,              // cent
  angle,                 // rad
  speed,                 // m/s
  acceleration,          // m/s2
  angular_speed,         // rad/s
  angular_acceleration,  // rad/s2
  force,                 // N
  stiffness,             // N/m
  torque,                // N m
  pressure,              // Pa
  density,               // kg/m3
  temperature,           // C
  ratio,                 // 1, written with %
};

// A quantity read from text, or the reason why it could not be.
struct ParsedQuantity {
  double si = 0.0;
  std::string problem;  // empty if the text was good

  bool ok() const { return problem.empty(); }
};

// Reads "0.8 mm", "1/32 in", "66 s", "12 deg", "85 %". A missing or foreign unit, a number that is
// not finite and trailing text are problems; the problem names the units that would do.
ParsedQuantity parse_quantity(std::string_view text, Dimension dimension);

// The quantity for people: three or four significant figures and the unit that suits its size,
// millimetres first for lengths ("0.8 mm", "70 s", "12 deg").
std::string to_text(double si, Dimension dimension);

// A short time between two moments: "390 ms", with so many decimals of a millisecond, and "1.25 s"
// from a second on.
std::string interval_text(double seconds, int decimals = 0);

// The units accepted for a dimension, in words: "mm, cm, m, um or in".
std::string unit_list(Dimension dimension);

}  // namespace combwright
