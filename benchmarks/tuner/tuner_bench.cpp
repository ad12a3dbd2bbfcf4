// SPDX-License-Identifier: Apache-2.0
//
// Simulated tuning of ten thousand teeth of the larger example box by the advice, by fixed steps
// and by halving, in one run; then with true spreads that are twice and half of those told.
//
//   bench_tuner [FILE [TEETH]]    figures to FILE, build/bench/tuner.json by default
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/parallel.h"
#include "tuner/simulated_tooth.h"

namespace {

using namespace combwright;
using namespace combwright::tuner::simulation;
using Json = nlohmann::ordered_json;
using tuner::ToothOf;

struct Place {
  std::size_t comb;
  std::size_t tooth;
};

std::vector<Place> places(const Workshop& shop, bool leaded) {
  std::vector<Place> result;
  for (std::size_t c = 0; c < shop.designs.size(); ++c)
    for (std::size_t t = 0; t < shop.designs[c].teeth.size(); ++t)
      if (shop.designs[c].teeth[t].leaded() == leaded) result.push_back({c, t});
  return result;
}

template <class Strategy>
std::vector<Outcome> outcomes(const Workshop& shop, bool leaded, const Spreads& spreads,
                              std::size_t count, const Strategy& strategy) {
  const std::vector<Place> all = places(shop, leaded);
  std::vector<Outcome> result(count);
  parallel_for(count, 0, [&](std::size_t i) {
    const auto [comb, tooth] = all[i % all.size()];
    const ToothOf of{shop.box, shop.shop, shop.designs, comb, tooth};
    result[i] = strategy(shop, of, Bench(shop, comb, tooth, spreads, 1000 + i));
  });
  return result;
}

// The value below which this share of the teeth lies.
template <class Value>
double quantile(const std::vector<Outcome>& outcomes, double share, const Value& value) {
  std::vector<double> values;
  for (const Outcome& outcome : outcomes) values.push_back(value(outcome));
  std::sort(values.begin(), values.end());
  const auto last = static_cast<double>(values.size() - 1);
  return values[static_cast<std::size_t>(share * last + 0.5)];
}

template <class Value>
double mean(const std::vector<Outcome>& outcomes, const Value& value) {
  double sum = 0.0;
  for (const Outcome& outcome : outcomes) sum += value(outcome);
  return sum / static_cast<double>(outcomes.size());
}

template <class Test>
std::size_t count_if(const std::vector<Outcome>& outcomes, const Test& test) {
  return static_cast<std::size_t>(std::count_if(outcomes.begin(), outcomes.end(), test));
}

class Figures {
 public:
  void add(const std::string& figure, const std::string& reach, const std::string& measured) {
    fmt::print("{:58} {:10} {}\n", figure, reach, measured);
    rows_.push_back({{"figure", figure}, {"reach", reach}, {"measured", measured}});
  }

  // All that is told of one strategy.
  void add_all(const std::string& name, const std::vector<Outcome>& all, double tolerance,
               bool asked) {
    const auto reach = [asked](const char* text) { return std::string(asked ? text : ""); };
    const auto percent = [&](std::size_t some) {
      return fmt::format("{:.2f} %",
                         100.0 * static_cast<double>(some) / static_cast<double>(all.size()));
    };
    const auto cuts = [](const Outcome& o) { return static_cast<double>(o.cuts()); };
    add(name + ", clips and filings, median", reach("<= 3"),
        fmt::format("{:.0f}", quantile(all, 0.5, cuts)));
    add(name + ", 99th percentile", reach("<= 5"),
        fmt::format("{:.0f}", quantile(all, 0.99, cuts)));
    add(name + ", readings, mean", "", fmt::format("{:.2f}", mean(all, [](const Outcome& o) {
                                                     return static_cast<double>(o.readings);
                                                   })));
    add(name + ", gone sharp by a cut", reach("<= 0.5 %"),
        percent(count_if(all, [](const Outcome& o) { return o.overshot; })));
    add(name + ", ended within the tolerance", reach("100 %"),
        percent(
            count_if(all, [&](const Outcome& o) { return std::abs(o.end_cents) <= tolerance; })));
    add(name + ", farthest at the end", "",
        fmt::format("{:.2f} cents",
                    quantile(all, 1.0, [](const Outcome& o) { return std::abs(o.end_cents); })));
    add(name + ", sharp as cut; filed at all", "",
        percent(count_if(all, [](const Outcome& o) { return o.cut_sharp; })) + "; " +
            percent(count_if(all, [](const Outcome& o) { return o.files > 0; })));
  }

  const Json& rows() const { return rows_; }

 private:
  Json rows_ = Json::array();
};

Json measured(std::size_t count) {
  Workshop shop = workshop(COMBWRIGHT_SOURCE_DIR "/examples/larkspur.toml");
  const Spreads told;
  tell(shop, told);
  const double tolerance = shop.shop.tolerance.pitch_cents;
  const auto advice = [](const Workshop& w, const ToothOf& of, const Bench& bench) {
    return by_advice(w, of, bench);
  };
  Figures figures;
  figures.add_all("advice", outcomes(shop, true, told, count, advice), tolerance, true);
  figures.add_all("fixed steps", outcomes(shop, true, told, count, by_fixed_steps), tolerance,
                  false);
  figures.add_all("halving", outcomes(shop, true, told, count, by_halving), tolerance, false);
  Workshop fine = shop;
  fine.shop.lead.smallest_clip_kg = 1e-8;
  figures.add_all("advice, finest nippers", outcomes(fine, true, told, count, advice), tolerance,
                  true);
  figures.add_all("fixed steps, finest nippers", outcomes(fine, true, told, count, by_fixed_steps),
                  tolerance, false);
  figures.add_all("halving, finest nippers", outcomes(fine, true, told, count, by_halving),
                  tolerance, false);
  figures.add_all("advice, spreads twice those told",
                  outcomes(shop, true, times(told, 2.0), count, advice), tolerance, false);
  figures.add_all("advice, spreads half those told",
                  outcomes(shop, true, times(told, 0.5), count, advice), tolerance, false);
  Spreads biased = told;
  biased.clip_bias = 0.1;
  figures.add_all("advice, hands 10 % off besides", outcomes(shop, true, biased, count, advice),
                  tolerance, false);
  figures.add_all("teeth without weights", outcomes(shop, false, told, count / 5, advice),
                  tolerance, false);
  return figures.rows();
}

}  // namespace

int main(int count, char** arguments) {
  try {
    const std::filesystem::path file = count > 1 ? arguments[1] : "build/bench/tuner.json";
    const Json results = measured(count > 2 ? std::strtoul(arguments[2], nullptr, 10) : 10'000);
    if (file.has_parent_path()) std::filesystem::create_directories(file.parent_path());
    std::ofstream(file) << results.dump(2) << '\n';
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return 1;
  }
}
