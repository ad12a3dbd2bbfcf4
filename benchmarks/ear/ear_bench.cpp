// SPDX-License-Identifier: Apache-2.0
//
// How well and how fast the ear hears recordings whose truth is known.
//
//   bench_ear [FILE]          figures to FILE, build/bench/ear.json by default
//   bench_ear files DIR       disturbed recordings as WAV with DIR/truth.json, for run.py
//   bench_ear listen DIR      what the ear hears in them, a pitch a line
//
// The signal-to-noise ratio is A^2 / (2 s^2): the power of the ring at its onset over that of white
// noise in the whole band up to half the rate. Errors are of the pitch that `surest` takes; a trial
// in which nothing, or another mode, was heard counts as a mistake and is named, not averaged.
#include <algorithm>
#include <array>
#include <cmath>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sndfile.h>

#include "base/file.h"
#include "ear/hear.h"
#include "ear/recording_reader.h"
#include "ear/take.h"
#include "sound_file.h"
#include "trials.h"

namespace {

using namespace combwright;
using namespace combwright::ear;
using namespace combwright::ear::bench;
using Json = nlohmann::ordered_json;

constexpr double octave_cents = 1200.0;

double cents(double error_hz, double hz) {
  return octave_cents * std::log2(1.0 + error_hz / hz);
}

Json row(const std::string& figure, const std::string& reach, const std::string& measured,
         Json more = Json::object()) {
  fmt::print("{:58} {:10} {}\n", figure, reach, measured);
  std::fflush(stdout);
  Json result{{"figure", figure}, {"reach", reach}, {"measured", measured}};
  result.update(more);
  return result;
}

struct Sum {
  double squares = 0.0;
  double sum = 0.0;
  double count = 0.0;

  void add(double value) {
    squares += value * value;
    sum += value;
    count += 1.0;
  }
  double rms() const { return std::sqrt(squares / count); }
  double mean() const { return sum / count; }
};

struct Judged {
  Sum over_bound;   // errors by their bounds
  Sum over_stated;  // errors by the stated ones
  Sum in_cents;
  std::size_t wrong_and_sure = 0;
  std::size_t wrong_and_unsure = 0;
  std::size_t right_but_unsure = 0;

