// SPDX-License-Identifier: Apache-2.0
#include "app/repertoire.h"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "app/inputs.h"
#include "arrange/problem.h"
#include "base/error.h"
#include "base/parallel.h"

namespace combwright::app {
namespace {

// What came of one file: the tune, or why it is left out.
struct Read {
  std::optional<arrange::RepertoireTune> tune;
  Finding why;
};

// Refuses a tune that was named and can't be read or arranged; one that lay in a folder is left
// out.
Finding left_out(const std::string& path, bool named, const Error& error) {
  const bool placed = !error.place().file.empty();
  const Place place = placed ? error.place() : Place{.file = path};
  if (named || error.kind() == Error::Kind::machine)
    throw Error(place, error.message(), error.kind());
  return {Level::warning, to_text(place), "left out: " + error.message(), ""};
}

[[noreturn]] void refuse_notes() {
  throw Error({}, fmt::format("the tunes have more than {} notes together; name fewer tunes",
                              arrange::most_notes_of_repertoire));
}

// What a turn of the box holds of one tune.
Read read_tune(const std::string& path, bool named, const box::Box& box,
               const arrange::Problem& limits) {
  Read read;
  try {
    const TuneInput tune = load_tune(path);
    read.tune = {path, arrange::part_of_turn(box, limits, tune.tune, {})};
  } catch (const Error& error) {
    read.why = left_out(path, named, error);
    return read;
  }
  if (read.tune->part.notes.size() > arrange::most_notes_of_repertoire) refuse_notes();
  return read;
}

// In blocks, so that no more notes are held than a repertoire may have and one block brings; the
// same block says so however the threads ran.
std::vector<Read> read_tunes(const std::vector<std::string>& paths,
                             const std::vector<std::string>& named, const box::Box& box,
                             const Watch& watch) {
  constexpr std::size_t block = 64;
  const arrange::Problem limits = arrange::problem_of(box, box.motor.turn_time_s);
  std::vector<Read> read(paths.size());
  std::size_t notes = 0;
  for (std::size_t first = 0; first < paths.size(); first += block) {
    const std::size_t count = std::min(block, paths.size() - first);
    parallel_for(count, 0, [&](std::size_t k) {
      watch.check();
      const std::string& path = paths[first + k];
      const bool is_named = std::find(named.begin(), named.end(), path) != named.end();
      read[first + k] = read_tune(path, is_named, box, limits);
    });
    for (std::size_t i = first; i < first + count; ++i) {
      if (read[i].tune) notes += read[i].tune->part.notes.size();
      if (notes > arrange::most_notes_of_repertoire) refuse_notes();
    }
  }
  return read;
}

}  // namespace

Repertoire read_repertoire(const std::vector<std::string>& named, const box::Box& box,
                           const Watch& watch) {
  watch.say("reading the tunes");
  const std::vector<std::string> paths = tune_paths(named);
  if (paths.size() > arrange::most_tunes_of_repertoire) {
    throw Error({}, fmt::format("{} tunes are more than the {} that can be looked at; name fewer",
                                paths.size(), arrange::most_tunes_of_repertoire));
  }
  Repertoire repertoire;
  for (Read& read : read_tunes(paths, named, box, watch)) {
    if (read.tune)
      repertoire.tunes.push_back(std::move(*read.tune));
    else
      repertoire.findings.push_back(std::move(read.why));
  }
  if (repertoire.tunes.empty())
    throw Error(
        {}, fmt::format("none of the {} tunes can be arranged; arrange says why", paths.size()));
  return repertoire;
}

}  // namespace combwright::app
