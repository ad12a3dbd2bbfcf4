// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <atomic>
#include <charconv>
#include <memory>
#include <optional>
#include <string>
#include <system_error>
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
  int count = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, problem] = std::from_chars(text.data(), end, count);
  if (problem != std::errc() || stop != end)
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

// That a tune is left out, and why.
Finding left_out(const std::string& path, const Error& error) {
  const std::string text = error.what();
  const std::string place = to_text(error.place()) + ": ";
  const bool placed = !error.place().file.empty() && text.starts_with(place);
  return {Level::warning, placed ? to_text(error.place()) : path,
          "left out: " + (placed ? text.substr(place.size()) : text), ""};
}

struct Repertoire {
  std::vector<arrange::RepertoireTune> tunes;
  Findings findings;  // of the tunes left out
};

// What a turn of the box holds of each tune. One that can't be read or arranged is refused if it
// was named, and left out if it lay in a folder.
Repertoire read_repertoire(const Options& options, const box::Box& box) {
  const std::vector<std::string> paths = tune_paths(options.tunes);
  if (paths.size() > arrange::most_tunes_of_repertoire) {
    throw Error({}, fmt::format("{} tunes are more than the {} that can be looked at; name fewer",
                                paths.size(), arrange::most_tunes_of_repertoire));
  }
  const arrange::Problem limits = arrange::problem_of(box, box.motor.turn_time_s);
  Progress progress(fmt::format("reading {} tunes", paths.size()));
  std::vector<std::optional<arrange::RepertoireTune>> read(paths.size());
  std::vector<Finding> why(paths.size());
  std::atomic<std::size_t> notes = 0;
  parallel_for(paths.size(), 0, [&](std::size_t i) {
    const bool named =
        std::find(options.tunes.begin(), options.tunes.end(), paths[i]) != options.tunes.end();
    try {
      const TuneInput tune = load_tune(paths[i]);
      read[i] = {paths[i], arrange::part_of_turn(box, limits, tune.tune, {})};
    } catch (const Error& error) {
      if (error.kind() == Error::Kind::machine) throw;
      if (named && error.place().file.empty()) throw Error({.file = paths[i]}, error.what());
      if (named) throw;
      why[i] = left_out(paths[i], error);
      return;
    }
    notes += read[i]->part.notes.size();
    if (notes > arrange::most_notes_of_repertoire)
      throw Error({}, fmt::format("the tunes have more than {} notes together; name fewer tunes",
                                  arrange::most_notes_of_repertoire));
  });
  Repertoire repertoire;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    if (read[i])
      repertoire.tunes.push_back(std::move(*read[i]));
    else
      repertoire.findings.push_back(std::move(why[i]));
  }
  if (repertoire.tunes.empty())
    throw Error(
        {}, fmt::format("none of the {} tunes can be arranged; arrange says why", paths.size()));
  return repertoire;
}

int show_scale(const Options& options) {
  const arrange::ScaleOptions wishes{.teeth = count_option("--teeth", options.teeth),
                                     .lowest_midi = note_option("--lowest", options.lowest),
                                     .highest_midi = note_option("--highest", options.highest)};
  const BoxInput input = load_box(options.box);
  const SingleFile file = {options.notes, scale_title(input.box.name), options.force};
  if (!file.path.empty()) check_single(file);
  const Repertoire repertoire = read_repertoire(options, input.box);
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
