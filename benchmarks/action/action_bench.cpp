// SPDX-License-Identifier: Apache-2.0
//
// Random boxes for the tolerances of larkspur on two cores, beside the closed forms that say the
// same for small deviations; their spreads are compared first.
//
//   bench_action [FILE]    figures to FILE, build/bench/action.json by default
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "action/action.h"
#include "action/tolerance.h"
#include "base/file.h"
#include "box/box_reader.h"

namespace {

using namespace combwright;
using Json = nlohmann::ordered_json;

constexpr std::size_t boxes = 10'000;

// Median of several runs, in seconds.
template <class F>
double seconds(int runs, F&& f) {
  std::vector<double> all;
  for (int i = 0; i < runs; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    f();
    all.push_back(std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count());
  }
  std::nth_element(all.begin(), all.begin() + runs / 2, all.end());
  return all[static_cast<std::size_t>(runs / 2)];
}

// The largest difference of a tooth's spread from the closed form, in standard errors of a spread
// known from so many boxes.
double worst_departure(const box::Box& box, const box::ActionTolerance& tolerance) {
  const double turn_time_s = box.motor.turn_time_s;
  const auto expected = action::first_order(box, tolerance, turn_time_s);
  const auto found = action::trials(box, tolerance, turn_time_s, {.boxes = boxes}).teeth;
  const double error = 1.0 / std::sqrt(2.0 * boxes);
  double worst = 0.0;
  for (std::size_t i = 0; i < expected.size(); ++i) {
    for (const auto spread :
         {&action::Spread::lift_m, &action::Spread::loudness_db, &action::Spread::timing_s}) {
      const double ratio = found[i].all.*spread / (expected[i].all.*spread);
      worst = std::max(worst, std::abs(ratio - 1.0) / error);
    }
  }
  return worst;
}

// Small enough for first order to hold.
box::ActionTolerance small() {
  box::ActionTolerance tolerance;
  for (double* part :
       {&tolerance.axis_height_m, &tolerance.axle_play_m, &tolerance.projection_height_m,
        &tolerance.comb_overlap_m, &tolerance.comb_level_m, &tolerance.eccentricity_m})
    *part *= 0.01;
  return tolerance;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string out = argc > 1 ? argv[1] : COMBWRIGHT_SOURCE_DIR "/build/bench/action.json";
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/larkspur.toml";
  const box::Box box = box::read_box(as_text(read_file(path)), path).box;
  const double turn_time_s = box.motor.turn_time_s;
  const double departure = worst_departure(box, small());
  if (departure > 5.0) {
    fmt::print(stderr, "no timing: spreads {:.1f} standard errors from the closed form\n",
               departure);
    return EXIT_FAILURE;
  }
  const double trials_s = seconds(
      5, [&] { return action::trials(box, {}, turn_time_s, {.boxes = boxes, .threads = 2}); });
  const double forms_s = seconds(5, [&] { return action::first_order(box, {}, turn_time_s); });
  const double action_s = seconds(5, [&] { return action::action(box, turn_time_s); });
  const std::size_t teeth = box.combs.size() * box.scale.midi.size();

  Json figures = Json::array();
  const auto add = [&](std::string figure, std::string reach, std::string measured) {
    figures.push_back({{"figure", figure}, {"reach", reach}, {"measured", measured}});
  };
  add(fmt::format("action, {} random boxes of {} teeth, two cores", boxes, teeth), "<= 5 s",
      fmt::format("{:.2f} s", trials_s));
  add("action, their spreads from first order, standard errors, small tolerances", "<= 5",
      fmt::format("{:.1f}", departure));
  add("action, closed forms of all teeth", "", fmt::format("{:.2f} ms", 1e3 * forms_s));
  add("action, geometry of all tracks", "", fmt::format("{:.2f} ms", 1e3 * action_s));
  const Json json = {{"figures", figures}};
  std::filesystem::create_directories(std::filesystem::path(out).parent_path());
  std::ofstream(out) << json.dump(2) << "\n";
  fmt::print("{}\n", json.dump(2));
  return EXIT_SUCCESS;
}
