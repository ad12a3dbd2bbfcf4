// SPDX-License-Identifier: Apache-2.0
// bench_action BOX OUT.json: random boxes for the tolerances of a box, beside the closed forms that
// say the same for small deviations. The answers are compared before anything is timed.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include "action/action.h"
#include "action/tolerance.h"
#include "base/file.h"
#include "box/box_reader.h"

namespace {

using namespace combwright;

constexpr std::size_t boxes = 10'000;

void bench_trials(benchmark::State& state, const box::Box& box, unsigned threads) {
  for ([[maybe_unused]] auto _ : state)
    benchmark::DoNotOptimize(
        action::trials(box, {}, box.motor.turn_time_s, {.boxes = boxes, .threads = threads}));
  state.counters["teeth/s"] =
      benchmark::Counter(static_cast<double>(boxes * box.combs.size() * box.scale.midi.size()),
                         benchmark::Counter::kIsIterationInvariantRate);
}

void bench_first_order(benchmark::State& state, const box::Box& box) {
  for ([[maybe_unused]] auto _ : state)
    benchmark::DoNotOptimize(action::first_order(box, {}, box.motor.turn_time_s));
}

void bench_action(benchmark::State& state, const box::Box& box) {
  for ([[maybe_unused]] auto _ : state)
    benchmark::DoNotOptimize(action::action(box, box.motor.turn_time_s));
}

bool answers_agree(const box::Box& box) {
  const auto expected = action::first_order(box, {}, box.motor.turn_time_s);
  const auto found = action::trials(box, {}, box.motor.turn_time_s, {.boxes = boxes});
  double worst = 0.0;
  for (std::size_t i = 0; i < expected.size(); ++i) {
    worst = std::max(worst, std::abs(found.teeth[i].all.timing_s / expected[i].all.timing_s - 1.0));
  }
  fmt::print("largest difference of a standard deviation from the closed form: {:.3g}\n", worst);
  return worst < 0.1;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    fmt::print(stderr, "usage: bench_action BOX OUT.json\n");
    return 2;
  }
  const box::Box box = box::read_box(as_text(read_file(argv[1])), argv[1]).box;
  if (!answers_agree(box)) return 1;
  std::string out = std::string("--benchmark_out=") + argv[2];
  std::string repetitions = "--benchmark_repetitions=5";
  std::string aggregates = "--benchmark_report_aggregates_only=true";
  std::vector<char*> arguments{argv[0], out.data(), repetitions.data(), aggregates.data()};
  int count = static_cast<int>(arguments.size());
  benchmark::Initialize(&count, arguments.data());
  const auto unit = benchmark::kMillisecond;
  benchmark::RegisterBenchmark("10,000 boxes, one core", bench_trials, box, 1U)->Unit(unit);
  benchmark::RegisterBenchmark("10,000 boxes, two cores", bench_trials, box, 2U)
      ->Unit(unit)
      ->UseRealTime();
  benchmark::RegisterBenchmark("closed forms", bench_first_order, box)->Unit(unit);
  benchmark::RegisterBenchmark("action", bench_action, box)->Unit(unit);
  benchmark::RunSpecifiedBenchmarks();
}
