// SPDX-License-Identifier: Apache-2.0
//
// Time and quality of the punch tour beside a plain strategy, on the same stops in the same run:
// nearest neighbour, then exchanges of two moves over all pairs until none is left. (Debian 12 has
// no general solver for closed tours to put beside them.) Every tour is checked before it counts:
// each stop once, length as told, never below the bound.
//
//   bench_tour [FILE]    figures to FILE, build/bench/tour.json by default
#include <algorithm>
#include <cmath>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <numeric>
#include <random>
#include <set>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "disc/tour.h"
#include "disc/tour_metric.h"

namespace {

using namespace combwright;
using Json = nlohmann::ordered_json;
using Stops = std::vector<disc::TourStop>;

constexpr std::size_t hits = 2'000;
constexpr int discs = 5;
constexpr int tracks = 76;
constexpr double one_turn = 2.0 * std::numbers::pi;

double unit(std::mt19937_64& random) {
  return static_cast<double>(random() >> 11) * 0x1p-53;
}

// Chords of one to six notes on a grid of 560 steps to the turn, each hit ahead of its chord by the
// same arc on every track, 2 mm apart from 50 mm outwards.
Stops chords(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::set<std::pair<int, int>> taken;
  Stops stops;
  while (stops.size() < hits) {
    const int step = static_cast<int>(560 * unit(random));
    const int notes = 1 + static_cast<int>(6 * unit(random));
    for (int i = 0; i < notes && stops.size() < hits; ++i) {
      const int track = static_cast<int>(tracks * unit(random));
      if (!taken.insert({step, track}).second) continue;
      const double radius_m = 0.05 + 0.002 * track;
      stops.push_back(
          {radius_m, std::fmod(one_turn * step / 560 + one_turn - 0.003 / radius_m, one_turn)});
    }
  }
  return stops;
}

Stops uniform(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  Stops stops;
  for (std::size_t i = 0; i < hits; ++i) {
    const double radius_m = 0.05 + 0.15 * unit(random);
    stops.push_back({radius_m, one_turn * unit(random)});
  }
  return stops;
}

struct Outcome {
  std::vector<std::size_t> order;
  double length_s = 0.0;
  double bound_s = 0.0;
};

Outcome ours(const Stops& stops) {
  const disc::TourResult result = disc::punch_tour({}, stops);
  return {result.order, result.length_s, result.bound_s};
}

double length_of(const disc::tour::PunchMetric& metric, const std::vector<std::size_t>& order) {
  double sum = 0.0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    sum += metric(static_cast<disc::tour::Stop>(order[i]),
                  static_cast<disc::tour::Stop>(order[(i + 1) % order.size()]));
  }
  return sum;
}

Outcome plain(const Stops& stops) {
  const disc::tour::PunchMetric metric({}, stops);
  std::vector<disc::tour::Stop> order(stops.size());
  std::iota(order.begin(), order.end(), 0U);
  for (std::size_t i = 0; i + 1 < order.size(); ++i) {
    const auto nearest =
        std::min_element(order.begin() + static_cast<std::ptrdiff_t>(i) + 1, order.end(),
                         [&](auto a, auto b) { return metric(order[i], a) < metric(order[i], b); });
    std::swap(order[i + 1], *nearest);
  }
  for (bool better = true; better;) {
    better = false;
    for (std::size_t i = 0; i + 2 < order.size(); ++i) {
      for (std::size_t j = i + 2; j < order.size(); ++j) {
        const auto a = order[i];
        const auto b = order[i + 1];
        const auto c = order[j];
        const auto d = order[(j + 1) % order.size()];
        if (a == d || metric(a, c) + metric(b, d) > metric(a, b) + metric(c, d) - 1e-9) continue;
        std::reverse(order.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                     order.begin() + static_cast<std::ptrdiff_t>(j) + 1);
        better = true;
      }
    }
  }
  const std::vector<std::size_t> tour(order.begin(), order.end());
  return {tour, length_of(metric, tour), 0.0};
}

void check(const Stops& stops, const Outcome& outcome, double bound_s) {
  std::vector<bool> seen(stops.size(), false);
  for (const std::size_t stop : outcome.order) seen.at(stop) = true;
  const double length_s = length_of(disc::tour::PunchMetric({}, stops), outcome.order);
  if (outcome.order.size() != stops.size() || std::count(seen.begin(), seen.end(), false) != 0 ||
      std::abs(length_s - outcome.length_s) > 1e-6 || length_s < bound_s) {
    throw std::runtime_error("a tour is not what it says");
  }
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

// Medians over the discs: processor seconds, bound included for ours, and excess over the bound.
struct Figures {
  std::vector<double> seconds;
  std::vector<double> gap;

  Json json() const {
    return {{"median_cpu_s", median(seconds)},
            {"median_gap", median(gap)},
            {"worst_gap", *std::max_element(gap.begin(), gap.end())}};
  }
};

template <class Strategy>
Outcome timed(const Strategy& strategy, const Stops& stops, Figures& figures) {
  const std::clock_t start = std::clock();
  Outcome outcome = strategy(stops);
  figures.seconds.push_back(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  return outcome;
}

Json compare(const std::string& name, Stops (*draw)(std::uint64_t)) {
  Figures our_figures;
  Figures plain_figures;
  for (int seed = 1; seed <= discs; ++seed) {
    const Stops stops = draw(static_cast<std::uint64_t>(seed));
    const Outcome our = timed(ours, stops, our_figures);
    const Outcome other = timed(plain, stops, plain_figures);
    check(stops, our, our.bound_s);
    check(stops, other, our.bound_s);
    our_figures.gap.push_back(our.length_s / our.bound_s - 1.0);
    plain_figures.gap.push_back(other.length_s / our.bound_s - 1.0);
  }
  for (const auto& [strategy, figures] :
       {std::pair{"punch_tour", our_figures}, std::pair{"nearest + 2-exchange", plain_figures}}) {
    fmt::print("{:8} {:22} {:6.3f} s  {:5.2f} % over the bound (worst {:.2f} %)\n", name, strategy,
               median(figures.seconds), 100.0 * median(figures.gap),
               100.0 * *std::max_element(figures.gap.begin(), figures.gap.end()));
  }
  return {{"stops", name},
          {"hits", hits},
          {"discs", discs},
          {"punch_tour", our_figures.json()},
          {"nearest_2_exchange", plain_figures.json()}};
}

}  // namespace

int main(int count, char** arguments) {
  try {
    const std::filesystem::path file = count > 1 ? arguments[1] : "build/bench/tour.json";
    const Json results = {compare("chords", chords), compare("uniform", uniform)};
    if (file.has_parent_path()) std::filesystem::create_directories(file.parent_path());
    std::ofstream(file) << results.dump(2) << '\n';
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return 1;
  }
}
