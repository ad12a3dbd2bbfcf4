// SPDX-License-Identifier: Apache-2.0
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "app/answers.h"
#include "app/comb_answers.h"
#include "app/comb_job.h"
#include "app/commands.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/job_files.h"
#include "app/lesson_answers.h"
#include "app/report.h"
#include "app/single_file.h"
#include "base/file.h"
#include "disc/plan_json.h"
#include "draw/cautions.h"
#include "draw/comb_pdf.h"
#include "draw/dxf.h"
#include "steel/learn.h"
#include "steel/margin.h"
#include "steel/reading_origin.h"
#include "steel/readings_reader.h"

namespace combwright::app {
namespace {

// A few hundred teeth are a few kilobytes.
constexpr std::size_t largest_readings = std::size_t{1} << 20;

struct Options {
  std::string box;
  std::string shop;
  std::string dxf;
  std::string out;
  std::string learn;
  bool force = false;
  bool json = false;
};

// What the readings tell, and nothing but that: the design itself is `comb` without them.
int show_lesson(const Options& options) {
  if (!options.out.empty() || !options.dxf.empty())
    throw Error({}, "--learn only tells; write drawings with another call, without it");
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const Bytes bytes = read_file(options.learn, largest_readings);
  const auto readings = steel::read_pitches(as_text(bytes), options.learn, input.box);
  const Progress progress("learning from the readings");
  const std::vector<steel::CombDesign> designs = designed(input.box, shop);
  const steel::Lesson lesson = steel::learn(input.box, designs, readings);
  const Findings foreign = steel::find_foreign(readings, input.sha256);
  const std::vector<steel::CombDesign> next = designed(steel::taught(input.box, lesson), shop);
  Findings margins;
  for (std::size_t i = 0; i < next.size(); ++i)
    for (Finding& finding : steel::margin_findings(input.box.combs[i], next[i].cut_spread))
      margins.push_back(std::move(finding));
  const Findings findings = merged({&input.findings, &foreign, &lesson.findings, &margins});
  if (options.json) {
    Json answer = to_json(input.box, designs, next, lesson);
    answer["box"] = input.box.name;
    answer["findings"] = disc::to_json(findings);
    print(page_of(answer));
  } else {
    print(facts({{"Box", input.box.name}}) + findings_text(findings) + "\n" +
          lesson_text(input.box, designs, next, lesson));
  }
  return status_of(findings);
}

int show_comb(const Options& options) {
  if (!options.out.empty()) check_folder_path(options.out);
  const std::string date = today();
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const SingleFile file = {options.dxf,
                           combs_title(input.box),
                           options.force,
                           {options.box, options.shop, options.learn}};
  if (!file.path.empty()) check_single(file);
  CombJob job;
  std::vector<OutputFile> files = comb_files(input.box, job);
  files.insert(files.begin(), {"combs.pdf", "the sheets for saw and bench", [&] {
                                 return draw::write_comb_pdf(input.box, shop, job.designs,
                                                             {date, input.sha256, "box file"});
                               }});
  const OutputFolder folder{options.out, input.box.name, "its combs", options.force};
  if (!options.out.empty()) check_folder(folder, files);
  {
    Progress progress;
    job = comb_job(input.box, shop, progress.watch());
    if (!options.out.empty()) write_folder(folder, files, {}, progress.watch());
  }
  if (!file.path.empty()) write_single(file, draw::write_dxf(job.drawing));
  const Findings findings = comb_findings(input.findings, job);
  if (options.json) {
    Json answer = to_json(input.box, job.designs, findings);
    answer["cautions"] = draw::comb_sheet_cautions(input.box, job.designs);
    if (!options.out.empty()) answer["files"] = files_json(files, options.out);
    print(page_of(answer));
  } else {
    print(comb_text(input.box, job.designs, findings) +
          (options.out.empty() ? "" : files_text(files, options.out)) +
          cautions_text(draw::comb_sheet_cautions(input.box, job.designs)));
  }
  return status_of(findings);
}

}  // namespace

void add_comb(CLI::App& program, Run& run) {
  const auto options = std::make_shared<Options>();
  CLI::App& command =
      add_command(program, "comb", "Design the whole comb: lengths, thicknesses, leads",
                  "combwright comb examples/larkspur.toml --shop examples/shop.toml");
  add_box_file(command, options->box).required();
  command.add_option("--shop", options->shop, "the workshop's own file (TOML)")->type_name("FILE");
  command.add_option("--dxf", options->dxf, "write the combs at full size as DXF")
      ->type_name("FILE");
  command
      .add_option("--out", options->out, "folder for drawings, tables and sheets, made if missing")
      ->type_name("DIR");
  command
      .add_option("--learn", options->learn,
                  "pitches of the combs as cut (CSV): say what they tell, for the next one")
      ->type_name("READINGS");
  add_force_flag(command, options->force);
  add_json_flag(command, options->json);
  command.callback([&run, options] {
    run = [options] {
      return options->learn.empty() ? show_comb(*options) : show_lesson(*options);
    };
  });
}

}  // namespace combwright::app
