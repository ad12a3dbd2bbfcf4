// SPDX-License-Identifier: Apache-2.0
#include "motor/run.h"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

#include "base/angle.h"
namespace combwright::motor {
namespace {

// A spring of one torque, one barrel turn for a disc turn and a fan on the disc's own shaft: the
// motion that the books solve.
Machine fan_machine(double torque_n_m, double square, double inertia, double turns) {
  Machine machine;
  machine.spring.points = {{-1.0, torque_n_m, 0.0}, {turns + 1.0, torque_n_m, 0.0}};
  machine.full_turns = turns;
  machine.last_turns = 0.0;
  machine.barrel_per_disc = 1.0;
  machine.governor_per_disc = 1.0;
  machine.governor = {.square_n_m_s2 = square, .inertia_kg_m2 = inertia};
  machine.load.pieces = {{}};
  return machine;
}

TEST(Run, SpinUpFollowsTheHyperbolicTangent) {
  const double torque = 1e-4;
  const double square = 6.735811e-10;
  const double inertia = 2e-7;
  const Wind made = run(fan_machine(torque, square, inertia, 30.0), 0.1);
  const double settled = std::sqrt(torque / square);
  const double t0 = inertia / std::sqrt(torque * square);
  ASSERT_EQ(made.turns.size(), 30U);
  for (std::size_t i = 0; i < made.turns.size(); ++i) {
    const double angle = two_pi * static_cast<double>(i + 1);
    EXPECT_NEAR(made.turns[i].end_s / (t0 * std::acosh(std::exp(angle / (settled * t0)))), 1.0,
                1e-9);
  }
  EXPECT_NEAR(made.books.gap(), 0.0, books_error);
}

// A friction governor on a machine without load settles where the books say it does.
TEST(Run, WeightsHoldTheSpeedOfTheBooks) {
  Machine machine = fan_machine(1e-3, 0.0, 3e-7, 40.0);
  machine.governor = {.square_n_m_s2 = 0.2 * 0.012 * 2 * 0.0015 * 0.010,
                      .offset_n_m = 0.2 * 0.012 * 2 * 0.25,
                      .grip_rad2_s2 = 0.25 / (0.0015 * 0.010),
                      .inertia_kg_m2 = 3e-7};
  const Wind made = run(machine, 1.0);
  EXPECT_NEAR(made.turns.back().slowest_rad_s, 174.8015, 5e-5);
  EXPECT_NEAR(made.turns.back().fastest_rad_s, 174.8015, 5e-5);
}

// A machine with everything: random springs, losses, governors, plucks.
Machine any_machine(std::mt19937& random, bool strong) {
  std::uniform_real_distribution<double> share(0.0, 1.0);
  Machine machine = fan_machine(1.0, 0.0, 0.0, 9.0);
  machine.spring.points = {{-1.0, 0.5 + share(random), 0.05}, {10.0, 1.6 + share(random), 0.05}};
  machine.coil_friction = 0.1 * share(random);
  machine.barrel_per_disc = 0.5 + share(random);
  machine.governor_per_disc = 1000.0 + 500.0 * share(random);
  machine.disc_efficiency = 0.85 + 0.15 * share(random);
  machine.disc_back = 2.0 - 1.0 / machine.disc_efficiency;
  machine.train_efficiency = 0.3 + 0.7 * share(random);
  machine.train_back = std::max(0.0, 2.0 - 1.0 / machine.train_efficiency);
  if (share(random) < 0.5) {
    machine.governor = {.square_n_m_s2 = 1e-9 + 2e-8 * share(random),
                        .inertia_kg_m2 = 1e-7 * (0.1 + share(random))};
  } else {
    const double square = 1e-8 * (1.0 + 9.0 * share(random));
    const double grip = 2e4 + 4e4 * share(random);
    machine.governor = {.square_n_m_s2 = square,
                        .offset_n_m = square * grip,
                        .grip_rad2_s2 = grip,
                        .inertia_kg_m2 = 1e-7 * (1.0 + 4.0 * share(random))};
  }
  box::Box box;
  box.disc = {.diameter_m = 0.4, .thickness_m = 0.0005, .centre_hole_diameter_m = 0.01};
  box.hold_down.roller_radius_m = {0.1, 0.2};
  box.friction = {.roller_force_n = 1.0, .roller = 0.05, .spindle = 0.1};
  std::vector<PluckLoad> plucks;
  for (int i = 0; i < 60; ++i) {
    const double drive = 0.01 + 0.03 * share(random);
    plucks.push_back({.release_rad = two_pi * share(random),
                      .lift_rad = 0.4 * drive,
                      .drive_rad = drive,
                      .work_j = (strong ? 8e-3 : 5e-4) * share(random),
                      .wheel_j = 4e-4});
  }
  machine.load = load(box, plucks);
  return machine;
}

TEST(Run, BooksBalanceWhateverHappens) {
  std::mt19937 random(5);
  int stalled = 0;
  for (int i = 0; i < 200; ++i) {
    const Wind made = run(any_machine(random, i % 2 == 1), 0.1);
    stalled += made.stalls ? 1 : 0;
    EXPECT_NEAR(made.books.gap(), 0.0, books_error) << i;
    EXPECT_GE(made.books.train_j, 0.0) << i;
    EXPECT_GE(made.books.governor_j, 0.0) << i;
  }
  EXPECT_GT(stalled, 10);
  EXPECT_LT(stalled, 190);
}

// What the spring gives is the area under its torque, less the coils' share.
TEST(Run, SpringGivesTheAreaUnderItsCurve) {
  std::mt19937 random(6);
  for (int i = 0; i < 40; ++i) {
    const Machine machine = any_machine(random, false);
    const Wind made = run(machine, 0.1);
    const double given =
        work_j(machine.spring, machine.full_turns, machine.full_turns - made.barrel_turns);
    EXPECT_NEAR((made.books.spring_j + made.books.coils_j) / given, 1.0, 1e-5) << i;
  }
}

// Small fixed steps over the way, with none of the closed forms: each step takes its acceleration
// by trying which side of each mesh pushes.
double stepped_time(const Machine& m, double travel, int steps) {
  const double gi = m.governor.inertia_kg_m2 * m.governor_per_disc * m.governor_per_disc;
  const double di = m.load.inertia_kg_m2;
  const auto torque_of = [](double x, double e, double back) { return x > 0.0 ? x / e : x * back; };
  const auto acceleration = [&](double way, double y) {
    const double turns = m.full_turns - m.barrel_per_disc * way / two_pi;
    const double s = m.barrel_per_disc * (1.0 - m.coil_friction) * torque_n_m(m.spring, turns);
    const double at = std::fmod(way, two_pi);
    std::size_t i = m.load.pieces.size() - 1;
    while (i > 0 && m.load.pieces[i].begin_rad > at) --i;
    const LoadPiece& piece = m.load.pieces[i];
    const double l = piece.pluck_n_m + piece.pluck_slope_n_m * (at - piece.begin_rad) +
                     piece.wheel_n_m + m.load.steady_n_m;
    const double w2 = y * m.governor_per_disc * m.governor_per_disc;
    const double brake =
        m.governor_per_disc * std::max(0.0, m.governor.square_n_m_s2 * w2 - m.governor.offset_n_m);
    double low = -1e7;
    double high = 1e7;
    for (int k = 0; k < 100; ++k) {
      const double a = 0.5 * (low + high);
      const double need = torque_of(l + di * a, m.disc_efficiency, m.disc_back) +
                          torque_of(brake + gi * a, m.train_efficiency, m.train_back);
      (need > s ? high : low) = a;
    }
    return low;
  };
  // In time, so that nothing is singular at rest.
  double angle = 0.0;
  double speed = 0.0;
  double time = 0.0;
  const double h = 3.0 / steps;
  while (true) {
    const double k1 = acceleration(angle, speed * speed);
    const double v2 = speed + 0.5 * h * k1;
    const double k2 = acceleration(angle + 0.5 * h * speed, v2 * v2);
    const double v3 = speed + 0.5 * h * k2;
    const double k3 = acceleration(angle + 0.5 * h * v2, v3 * v3);
    const double v4 = speed + h * k3;
    const double k4 = acceleration(angle + h * v3, v4 * v4);
    const double next = angle + h / 6.0 * (speed + 2.0 * v2 + 2.0 * v3 + v4);
    if (next >= travel) return time + h * (travel - angle) / (next - angle);
    angle = next;
    speed += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
    time += h;
  }
}

TEST(Run, AgreesWithSmallStepsInTime) {
  std::mt19937 random(7);
  for (int i = 0; i < 3; ++i) {
    Machine machine = any_machine(random, false);
    const std::vector<double> place{0.15};
    const double exact = times_in_turn(machine, 0, place).at(0);
    EXPECT_NEAR(stepped_time(machine, 0.15, 60000) / exact, 1.0, 1e-4) << i;
  }
}

TEST(Run, PlacesOfATurnEndWithTheTurn) {
  std::mt19937 random(8);
  const Machine machine = any_machine(random, false);
  const Wind made = run(machine, 0.1);
  ASSERT_GE(made.turns.size(), 3U);
  for (int turn = 0; turn < 3; ++turn) {
    const std::vector<double> times = times_in_turn(machine, turn, {1.0, 3.0, two_pi - 1e-9});
    ASSERT_EQ(times.size(), 3U);
    EXPECT_NEAR(times[2] / made.turns[static_cast<std::size_t>(turn)].time_s, 1.0, 1e-8);
    EXPECT_LT(times[0], times[1]);
  }
}

TEST(Run, MorePlucksNeverPlayLonger) {
  std::mt19937 random(9);
  for (int i = 0; i < 30; ++i) {
    Machine light = any_machine(random, false);
    Machine heavy = light;
    for (LoadPiece& piece : heavy.load.pieces) {
      piece.pluck_n_m *= 12.0;
      piece.pluck_slope_n_m *= 12.0;
    }
    EXPECT_LE(run(heavy, 0.1).disc_turns, run(light, 0.1).disc_turns + 1e-9) << i;
  }
}

TEST(Run, ALoadTooGreatNeverStarts) {
  Machine machine = fan_machine(1e-4, 1e-10, 2e-7, 5.0);
  machine.load.steady_n_m = 2e-4;
  const Wind made = run(machine, 0.1);
  EXPECT_TRUE(made.stalls);
  EXPECT_EQ(made.disc_turns, 0.0);
  EXPECT_EQ(made.time_s, 0.0);
}

// Driven against a load greater than the spring by its own momentum alone: as far as the energy
// goes, (spring - load) x = I w^2 / 2.
TEST(Run, StallsWhereTheEnergyEnds) {
  Machine machine = fan_machine(1.0, 0.0, 1e-2, 5.0);
  machine.load.pieces = {{0.0, 0.0, 0.0, 0.0}, {1.0, 0.0, 0.0, 2.0}};
  const Wind made = run(machine, 0.1);
  EXPECT_TRUE(made.stalls);
  EXPECT_NEAR(made.stall_rad, 2.0, 1e-9);
  EXPECT_NEAR(made.books.left_j, 0.0, 1e-12);
}

}  // namespace
}  // namespace combwright::motor
