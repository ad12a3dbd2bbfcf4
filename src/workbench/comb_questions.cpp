// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <string>
#include <vector>

#include "app/action_answers.h"
#include "app/comb_answers.h"
#include "app/comb_job.h"
#include "app/comb_place.h"
#include "app/mode_shapes.h"
#include "app/repertoire.h"
#include "app/scale_answers.h"
#include "app/scale_options.h"
#include "arrange/scale_plan.h"
#include "draw/cautions.h"
#include "steel/comb.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

Reply comb(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const box::Shop shop = shop_of(desk, question);
  question.end();
  const app::CombJob job = app::comb_job(input.box, shop, question.watch(), desk.combs_of());
  Json json = app::to_json(input.box, job.designs, app::comb_findings(input.findings, job));
  json["cautions"] = draw::comb_sheet_cautions(input.box, job.designs);
  return json_reply(json);
}

Reply mode_shapes(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const box::Shop shop = shop_of(desk, question);
  const std::string name = question.text("comb");
  question.end();
  const std::size_t place = app::comb_place(input.box, name);
  return json_reply(
      app::mode_shapes_json(desk.combs_of()(input.box, shop, question.watch())[place]));
}

Reply action(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const box::Shop shop = shop_of(desk, question);
  question.end();
  const auto job = app::action_job(input, shop, desk.combs_of()(input.box, shop, question.watch()),
                                   std::nullopt);
  Json json = app::to_json(input.box, shop, job);
  json["cautions"] = draw::setting_cautions();
  return json_reply(json);
}

Reply scale(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  std::vector<std::string> paths = question.texts("tunes");
  for (std::string& path : paths) path = desk.path_of(path);
  const arrange::ScaleOptions wishes = app::parsed(
      app::ScaleTexts{question.text("teeth"), question.text("lowest"), question.text("highest")});
  question.end();
  const app::Repertoire repertoire = app::read_repertoire(paths, input.box, question.watch());
  const arrange::ScalePlan plan =
      arrange::plan_scale(input.box, repertoire.tunes, wishes, 0, question.watch());
  Json json = app::to_json(plan, merged({&input.findings, &repertoire.findings, &plan.findings}));
  return json_reply(json);
}

}  // namespace

std::span<const NamedAsk> comb_questions() {
  static constexpr std::array questions{NamedAsk{"comb", comb},
                                        NamedAsk{"mode_shapes", mode_shapes},
                                        NamedAsk{"action", action}, NamedAsk{"scale", scale}};
  return questions;
}

}  // namespace combwright::workbench
