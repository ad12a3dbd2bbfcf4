// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/report.h"
#include "app/scale_answers.h"
#include "app/single_file.h"
#include "arrange/scale_plan.h"
#include "base/error.h"
#include "base/parallel.h"
#include "base/text.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::vector<std::string> tunes;
  std::string teeth;
  std::string lowest, highest;
  std::string notes;
  bool force = false;
  bool json = false;
};

std::optional<int> count_option(const char* name, const std::string& text) {
  if (text.empty()) return std::nullopt;
  const std::optional<int> count = parse_number<int>(text);
  if (!count)
    throw Error({}, fmt::format("{} {} is no count; write a whole number, such as {} 40", name,
                                text, name));
  return count;
}

std::optional<int> note_option(const char* name, const std::string& text) {
  if (text.empty()) return std::nullopt;
  const std::optional<int> midi = music::parse_note(text);
  if (!midi)
    throw Error({}, fmt::format("{} {} is no note; write it as C4, F#5 or Eb3", name, text));
  return midi;
}

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
                             const std::vector<std::string>& named, const box::Box& box) {
  constexpr std::size_t block = 64;
  const arrange::Problem limits = arrange::problem_of(box, box.motor.turn_time_s);
  const Progress progress(fmt::format("reading {} tunes", paths.size()));
  std::vector<Read> read(paths.size());
  std::size_t notes = 0;
  for (std::size_t first = 0; first < paths.size(); first += block) {
    const std::size_t count = std::min(block, paths.size() - first);
    parallel_for(count, 0, [&](std::size_t k) {
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

struct Repertoire {
  std::vector<arrange::RepertoireTune> tunes;
  Findings findings;  // of the tunes left out
};

Repertoire read_repertoire(const std::vector<std::string>& named, const box::Box& box) {
  const std::vector<std::string> paths = tune_paths(named);
  if (paths.size() > arrange::most_tunes_of_repertoire) {
    throw Error({}, fmt::format("{} tunes are more than the {} that can be looked at; name fewer",
                                paths.size(), arrange::most_tunes_of_repertoire));
  }
  Repertoire repertoire;
  for (Read& read : read_tunes(paths, named, box)) {
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

std::vector<std::string> inputs_of(const Options& options) {
  std::vector<std::string> inputs = options.tunes;
  inputs.push_back(options.box);
  return inputs;
}

int show_scale(const Options& options) {
  const arrange::ScaleOptions wishes{.teeth = count_option("--teeth", options.teeth),
                                     .lowest_midi = note_option("--lowest", options.lowest),
                                     .highest_midi = note_option("--highest", options.highest)};
  const BoxInput input = load_box(options.box);
  const SingleFile file = {options.notes, scale_title(input.box.name), options.force,
                           inputs_of(options)};
  if (!file.path.empty()) check_single(file);
  const Repertoire repertoire = read_repertoire(options.tunes, input.box);
  const auto plan = [&] {
    const Progress progress(fmt::format("choosing a scale for {} tunes", repertoire.tunes.size()));
    return arrange::plan_scale(input.box, repertoire.tunes, wishes);
  }();
  const Findings findings = merged({&input.findings, &repertoire.findings, &plan.findings});
  if (!file.path.empty()) write_single(file, scale_file(plan));
  print(options.json ? page_of(to_json(plan, findings)) : scale_text(plan, findings));
  return status_of(findings);
}

}  // namespace

void add_scale(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command =
      add_command(program, "scale", "Choose the notes of the comb that serve a repertoire best",
                  "combwright scale examples/bramble.toml examples/tunes");
  add_box_file(command, options->box).required();
  command.add_option("TUNE", options->tunes, "tunes (MIDI or MusicXML), or folders of them")
      ->required();
  command
      .add_option("--teeth", options->teeth, "how many, one for each track (default: the box's)")
      ->type_name("N");
  command
      .add_option("--lowest", options->lowest, "lowest note of any tooth (default: the scale's)")
      ->type_name("NOTE");
  command
      .add_option("--highest", options->highest, "highest note of any tooth (default: the scale's)")
      ->type_name("NOTE");
  command.add_option("--notes", options->notes, "write the notes as the box file takes them")
      ->type_name("FILE");
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return show_scale(*options); }; });
}

}  // namespace combwright::app
