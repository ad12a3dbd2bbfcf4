// SPDX-License-Identifier: Apache-2.0
#include <atomic>
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/arrange_options.h"
#include "app/arrangement_midi.h"
#include "app/arrangement_text.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/ordered.h"
#include "app/report.h"
#include "app/single_file.h"
#include "arrange/arrange.h"
#include "base/error.h"
#include "disc/plan_json.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::vector<std::string> tunes;
  ArrangeTexts texts;
  std::string midi;
  bool force = false;
  bool json = false;
};

Json answer(const arrange::Arrangement& arrangement, const Findings& findings) {
  Json json = to_json(arrangement);
  json["findings"] = disc::to_json(findings);
  return json;
}

int arrange_one(const Options& options) {
  const arrange::Options wishes = parsed(options.texts);
  const BoxInput box = load_box(options.box);
  const TuneInput tune = load_tune(options.tunes.front());
  const SingleFile midi = {options.midi,
                           midi_title(tune.tune.title, box.box.name),
                           options.force,
                           {options.box, options.tunes.front()}};
  if (!midi.path.empty()) check_single(midi);
  const auto arrangement = [&] {
    Progress progress;
    return arrange::arrange(box.box, tune.tune, wishes, progress.watch());
  }();
  const Findings findings = merged({&box.findings, &tune.tune.findings, &arrangement.findings});
  if (!midi.path.empty()) write_single(midi, arrangement_midi(arrangement));
  if (options.json)
    print(page_of(answer(arrangement, findings)));
  else
    print(summary(arrangement) + findings_text(findings) + changed_notes(arrangement));
  return status_of(findings);
}

constexpr const char* one_line = "{:>8}  {:>13}  {:>11}  {:>7}  {:>9}  {:>8}  {}{}\n";

// One line about one tune of many, and what it does to the exit status.
struct Line {
  std::string text;
  Status status = done;
};

Line line_about(const Options& options, const BoxInput& box, const arrange::Options& wishes,
                const std::string& path) {
  try {
    const TuneInput tune = load_tune(path);
    const arrange::Arrangement arrangement = arrange::arrange(box.box, tune.tune, wishes);
    const Findings findings = merged({&box.findings, &tune.tune.findings, &arrangement.findings});
    if (options.json) {
      Json json = {{"tune", path}};
      json.update(answer(arrangement, findings));
      return {line_of(json), status_of(findings)};
    }
    return {fmt::format(
                one_line, percent(arrangement.fidelity), percent(arrangement.fidelity_bound),
                arrange::lost_melody(arrangement).size(),
                fmt::format("{}-{}", arrangement.first_bar, arrangement.last_bar),
                fmt::format("{:+}", arrangement.transpose_semitones),
                percent(arrangement.tempo_factor), path, has_fault(findings) ? "  (fault)" : ""),
            status_of(findings)};
  } catch (const Error& error) {
    const Status status = error.kind() == Error::Kind::machine ? machine_refused : wrong_request;
    if (options.json)
      return {line_of({{"tune", path}, {"error", error.what()}, {"findings", Json::array()}}),
              status};
    return {fmt::format("{:>68}{}\n", "", error.what()), status};
  }
}

// The worst status of all, whichever thread meets it.
void raise(std::atomic<int>& worst, int status) {
  int known = worst;
  while (known < status && !worst.compare_exchange_weak(known, status)) {
  }
}

int arrange_many(const Options& options, const std::vector<std::string>& paths) {
  if (!options.midi.empty())
    throw Error({}, "--midi names one file, but there are several tunes; name one tune");
  const arrange::Options wishes = parsed(options.texts);
  const BoxInput box = load_box(options.box);
  if (!options.json)
    print(fmt::format(one_line, "Fidelity", "Most possible", "Melody lost", "Bars", "Semitones",
                      "Tempo", "Tune", ""));
  Progress progress(fmt::format("arranging {} tunes", paths.size()));
  std::atomic<int> worst = done;
  std::atomic<std::size_t> failed = 0;
  std::size_t written = 0;
  in_order(
      paths.size(),
      [&](std::size_t i) {
        Line line = line_about(options, box, wishes, paths[i]);
        raise(worst, line.status);
        if (line.status >= wrong_request) ++failed;
        return std::move(line.text);
      },
      [&](const std::string& line) {
        print(line);
        progress.set(fmt::format("arranged {} of {} tunes", ++written, paths.size()));
      });
  if (failed > 0) {
    throw Error({},
                fmt::format("{} of {} tunes could not be arranged; their lines say why",
                            failed.load(), paths.size()),
                worst == machine_refused ? Error::Kind::machine : Error::Kind::request);
  }
  return worst;
}

int arrange_tunes(const Options& options) {
  const std::vector<std::string> paths = tune_paths(options.tunes);
  const bool one = paths.size() == 1 && options.tunes.size() == 1 && paths == options.tunes;
  return one ? arrange_one(options) : arrange_many(options, paths);
}

}  // namespace

void add_arrange(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command =
      add_command(program, "arrange", "What the box can play of a tune, and how good that is",
                  "combwright arrange examples/larkspur.toml examples/tunes/hedgerow-morning.mid");
  add_box_file(command, options->box).required();
  command
      .add_option("TUNE", options->tunes,
                  "tune (MIDI or MusicXML); with several, or a folder of them, a line for each")
      ->required();
  add_arrange_options(command, options->texts);
  command.add_option("--midi", options->midi, "write the arrangement as a MIDI file too")
      ->type_name("FILE");
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return arrange_tunes(*options); }; });
}

}  // namespace combwright::app
