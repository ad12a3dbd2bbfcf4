// SPDX-License-Identifier: Apache-2.0
//
// A wind of an hour with all plucks, and choosing a motor, on one core; before that the accuracy:
// spin-up of a fan against tanh, and the books.
//
//   bench_motor [FILE]    figures to FILE, build/bench/motor.json by default
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "action/action.h"
#include "base/file.h"
#include "box/box_reader.h"
#include "motor/motor.h"
#include "motor/size.h"
#include "steel/comb.h"

namespace {

using namespace combwright;
using Json = nlohmann::ordered_json;

constexpr double turn_rad = 2.0 * std::numbers::pi;

box::Box example(const std::string& name) {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/" + name + ".toml";
  return box::read_box(as_text(read_file(path)), path).box;
}

// The least processor time of several runs, in seconds.
template <class F>
double seconds(int runs, F&& f) {
  double least = 1e9;
  for (int i = 0; i < runs; ++i) {
    const std::clock_t begin = std::clock();
    f();
    least = std::min(least, static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
  }
  return least;
}

double spin_up_error() {
  const double torque = 1e-4;
  const double square = 6.735811e-10;
  const double inertia = 2e-7;
  motor::Machine machine;
  machine.spring.points = {{-1.0, torque, 0.0}, {31.0, torque, 0.0}};
  machine.full_turns = 30.0;
  machine.barrel_per_disc = 1.0;
  machine.governor_per_disc = 1.0;
  machine.governor = {.square_n_m_s2 = square, .inertia_kg_m2 = inertia};
  machine.load.pieces = {{}};
  const double settled = std::sqrt(torque / square);
  const double t0 = inertia / std::sqrt(torque * square);
  double worst = 0.0;
  double turns = 0.0;
  for (const motor::Turn& turn : motor::run(machine, 0.1).turns) {
    turns += 1.0;
    const double exact = t0 * std::acosh(std::exp(turn_rad * turns / (settled * t0)));
    worst = std::max(worst, std::abs(turn.end_s / exact - 1.0));
  }
  return worst;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string out = argc > 1 ? argv[1] : COMBWRIGHT_SOURCE_DIR "/build/bench/motor.json";
  const box::Box box = example("larkspur");
  const std::vector<steel::CombDesign> combs = steel::design_combs(box, {}, action::lifts_m(box));
  const std::vector<motor::PluckLoad> plucks =
      motor::pluck_loads(box, combs, motor::hardest_turn(box));
  const double spin_up = spin_up_error();

  // Geared down until the wind lasts an hour.
  box::Box hour = box;
  hour.spring.turns_used = 12.0;
  hour.spring.turns_left_full = 1.0;
  hour.spring.strip_width_m = 0.120;
  hour.spring.turns_per_disc_turn = 12.0 / 52.0;
  hour.train.wheel_teeth = {400, 200, 117};
  hour.governor = motor::predict(hour, plucks, box.motor.turn_time_s).set;
  const motor::Prediction wind = motor::predict(hour, plucks, box.motor.turn_time_s);
  const double gap = std::abs(wind.run.books.gap());
  if (wind.run.stalls || wind.run.time_s < 3600.0 || spin_up > 1e-6 || gap > 1e-4) {
    fmt::print(stderr, "no timing: spin-up {:.1e}, books {:.1e}, wind of {:.0f} s{}\n", spin_up,
               gap, wind.run.time_s, wind.run.stalls ? ", stalled" : "");
    return EXIT_FAILURE;
  }
  const double wind_s = seconds(7, [&] { return motor::run(wind.machine, 0.1); });
  const double all_s =
      seconds(5, [&] { return motor::predict(hour, plucks, box.motor.turn_time_s); });
  const double spring_s = seconds(7, [&] { return motor::spring_curve(box.spring); });

  box::Shop shop;
  for (const double width : {0.020, 0.025, 0.030, 0.035})
    for (const double thickness : {0.0004, 0.0005, 0.0006})
      shop.strips.push_back({width, thickness, 12.0});
  const motor::Wishes wishes{.plays = 6,
                             .turn_time_s = box.motor.turn_time_s,
                             .tempo_drop = 0.025,
                             .barrel_radius_m = 0.050};
  motor::Sizing sizing;
  double sizing_s = 1e9;
  for (int i = 0; i < 5; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    sizing = motor::size_motor(box, shop, plucks, wishes);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
    sizing_s = std::min(sizing_s, took.count());
  }

  Json figures = Json::array();
  const auto add = [&](std::string figure, std::string reach, std::string measured) {
    figures.push_back({{"figure", figure}, {"reach", reach}, {"measured", measured}});
  };
  add(fmt::format("motor, wind of {:.0f} s, {} plucks", wind.run.time_s,
                  plucks.size() * static_cast<std::size_t>(wind.plays)),
      "<= 100 ms", fmt::format("{:.0f} ms", 1e3 * wind_s));
  add("motor, the same with margin and settings", "", fmt::format("{:.0f} ms", 1e3 * all_s));
  add("motor, torque curve of a spring", "", fmt::format("{:.2f} ms", 1e3 * spring_s));
  add(fmt::format("motor, sizing from {} strips, {} springs tried, {} designs, two cores",
                  shop.strips.size(), sizing.tried, sizing.designs.size()),
      "<= 1 s", fmt::format("{:.2f} s", sizing_s));
  add("motor, energy books over the wind", "<= 1e-4", fmt::format("{:.0e}", gap));
  add("motor, spin-up of a fan against tanh", "<= 1e-6", fmt::format("{:.0e}", spin_up));
  const Json json = {{"figures", figures}};
  std::filesystem::create_directories(std::filesystem::path(out).parent_path());
  std::ofstream(out) << json.dump(2) << "\n";
  fmt::print("{}\n", json.dump(2));
  return EXIT_SUCCESS;
}
