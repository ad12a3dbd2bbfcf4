// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <string>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/arrange_options.h"
#include "app/arrangement_text.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/disc_job.h"
#include "app/job_files.h"
#include "app/pack_answer.h"
#include "app/report.h"

namespace combwright::app {
namespace {

struct Options {
  std::string box;
  std::string tune;
  std::string shop;
  std::string out;
  ArrangeTexts texts;
  bool force = false;
  bool json = false;
};

int make_pack(const Options& options) {
  check_folder_path(options.out);
  TuneJob job;
  const std::vector<OutputFile> files = pack_files(job);
  const TuneInputs inputs =
      read_inputs({options.box, options.tune, options.shop, parsed(options.texts)});
  const OutputFolder folder = folder_of(inputs, options.out, options.force);
  check_folder(folder, files);
  {
    Progress progress;
    job = tune_job(inputs, list_of(files), Combs::designed, progress.watch());
    write_folder(folder, files, {}, progress.watch());
  }
  const Findings& findings = job.disc.plan.disc.findings;
  if (options.json)
    print(page_of(pack_json(job, files, options.out)));
  else
    print(summary(job.arrangement) + files_text(files, options.out) + findings_text(findings) +
          cautions_text(cautions(job)));
  return status_of(findings);
}

}  // namespace

void add_pack(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(
      program, "pack", "Everything the workshop needs for this box and tune, in one folder",
      "combwright pack examples/larkspur.toml examples/tunes/hedgerow-morning.mid --out pack");
  add_box_file(command, options->box).required();
  add_tune_file(command, options->tune).required();
  add_folder_options(command, options->out, options->shop);
  add_arrange_options(command, options->texts);
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] { run = [options] { return make_pack(*options); }; });
}

}  // namespace combwright::app
