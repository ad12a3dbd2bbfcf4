// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <filesystem>
#include <memory>
#include <string>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/arrange_options.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/disc_job.h"
#include "app/hear_job.h"
#include "app/report.h"
#include "app/single_file.h"
#include "app/wind_option.h"
#include "base/file.h"
#include "base/quantity.h"
#include "disc/plan_json.h"
#include "sound/wav.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::string tune;
  std::string shop;
  std::string out;
  std::string wind;
  ArrangeTexts texts;
  bool force = false;
  bool json = false;
};

double duration_s(const sound::Preview& preview) {
  return static_cast<double>(preview.left.size()) / preview.sample_rate_hz;
}

std::string summary(const disc::Disc& disc, const sound::Preview& preview, const std::string& out) {
  return facts({
      {"Tune", disc.title},
      {"Box", disc.box_name},
      {"Turn", fmt::format("{:.2f} s", disc.turn_time_s)},
      {"Sound", fmt::format("{}, stereo, {} Hz", to_text(duration_s(preview), Dimension::time),
                            preview.sample_rate_hz)},
      {"Peak", std::isfinite(preview.peak_dbfs)
                   ? fmt::format("{:.1f} dB below full scale", -preview.peak_dbfs)
                   : "silent"},
      {"Written", out},
  });
}

void check_ending(const std::string& path) {
  const std::filesystem::path name(path);
  const std::string ending = name.extension().string();
  if (ending == ".wav" || ending == ".WAV") return;
  throw Error({.file = path},
              fmt::format("sound is written as WAV only; write -o {}",
                          std::filesystem::path(name).replace_extension(".wav").string()));
}

int hear(const Options& options) {
  check_ending(options.out);
  const std::optional<motor::WindState> wind = wind_of(options.wind);
  const TuneInputs inputs =
      read_inputs({options.box, options.tune, options.shop, parsed(options.texts)});
  const SingleFile file = {
      options.out, heard_title(inputs), options.force, {options.box, options.tune, options.shop}};
  check_single(file);
  TuneJob job;
  const Heard heard = [&] {
    Progress progress;
    job = tune_job(inputs, {}, Combs::designed, progress.watch());
    return heard_at(job, wind, progress.watch());
  }();
  const Findings& findings = job.disc.plan.disc.findings;
  const sound::Preview& preview = heard.sound;
  write_single(file, as_text(sound::wav(preview, file.title)));
  if (options.json) {
    print(page_of({{"file", options.out},
                   {"duration_s", duration_s(preview)},
                   {"turn_time_s", heard.disc.turn_time_s},
                   {"sample_rate_hz", preview.sample_rate_hz},
                   {"peak_dbfs", preview.peak_dbfs},
                   {"findings", disc::to_json(findings)}}));
  } else {
    print(summary(heard.disc, preview, options.out) + findings_text(findings));
  }
  return status_of(findings);
}

}  // namespace

void add_hear(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(
      program, "hear", "The sound of one turn as a WAV file",
      "combwright hear examples/larkspur.toml examples/tunes/hedgerow-morning.mid -o hedgerow.wav");
  add_box_file(command, options->box).required();
  add_tune_file(command, options->tune).required();
  command.add_option("-o", options->out, "the sound file")->type_name("OUT.wav")->required();
  command.add_option("--shop", options->shop, "the workshop's own file (TOML)")->type_name("FILE");
  command
      .add_option("--wind", options->wind,
                  "at the speed of the motor: first turn of a wind (full), half-way, last one")
      ->type_name("full|half|last");
  add_arrange_options(command, options->texts);
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return hear(*options); }; });
}

}  // namespace combwright::app
