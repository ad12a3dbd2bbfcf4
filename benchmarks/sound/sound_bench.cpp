// SPDX-License-Identifier: Apache-2.0
// bench_sound OUT.json: how many times faster than it plays a disc is heard, on one core, beside
// the same model evaluated plainly (one sine and one exponential a sample, in double). The answers
// are compared before anything is timed.
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include "sound/preview.h"
#include "sound/reference.h"
#include "sound/scene.h"
#include "sound/wav.h"

namespace {

using namespace combwright;
using namespace combwright::sound;

// As dense as a full disc: 900 plucks in a turn of 70 s, on 76 tracks with two combs.
disc::Disc disc_of(const box::Box& box, double turn_time_s) {
  return test::random_disc(box, static_cast<int>(std::lround(900 * turn_time_s / 70)), turn_time_s,
                           1);  // stream "bench disc"
}

const double least_amplitude = std::pow(10.0, floor_db / 20);
constexpr double excerpt_s = 5.0;

void count_real_time(benchmark::State& state, double turn_time_s) {
  state.counters["x_real_time"] =
      benchmark::Counter(turn_time_s, benchmark::Counter::kIsIterationInvariantRate);
}

void bench_preview(benchmark::State& state, double turn_time_s) {
  const auto box = test::large_box();
  const auto combs = test::bars_for(box);
  const auto disc = disc_of(box, turn_time_s);
  for ([[maybe_unused]] auto _ : state)
    benchmark::DoNotOptimize(preview(box, combs, disc, {.threads = 1}));
  count_real_time(state, turn_time_s);
}

void bench_plain(benchmark::State& state) {
  const auto box = test::large_box();
  const auto combs = test::bars_for(box);
  const auto disc = disc_of(box, excerpt_s);
  for ([[maybe_unused]] auto _ : state)
    benchmark::DoNotOptimize(test::reference(box, combs, disc, {}, least_amplitude));
  count_real_time(state, excerpt_s);
}

void bench_wav(benchmark::State& state) {
  const auto box = test::large_box();
  const auto sound = test::heard(box, disc_of(box, 70.0));
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(wav(sound, "bench"));
  count_real_time(state, 70.0);
}

bool answers_agree() {
  const auto box = test::large_box();
  const auto disc = disc_of(box, excerpt_s);
  const auto combs = test::bars_for(box);
  const double worst = test::largest_difference(
      preview(box, combs, disc), test::reference(box, combs, disc, {}, least_amplitude));
  fmt::print("largest difference of a sample: {:.3g}, claimed {:.3g}\n", worst, preview_error);
  return worst <= preview_error;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    fmt::print(stderr, "usage: bench_sound OUT.json\n");
    return 2;
  }
  if (!answers_agree()) return 1;
  std::string out = std::string("--benchmark_out=") + argv[1];
  std::string repetitions = "--benchmark_repetitions=9";
  std::string aggregates = "--benchmark_report_aggregates_only=true";
  std::vector<char*> arguments{argv[0], out.data(), repetitions.data(), aggregates.data()};
  int count = static_cast<int>(arguments.size());
  benchmark::Initialize(&count, arguments.data());
  const auto unit = benchmark::kMillisecond;
  benchmark::RegisterBenchmark("preview, whole disc (70 s)", bench_preview, 70.0)->Unit(unit);
  benchmark::RegisterBenchmark("preview, excerpt", bench_preview, excerpt_s)->Unit(unit);
  benchmark::RegisterBenchmark("plain sines, excerpt", bench_plain)
      ->Unit(unit)
      ->Iterations(1)
      ->Repetitions(3);
  benchmark::RegisterBenchmark("WAV of a whole disc", bench_wav)->Unit(unit);
  benchmark::RunSpecifiedBenchmarks();
}
