// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <string>
#include <vector>

#include "app/answers.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/repertoire.h"
#include "app/report.h"
#include "app/scale_answers.h"
#include "app/scale_options.h"
#include "app/single_file.h"
#include "arrange/scale_plan.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::vector<std::string> tunes;
  ScaleTexts wishes;
  std::string notes;
  bool force = false;
  bool json = false;
};

std::vector<std::string> inputs_of(const Options& options) {
  std::vector<std::string> inputs = options.tunes;
  inputs.push_back(options.box);
  return inputs;
}

int show_scale(const Options& options) {
  const arrange::ScaleOptions wishes = parsed(options.wishes);
  const BoxInput input = load_box(options.box);
  const SingleFile file = {options.notes, scale_title(input.box.name), options.force,
                           inputs_of(options)};
  if (!file.path.empty()) check_single(file);
  Repertoire repertoire;
  const arrange::ScalePlan plan = [&] {
    Progress progress;
    repertoire = read_repertoire(options.tunes, input.box, progress.watch());
    return arrange::plan_scale(input.box, repertoire.tunes, wishes, 0, progress.watch());
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
      .add_option("--teeth", options->wishes.teeth,
                  "how many, one for each track (default: the box's)")
      ->type_name("N");
  command
      .add_option("--lowest", options->wishes.lowest,
                  "lowest note of any tooth (default: the scale's)")
      ->type_name("NOTE");
  command
      .add_option("--highest", options->wishes.highest,
                  "highest note of any tooth (default: the scale's)")
      ->type_name("NOTE");
  command.add_option("--notes", options->notes, "write the notes as the box file takes them")
      ->type_name("FILE");
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return show_scale(*options); }; });
}

}  // namespace combwright::app