  std::size_t mistakes() const { return wrong_and_sure + wrong_and_unsure; }
};

Judged judged(const Run& run) {
  Judged result;
  for (std::size_t t = 0; t < run.trials.size(); ++t) {
    const Trial& trial = run.trials[t];
    const Outcome& outcome = run.outcomes[t];
    if (!outcome.right) {
      (outcome.sure ? result.wrong_and_sure : result.wrong_and_unsure) += 1;
      if (trial.truth_hz.size() == 1)
        fmt::print("mistaken, {}: {:.2f} Hz for {:.2f} Hz\n", outcome.sure ? "sure" : "unsure",
                   outcome.heard ? outcome.heard_hz[0] : 0.0, trial.truth_hz[0]);
      continue;
    }
    if (!outcome.sure) result.right_but_unsure += 1;
    for (std::size_t i = 0; i < outcome.error_hz.size(); ++i) {
      const double error_hz = outcome.error_hz[i];
      if (!trial.bound_hz.empty()) result.over_bound.add(error_hz / trial.bound_hz[i]);
      result.over_stated.add(error_hz / outcome.stated_hz[i]);
      result.in_cents.add(cents(error_hz, trial.truth_hz[i]));
    }
  }
  return result;
}

// One tooth in white noise; each cell draws its rates from three.
Json noise_rows() {
  constexpr std::size_t trials = 1600;
  constexpr std::array<double, 3> rates_hz = {44100.0, 48000.0, 96000.0};
  Json table = Json::array();
  double worst_ratio = 0.0;
  double worst_bias = 0.0;
  double stated_low = 1e9;
  double stated_high = 0.0;
  std::size_t mistakes = 0;
  std::uint64_t stream = 100;
  for (const double hz : {60.0, 261.6, 1046.5, 4000.0}) {
    for (const double snr_db : {10.0, 20.0, 30.0, 40.0, 50.0, 60.0}) {
      std::array<double, 3> bounds_hz{};
      for (std::size_t r = 0; r < rates_hz.size(); ++r)
        bounds_hz[r] = lone_bound_hz(hz, rates_hz[r], snr_db);
      const Judged found = judged(run(trials, stream++, [&](Random& random) {
        const std::size_t r = random() % rates_hz.size();
        Trial trial = lone(hz, rates_hz[r], snr_db, random);
        trial.bound_hz = {bounds_hz[r]};
        return trial;
      }));
      const double ratio = found.over_bound.rms();
      const double bias = found.over_bound.mean();
      const double by_stated = found.over_stated.rms();
      fmt::print("{:7.1f} Hz, {:.0f} dB: RMSE / bound {:.3f}, bias / bound {:+.3f}\n", hz, snr_db,
                 ratio, bias);
      std::fflush(stdout);
      table.push_back({{"hz", hz},
                       {"snr_db", snr_db},
                       {"trials", trials},
                       {"rmse_over_bound", ratio},
                       {"bias_over_bound", bias},
                       {"rmse_over_stated", by_stated},
                       {"mistakes", found.mistakes()}});
      worst_ratio = std::max(worst_ratio, ratio);
      worst_bias = std::max(worst_bias, std::abs(bias));
      stated_low = std::min(stated_low, by_stated);
      stated_high = std::max(stated_high, by_stated);
      mistakes += found.mistakes();
    }
  }
  return {
      row(fmt::format("one tooth in white noise, worst of {} cells: RMSE / bound", table.size()),
          "<= 1.05",
          fmt::format("{:.3f} ({} missed of {})", worst_ratio, mistakes, trials * table.size()),
          {{"cells", table}}),
      row("the same: bias / bound, worst", "<= 0.1", fmt::format("{:.3f}", worst_bias)),
      row("the same: error / stated error, root mean square", "about 1",
          fmt::format("{:.2f} to {:.2f}", stated_low, stated_high))};
}

Json disturbed_rows() {
  constexpr std::size_t trials = 10000;
  const Judged found = judged(run(trials, 200, disturbed));
  const Judged room = judged(run(trials / 4, 201, in_a_room));
  const auto mistakes = [](const Judged& of) {
    return fmt::format("{} ({} of them called sure; {} more called unsure)", of.mistakes(),
                       of.wrong_and_sure, of.right_but_unsure);
  };
  return {row("click, hum -20 dB, two modes, neighbour, 40 dB: RMSE", "<= 0.1 c",
              fmt::format("{:.4f} c", found.in_cents.rms())),
          row("the same: error / stated error, root mean square", "about 1",
              fmt::format("{:.2f}", found.over_stated.rms())),
          row("the same: mode mistakes in 10,000", "0", mistakes(found)),
          row("the same in a room, low, 24 bits: RMSE", "",
              fmt::format("{:.4f} c", room.in_cents.rms())),
          row("the same: mode mistakes in 2,500", "", mistakes(room))};
}

Json pair_rows() {
  Json rows = Json::array();
  std::uint64_t stream = 300;
  for (const double snr_db : {40.0, 20.0}) {
    for (const double apart_hz : {0.5, 1.0, 3.0}) {
      const Judged found = judged(
          run(1000, stream++, [&](Random& random) { return pair(apart_hz, snr_db, random); }));
      rows.push_back(
          row(fmt::format("pair {} Hz apart, {} dB: RMSE / bound", apart_hz, snr_db), "<= 1.2",
              fmt::format("{:.3f} ({} of 1000 not told apart, {} of them sure)",
                          found.over_bound.rms(), found.mistakes(), found.wrong_and_sure)));
    }
  }
  return rows;
}

// Median processor time.
double cpu_s(int repeats, const std::function<void()>& work) {
  std::vector<double> seconds;
  for (int i = 0; i < repeats; ++i) {
    const std::clock_t start = std::clock();
    work();
    seconds.push_back(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  }
  std::nth_element(seconds.begin(), seconds.begin() + repeats / 2, seconds.end());
  return seconds[static_cast<std::size_t>(repeats / 2)];
}

double two_seconds_cpu_s(double rate_hz) {
  std::vector<std::vector<double>> recordings;
  for (std::uint64_t i = 0; i < 40; ++i) {
    Random random(i);
    test::Scene scene = disturbed(random).scene;
    scene.rate_hz = rate_hz;
    scene.seconds = 2.0;
    recordings.push_back(test::sound(scene, i));
  }
  std::size_t next = 0;
  return cpu_s(80, [&] { hear(recordings[next++ % recordings.size()], rate_hz, {}); });
}

// Teeth of a take that were heard within a cent of what they are.
std::size_t right_of(const std::vector<double>& pitches_hz, const Take& take) {
  std::size_t right = 0;
  for (std::size_t t = 0; t < pitches_hz.size(); ++t) {
    const auto& pluck = take.teeth[t].pluck;
    right +=
        pluck && std::abs(cents(pluck->own[0].frequency_hz - pitches_hz[t], pitches_hz[t])) < 1.0;
  }
  return right;
}

Json time_rows() {
  std::vector<double> pitches_hz;
  std::vector<ExpectedTooth> expected;
  for (int i = 0; i < 76; ++i) {
    pitches_hz.push_back(65.406 * std::exp2(70.0 / 75.0 * i / 12.0));
    expected.push_back({0.96 * pitches_hz.back(), 1.005 * pitches_hz.back()});
  }
  std::size_t right = 0;
  double take_s = 0.0;
  double worse_s = 0.0;
  constexpr std::uint64_t takes = 5;
  for (std::uint64_t i = 0; i < takes; ++i) {
    test::Scene scene = test::comb_take(pitches_hz, 48000.0, 0.7, 1.5, 3.0, i);
    scene.click = 0.3;
    scene.hum = 0.05;
    scene.noise = test::noise_of(40.0);
    scene.level = 0.1;
    const std::vector<double> samples = test::sound(scene, i);
    Take take;
    take_s =
        std::max(take_s, cpu_s(1, [&] { take = hear_take(samples, scene.rate_hz, expected); }));
    right += right_of(pitches_hz, take);
    // Every tenth pluck is of something else, so that it is heard again for what is missing.
    for (std::size_t t = 5; t < scene.plucks.size(); t += 10)
      scene.plucks[t].rings = test::tooth_rings(1.3 * pitches_hz[t]);
    const std::vector<double> wrong = test::sound(scene, i);
    worse_s =
        std::max(worse_s, cpu_s(1, [&] { take = hear_take(wrong, scene.rate_hz, expected); }));
  }
  return {
      row("time for 2 s at 48 kHz, disturbed, median", "<= 10 ms",
          fmt::format("{:.2f} ms", 1e3 * two_seconds_cpu_s(48000.0))),
      row("time for 2 s at 96 kHz, disturbed, median", "",
          fmt::format("{:.2f} ms", 1e3 * two_seconds_cpu_s(96000.0))),
      row("time for a take of 76 teeth, 115 s at 48 kHz, worst of 5", "<= 1 s",
          fmt::format("{:.2f} s", take_s)),
      row("the same with one pluck in ten of something else", "", fmt::format("{:.2f} s", worse_s)),
      row("teeth right in the first of these takes", "380", fmt::format("{}", right))};
}

// Recordings for other programs: half in white noise of 40 dB alone, half disturbed.
void write_files(const std::filesystem::path& folder) {
  constexpr int count = 100;
  std::filesystem::create_directories(folder);
  Json truth = Json::array();
  for (int i = 0; i < 2 * count; ++i) {
    Random random(static_cast<std::uint64_t>(400 + i));
    const bool quiet = i < count;
    Trial trial = disturbed(random);
    if (quiet) {
      trial.scene.click = trial.scene.hum = 0.0;
      trial.scene.plucks.resize(1);
    }
    trial.scene.level = 0.3;
    const std::string name = fmt::format("{}{:03}.wav", quiet ? "quiet" : "disturbed", i);
    write_file((folder / name).string(), test::sound_file({test::sound(trial.scene, random())},
                                                          48000, SF_FORMAT_WAV | SF_FORMAT_PCM_24));
    truth.push_back({{"file", name},
                     {"set", quiet ? "quiet" : "disturbed"},
                     {"hz", trial.truth_hz[0]},
                     {"onset_s", trial.scene.plucks[0].onset_s}});
  }
  std::ofstream(folder / "truth.json") << truth.dump(1) << '\n';
}

void listen(const std::filesystem::path& folder) {
  std::ifstream file(folder / "truth.json");
  for (const Json& entry : Json::parse(file)) {
    const std::string path = (folder / std::string(entry["file"])).string();
    const Recording recording = read_recording(read_file(path), path);
    const Heard heard = hear(recording.channels[0], recording.rate_hz, {});
    const auto place = surest(heard.plucks);
    fmt::print("{}\n", place ? heard.plucks[*place].own[0].frequency_hz : 0.0);
  }
}

}  // namespace

int main(int count, char** arguments) {
  const std::vector<std::string> words(arguments + 1, arguments + count);
  try {
    if (words.size() == 2 && words[0] == "files") {
      write_files(words[1]);
    } else if (words.size() == 2 && words[0] == "listen") {
      listen(words[1]);
    } else {
      const std::filesystem::path file = words.empty() ? "build/bench/ear.json" : words[0];
      Json rows = Json::array();
      for (const auto& part : {time_rows, pair_rows, disturbed_rows, noise_rows})
        for (const Json& entry : part()) rows.push_back(entry);
      if (file.has_parent_path()) std::filesystem::create_directories(file.parent_path());
      std::ofstream(file) << rows.dump(2) << '\n';
    }
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return 1;
  }
}
