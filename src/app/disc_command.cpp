// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <string>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/arrange_options.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/disc_job.h"
#include "app/job_files.h"
#include "app/report.h"
#include "base/error.h"
#include "base/quantity.h"
#include "disc/plan_json.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::string tune;
  std::string from;
  std::string shop;
  std::string out;
  ArrangeTexts texts;
  bool force = false;
  bool json = false;
};

void check_inputs(const Options& options) {
  const bool texts = !options.texts.nothing();
  if (!options.from.empty() && (!options.box.empty() || texts))
    throw Error({}, "--from takes the disc as it is; leave out BOX, TUNE and how to arrange them");
  if (options.from.empty() && options.tune.empty())
    throw Error({}, fmt::format("{} is missing; write combwright disc BOX TUNE --out DIR",
                                options.box.empty() ? "BOX" : "TUNE"));
}

// The keys of the plan are those of the answer.
Json answer(const DiscJob& job, const std::vector<OutputFile>& files, const std::string& folder) {
  Json json = disc::to_json(job.plan);
  json["files"] = files_json(files, folder);
  json["cautions"] = cautions(job);
  return json;
}

std::string summary(const DiscJob& job) {
  const disc::Disc& disc = job.plan.disc;
  return facts({
      {"Tune", disc.title},
      {"Box", disc.box_name},
      {"Hits", fmt::format("{}", disc.projections.size())},
      {"Turn", to_text(disc.turn_time_s, Dimension::time)},
      {"Disc", fmt::format("{:.1f} mm across", 2e3 * disc.outer_radius_m)},
      {"Tour", fmt::format("{} between the hits (no order can beat {})",
                           to_text(disc.tour.length_s, Dimension::time),
                           to_text(disc.tour.bound_s, Dimension::time))},
  });
}

DiscJob job_of_tune(const Options& options, const std::vector<OutputFile>& files,
                    const Watch& watch) {
  const TuneInputs inputs =
      read_inputs({options.box, options.tune, options.shop, parsed(options.texts)});
  check_folder(folder_of(inputs, options.out, options.force), files);
  return tune_job(inputs, list_of(files), Combs::left_out, watch).disc;
}

int cut_disc(const Options& options) {
  check_inputs(options);
  check_folder_path(options.out);
  DiscJob job;
  const std::vector<OutputFile> files = disc_files(job);
  {
    Progress progress;
    job = options.from.empty() ? job_of_tune(options, files, progress.watch())
                               : plan_job(options.from, options.shop, progress.watch());
    write_folder(folder_of(job, options.out, options.force), files, {}, progress.watch());
  }
  const Findings& findings = job.plan.disc.findings;
  if (options.json)
    print(page_of(answer(job, files, options.out)));
  else
    print(summary(job) + files_text(files, options.out) + findings_text(findings) +
          cautions_text(cautions(job)));
  return status_of(findings);
}

}  // namespace

void add_disc(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(
      program, "disc", "Lay out a tune's disc and write its files, or the files of a plan",
      "combwright disc examples/larkspur.toml examples/tunes/hedgerow-morning.mid --out disc");
  add_box_file(command, options->box);
  add_tune_file(command, options->tune);
  add_folder_options(command, options->out, options->shop);
  command.add_option("--from", options->from, "take the disc from a plan, not from BOX and TUNE")
      ->type_name("PLAN.json");
  add_arrange_options(command, options->texts);
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return cut_disc(*options); }; });
}

}  // namespace combwright::app
