// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/disc_job.h"
#include "app/drawing_json.h"
#include "app/job_files.h"
#include "app/output.h"
#include "app/pack_answer.h"
#include "base/error.h"
#include "disc/plan_json.h"
#include "draw/cautions.h"
#include "workbench/content_type.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

// How the tune was fitted to the disc, in short.
Json arranged(const arrange::Arrangement& arrangement) {
  const auto& notes = arrangement.notes;
  return {{"transpose_semitones", arrangement.transpose_semitones},
          {"tempo_factor", arrangement.tempo_factor},
          {"first_bar", arrangement.first_bar},
          {"last_bar", arrangement.last_bar},
          {"fidelity", arrangement.fidelity},
          {"locked", std::count_if(notes.begin(), notes.end(),
                                   [](const arrange::ArrangedNote& note) { return note.locked; })}};
}

Reply disc(const Desk& desk, Question& question) {
  const app::TuneInputs inputs = inputs_of(desk, question);
  question.end();
  const app::TuneJob job = app::tune_job(inputs, {}, app::Combs::left_out, question.watch());
  Json json = disc::to_json(job.disc.plan);
  json["arranged"] = arranged(job.arrangement);
  json["drawing"] = app::drawing_json(job.disc.drawing);
  json["cautions"] = app::cautions(job.disc);
  return json_reply(json);
}

// Every file of a pack that can be asked for alone: of the job only the combs are needed, for what
// they ask to take care of.
Reply list_files(const Desk& desk, Question& question) {
  const app::TuneInputs inputs = inputs_of(desk, question);
  question.end();
  const app::TuneJob unmade;
  std::vector<disc::PlanFile> list = app::list_of(app::pack_files(unmade));
  list.pop_back();  // the list of sums, which is of a whole pack
  return json_reply({{"files", disc::to_json(list)},
                     {"cautions", draw::pack_cautions(inputs.box.box, inputs.shop,
                                                      desk.combs_of()(inputs.box.box, inputs.shop,
                                                                      question.watch()))}});
}

Reply file(const Desk& desk, Question& question) {
  const std::string name = question.text("name");
  const app::TuneInputs inputs = inputs_of(desk, question);
  question.end();
  app::TuneJob job;
  const std::vector<app::OutputFile> list = app::pack_files(job);
  const auto found = std::find_if(list.begin(), list.end(),
                                  [&](const app::OutputFile& each) { return each.name == name; });
  if (found == list.end()) throw Error({}, fmt::format("a pack has no file {}", name));
  job = app::tune_job(inputs, app::list_of(list), app::Combs::designed, question.watch(),
                      desk.combs_of());
  return {.type = std::string(content_type(name)), .body = found->contents(), .file_name = name};
}

Reply pack(const Desk& desk, Question& question) {
  const std::string out = question.text("out");
  const std::string path = desk.folder_of(out);
  const bool force = question.flag("force");
  const app::TuneInputs inputs = inputs_of(desk, question);
  question.end();
  app::TuneJob job;
  const std::vector<app::OutputFile> list = app::pack_files(job);
  const app::OutputFolder folder = app::folder_of(inputs, path, force);
  app::check_folder(folder, list);
  job = app::tune_job(inputs, app::list_of(list), app::Combs::designed, question.watch(),
                      desk.combs_of());
  app::write_folder(folder, list, {}, question.watch());
  return json_reply(app::pack_json(job, list, out));
}

}  // namespace

std::span<const NamedAsk> disc_questions() {
  static constexpr std::array questions{NamedAsk{"disc", disc}, NamedAsk{"files", list_files},
                                        NamedAsk{"file", file}, NamedAsk{"pack", pack}};
  return questions;
}

}  // namespace combwright::workbench
