// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace combwright::motor {

// y' = rate + rise x - decay y over 0 <= x <= length, where y is the square of a speed and x the
// way: the motion of a machine whose torques run straight over way and over the square of the
// speed. Everything but the time has a closed form.
struct Piece {
  double length = 0.0;
  double rate = 0.0;
  double rise = 0.0;
  double decay = 0.0;  // not negative
  double start = 0.0;  // y at x = 0

  double y(double x) const;
  double slope(double x) const;  // y'
  double area(double x) const;   // integral of y from 0 to x

  // Time from 0 to x: the integral of 1 / sqrt(y), y > 0 between the two.
  double time(double x) const;

  // Where y' changes its sign inside (0, length); negative if it doesn't.
  double turning_point() const;
};

// Relative error of Piece::time; where y falls to 0 at the end, at rest, that of rounding is
// larger.
inline constexpr double piece_time_error = 1e-10;
inline constexpr double piece_rest_error = 1e-6;

// c + c1 x + cy y(x) along a piece.
struct Line {
  double constant = 0.0;
  double along = 0.0;
  double of_y = 0.0;
};

// y at a piece's end and its slopes at both ends.
struct Ends {
  double last = 0.0;
  double first_slope = 0.0;
  double last_slope = 0.0;
};
Ends ends(const Piece& piece);

// The first x in (0, length] at which the line, taken as not negative at 0, falls below -slack; the
// root itself. Negative if it never does.
double first_below(const Piece& piece, const Ends& ends, const Line& line, double slack);

}  // namespace combwright::motor
