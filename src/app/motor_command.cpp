// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/arrange_options.h"
#include "app/comb_job.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/disc_job.h"
#include "app/inputs.h"
#include "app/job_files.h"
#include "app/motor_answers.h"
#include "app/motor_job.h"
#include "app/motor_wishes.h"
#include "app/report.h"
#include "app/single_file.h"
#include "base/error.h"
#include "draw/cautions.h"
#include "draw/dxf.h"
#include "draw/train_drawing.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::string tune;
  std::string shop;
  ArrangeTexts texts;
  bool size = false;
  WishTexts wishes;
  std::string dxf;
  bool force = false;
  bool json = false;
};

MotorJob job_of(const Options& options) {
  Progress progress;
  if (!options.tune.empty())
    return motor_job(read_inputs({options.box, options.tune, options.shop, parsed(options.texts)}),
                     progress.watch());
  if (!options.texts.nothing())
    throw Error({}, "--bars, --transpose, --tempo, --melody and --lock need a tune");
  return motor_job(load_box(options.box), load_shop(options.shop), progress.watch());
}

void refuse_wishes_alone(const Options& options) {
  if (!options.wishes.nothing())
    throw Error({}, "--plays, --turn-time, --tempo-drop and --barrel are wishes; give --size too");
}

int size(const Options& options, const MotorJob& work) {
  const motor::Wishes asked = wishes_of(options.wishes, work);
  // The plucks stand at the same places of the disc whatever time it takes to turn.
  const motor::Sizing sizing = [&] {
    Progress progress;
    return motor::size_motor(work.box, work.shop, work.prediction.plucks, asked, progress.watch());
  }();
  const Findings findings = merged({&sizing.findings, &work.findings});
  if (options.json) {
    Json answer = to_json(work.box, work.tune, sizing, findings);
    answer["cautions"] = draw::motor_cautions();
    print(page_of(answer));
  } else {
    print(sizing_text(work.box, work.tune, sizing, findings) +
          cautions_text(draw::motor_cautions()));
  }
  return status_of(findings);
}

int show_motor(const Options& options) {
  if (!options.size) refuse_wishes_alone(options);
  if (options.size && !options.dxf.empty())
    throw Error({}, "--dxf draws the box's own train; put a design's keys into the box file first");
  const MotorJob work = job_of(options);
  if (options.size) return size(options, work);
  const draw::Drawing train = draw::train_drawing(work.box);
  const SingleFile file = {
      options.dxf, train.title, options.force, {options.box, options.tune, options.shop}};
  if (!file.path.empty()) write_single(file, draw::write_dxf(train));
  const motor::Prediction& prediction = work.prediction;
  const Findings findings = merged({&prediction.findings, &work.findings});
  if (options.json) {
    Json answer = to_json(work.box, work.tune, prediction, findings);
    answer["cautions"] = draw::motor_cautions();
    print(page_of(answer));
  } else {
    print(motor_text(work.box, work.tune, prediction, findings) +
          cautions_text(draw::motor_cautions()));
  }
  return status_of(findings);
}

}  // namespace

void add_motor(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(
      program, "motor", "How long the motor plays, how evenly, and which motor to build",
      "combwright motor examples/larkspur.toml examples/tunes/hedgerow-morning.mid");
  add_box_file(command, options->box).required();
  add_tune_file(command, options->tune);
  command.add_option("--shop", options->shop, "the workshop's own file (TOML)")->type_name("FILE");
  add_arrange_options(command, options->texts);
  command.add_flag("--size", options->size, "choose spring, train and governor from stock");
  command.add_option("--plays", options->wishes.plays, "with --size: tunes wished for on one wind")
      ->type_name("N")
      ->check(CLI::Range(1, most_plays));
  command.add_option("--turn-time", options->wishes.turn_time, "with --size: time of a turn")
      ->type_name("TIME");
  command
      .add_option("--tempo-drop", options->wishes.tempo_drop,
                  "with --size: loss of tempo over a wind that is let pass")
      ->type_name("SHARE");
  command
      .add_option("--barrel", options->wishes.barrel, "with --size: room for it, diameter inside")
      ->type_name("LENGTH");
  command.add_option("--dxf", options->dxf, "write the train at full size as DXF")
      ->type_name("FILE");
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return show_motor(*options); }; });
}

}  // namespace combwright::app
