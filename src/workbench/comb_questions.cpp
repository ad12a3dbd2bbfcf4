// SPDX-License-Identifier: Apache-2.0
#include <array>

#include "app/action_answers.h"
#include "app/comb_answers.h"
#include "app/comb_job.h"
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
  const app::CombJob job = app::comb_job(input.box, shop);
  Json json = app::to_json(input.box, job.designs, app::comb_findings(input.findings, job));
  json["cautions"] = draw::comb_sheet_cautions(input.box, job.designs);
  return json_reply(json);
}

Reply action(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const box::Shop shop = shop_of(desk, question);
  question.end();
  const auto job = app::action_job(input, shop, app::designed(input.box, shop), std::nullopt);
  Json json = app::to_json(input.box, shop, job);
  json["cautions"] = draw::setting_cautions();
  return json_reply(json);
}

}  // namespace

std::span<const NamedAsk> comb_questions() {
  static constexpr std::array questions{NamedAsk{"comb", comb}, NamedAsk{"action", action}};
  return questions;
}

}  // namespace combwright::workbench
