// SPDX-License-Identifier: Apache-2.0
// bench_arrange each BOX [TURN_S] < LIST      one JSON line for each tune of the list
// bench_arrange problem BOX TUNE              the problem of the best transposition and tempo
// bench_arrange scale BOX THREADS < LIST      all tunes of the list on so many threads
// bench_arrange plan BOX THREADS COUNT < LIST  a scale for the first so many tunes that can be
//                                             arranged
//
// LIST names tunes, one a line. Times are processor seconds unless they are called wall_s.
#include <algorithm>
#include <chrono>
#include <ctime>
#include <iostream>
#include <string>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>
#include <sys/resource.h>

#include "arrange/arrange.h"
#include "arrange/milp_json.h"
#include "arrange/scale_plan.h"
#include "arrange/score.h"
#include "arrange/search.h"
#include "arrange/solve.h"
#include "arrange/turn_part.h"
#include "base/error.h"
#include "base/file.h"
#include "base/parallel.h"
#include "box/box_reader.h"
#include "music/reader.h"

namespace {

using namespace combwright;
using nlohmann::json;

box::Box read_box(const std::string& path) {
  return box::read_box(as_text(read_file(path)), path).box;
}

music::Tune read_tune(const std::string& path) {
  return music::read_tune(read_file(path), path);
}

std::vector<std::string> read_list() {
  std::vector<std::string> paths;
  for (std::string path; std::getline(std::cin, path);) paths.push_back(path);
  return paths;
}

template <typename Work>
double cpu_s(const Work& work) {
  const std::clock_t start = std::clock();
  work();
  return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

json figures(const arrange::Arrangement& a) {
  const auto solved = std::count_if(a.trials.begin(), a.trials.end(),
                                    [](const auto& trial) { return trial.fidelity.has_value(); });
  const auto moved = std::count_if(a.notes.begin(), a.notes.end(), [](const auto& note) {
    return note.fate == arrange::Fate::moved;
  });
  return {{"notes", a.notes.size()},   {"moved", moved},
          {"trials", a.trials.size()}, {"trials_solved", solved},
          {"fidelity", a.fidelity},    {"fidelity_bound", a.fidelity_bound}};
}

void each(const box::Box& box) {
  for (const std::string& path : read_list()) {
    json line;
    try {
      const music::Tune tune = read_tune(path);
      arrange::Arrangement a;
      const double seconds = cpu_s([&] { a = arrange::arrange(box, tune); });
      line = figures(a);
      line["cpu_s"] = seconds;
    } catch (const Error& error) {
      line["error"] = error.what();
    }
    line["file"] = path;
    std::cout << line << std::endl;
  }
}

// The search's winner once more as a bare problem, and the time that one such problem takes.
void problem(const box::Box& box, const std::string& path) {
  constexpr int rounds = 5;
  const music::Tune tune = read_tune(path);
  arrange::Arrangement a;
  const double search_s = cpu_s([&] { a = arrange::arrange(box, tune); });
  std::vector<arrange::ScoreNote> notes;
  for (const arrange::ScoreNote& note : arrange::score(tune))
    if (note.bar >= a.first_bar && note.bar <= a.last_bar) notes.push_back(note);
  const arrange::Problem p = arrange::with_demands(arrange::problem_of(box, box.motor.turn_time_s),
                                                   notes, a.transpose_semitones, a.tempo_factor);
  arrange::Solution solution;
  const double solve_s = cpu_s([&] {
    for (int i = 0; i < rounds; ++i) solution = arrange::solve(p);
  });
  json line = figures(a);
  line["search_cpu_s"] = search_s;
  line["solve_cpu_s"] = solve_s / rounds;
  line["problem"] = arrange::json_of(p);
  line["solution"] = arrange::json_of(solution);
  std::cout << line << '\n';
}

void scale(const box::Box& box, unsigned threads) {
  const std::vector<std::string> paths = read_list();
  const auto start = std::chrono::steady_clock::now();
  std::vector<double> fidelity(paths.size());
  const double seconds = cpu_s([&] {
    parallel_for(paths.size(), threads, [&](std::size_t i) {
      try {
        fidelity[i] = arrange::arrange(box, read_tune(paths[i])).fidelity;
      } catch (const Error&) {
        fidelity[i] = 0.0;  // some real files hold no notes
      }
    });
  });
  const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - start;
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  std::cout << json{{"tunes", paths.size()},
                    {"threads", threads},
                    {"wall_s", wall.count()},
                    {"cpu_s", seconds},
                    {"peak_mb", static_cast<double>(usage.ru_maxrss) / 1024.0},
                    {"fidelity", fidelity}}
            << '\n';
}

// Reading included. Beside it what whole arrangements keep with the chosen scale.
void plan(const box::Box& box, unsigned threads, std::size_t count) {
  const arrange::Problem limits = arrange::problem_of(box, box.motor.turn_time_s);
  const auto start = std::chrono::steady_clock::now();
  std::vector<arrange::RepertoireTune> tunes;
  arrange::ScalePlan plan;
  const double seconds = cpu_s([&] {
    for (const std::string& path : read_list()) {
      if (tunes.size() == count) break;
      try {
        tunes.push_back({path, arrange::part_of_turn(box, limits, read_tune(path), {})});
      } catch (const Error&) {  // some real files hold no notes
      }
    }
    plan = arrange::plan_scale(box, tunes, {}, threads);
  });
  const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - start;
  box::Box cut = box;
  for (std::size_t i = 0; i < plan.scale.size(); ++i) cut.scale.midi[i] = plan.scale[i].midi;
  constexpr std::size_t every = 10;
  double planned = 0.0;
  double arranged = 0.0;
  double arranged_now = 0.0;
  std::size_t looked_at = 0;
  for (std::size_t j = 0; j < tunes.size(); j += every, ++looked_at) {
    planned += plan.tunes[j].coverage;
    arranged += arrange::arrange(cut, read_tune(tunes[j].name)).fidelity;
    arranged_now += arrange::arrange(box, read_tune(tunes[j].name)).fidelity;
  }
  json next = json::array();
  for (const arrange::NextTooth& tooth : plan.next) next.push_back(tooth.gain);
  std::cout << json{{"tunes", tunes.size()},
                    {"threads", threads},
                    {"wall_s", wall.count()},
                    {"cpu_s", seconds},
                    {"coverage", plan.coverage},
                    {"coverage_now", plan.coverage_now},
                    {"coverage_bound", plan.coverage_bound},
                    {"coverage_bound_in_keys", plan.coverage_bound_in_keys},
                    {"next", next},
                    {"planned_some", planned / static_cast<double>(looked_at)},
                    {"arranged_some", arranged / static_cast<double>(looked_at)},
                    {"arranged_some_now", arranged_now / static_cast<double>(looked_at)}}
            << '\n';
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  if (arguments.size() < 2) return 2;
  try {
    box::Box box = read_box(arguments[1]);
    if (arguments[0] == "each") {
      if (arguments.size() > 2) box.motor.turn_time_s = std::stod(arguments[2]);
      each(box);
    } else if (arguments[0] == "problem" && arguments.size() == 3) {
      problem(box, arguments[2]);
    } else if (arguments[0] == "scale" && arguments.size() == 3) {
      scale(box, static_cast<unsigned>(std::stoul(arguments[2])));
    } else if (arguments[0] == "plan" && arguments.size() == 4) {
      plan(box, static_cast<unsigned>(std::stoul(arguments[2])), std::stoul(arguments[3]));
    } else {
      return 2;
    }
  } catch (const std::exception& error) {
    std::cerr << error.what() << '\n';
    return 1;
  }
  return 0;
}
