// SPDX-License-Identifier: Apache-2.0
#include "motor/run/piece.h"

#include <cmath>

#include <gtest/gtest.h>

namespace combwright::motor {
namespace {

// Spin-up of a fan of inertia I against K w^2 under a torque M: w = w_inf tanh(t / t0) and the
// angle w_inf t0 ln cosh(t / t0). Check values of the books: M 1e-4, K 6.735811e-10, I 2e-7.
TEST(Piece, SpinUpFollowsTheHyperbolicTangent) {
  const double torque = 1e-4;
  const double square = 6.735811e-10;
  const double inertia = 2e-7;
  const double settled = std::sqrt(torque / square);
  const double t0 = inertia / std::sqrt(torque * square);
  EXPECT_NEAR(t0, 0.7706107, 5e-8);
  for (const double at : {0.01, 0.5, 1.0, 2.0, 3.0, 9.0}) {
    const double angle = settled * t0 * std::log(std::cosh(at));
    const Piece piece{
        .length = angle, .rate = 2.0 * torque / inertia, .decay = 2.0 * square / inertia};
    EXPECT_NEAR(std::sqrt(piece.y(angle)) / settled, std::tanh(at), 1e-12) << at;
    EXPECT_NEAR(piece.time(angle) / (at * t0), 1.0, piece_time_error) << at;
  }
  EXPECT_NEAR(settled * t0 * std::log(std::cosh(1.0)), 128.798404, 5e-5);
}

// Thrown up: y = v^2 - 2 g x, t = (v - sqrt(y)) / g, to the very top.
TEST(Piece, ThrowComesToRestInItsTime) {
  const Piece piece{.length = 4.0, .rate = -2.0 * 9.8, .start = 2.0 * 9.8 * 4.0};
  EXPECT_NEAR(piece.y(4.0), 0.0, 1e-12);
  EXPECT_NEAR(piece.time(4.0) / std::sqrt(2.0 * 4.0 / 9.8), 1.0, piece_rest_error);
  EXPECT_NEAR(piece.time(3.0), (std::sqrt(piece.start) - std::sqrt(piece.y(3.0))) / 9.8, 1e-10);
}

// Fourth-order steps of its differential equation.
TEST(Piece, SolvesItsEquation) {
  for (const double decay : {0.0, 1e-9, 0.3, 0.6, 20.0, 400.0}) {
    const Piece piece{.length = 1.3, .rate = 2.0, .rise = -1.1, .decay = decay, .start = 0.7};
    double y = piece.start;
    double area = 0.0;
    double time = 0.0;
    constexpr int steps = 200000;
    const double h = piece.length / steps;
    const auto slope = [&](double x, double v) { return piece.rate + piece.rise * x - decay * v; };
    for (int i = 0; i < steps; ++i) {
      const double x = h * i;
      const double k1 = slope(x, y);
      const double k2 = slope(x + 0.5 * h, y + 0.5 * h * k1);
      const double k3 = slope(x + 0.5 * h, y + 0.5 * h * k2);
      const double k4 = slope(x + h, y + h * k3);
      const double y2 = y + 0.5 * h * k1;
      const double y3 = y + 0.5 * h * k2;
      const double y4 = y + h * k3;
      area += h / 6.0 * (y + 2.0 * y2 + 2.0 * y3 + y4);
      time +=
          h / 6.0 *
          (1.0 / std::sqrt(y) + 2.0 / std::sqrt(y2) + 2.0 / std::sqrt(y3) + 1.0 / std::sqrt(y4));
      y += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
    }
    EXPECT_NEAR(piece.y(piece.length), y, 1e-10 * piece.start) << decay;
    EXPECT_NEAR(piece.area(piece.length) / area, 1.0, 1e-9) << decay;
    EXPECT_NEAR(piece.time(piece.length) / time, 1.0, 1e-9) << decay;
  }
}

TEST(Piece, TurnsWhereItsSlopeIsNought) {
  const Piece piece{.length = 2.0, .rate = 1.0, .rise = -3.0, .decay = 0.8, .start = 0.2};
  const double turn = piece.turning_point();
  ASSERT_GT(turn, 0.0);
  EXPECT_NEAR(piece.slope(turn), 0.0, 1e-12);
  EXPECT_LT(Piece({.length = 2.0, .rate = 1.0, .start = 0.2}).turning_point(), 0.0);
}

// A dip below the bound between two ends above it is seen.
TEST(Piece, FindsTheFirstCrossingOfADip) {
  const Piece piece{.length = 2.0, .rate = -2.0, .rise = 2.0, .start = 1.0};  // y = (1 - x)^2
  const double x = first_below(piece, ends(piece), {-0.25, 0.0, 1.0}, 0.0);
  EXPECT_NEAR(x, 0.5, 1e-12);
  EXPECT_LT(first_below(piece, ends(piece), {0.1, 0.0, 1.0}, 0.0), 0.0);
}

}  // namespace
}  // namespace combwright::motor
