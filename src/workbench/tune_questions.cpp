// SPDX-License-Identifier: Apache-2.0
#include <array>

#include "app/answers.h"
#include "arrange/arrange.h"
#include "disc/plan_json.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

Reply arrange(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const app::TuneInput tune = tune_of(desk, question);
  const app::ArrangeTexts texts = arranging_of(question);
  question.end();
  const arrange::Arrangement found = arrange::arrange(input.box, tune.tune, app::parsed(texts));
  Json json = app::to_json(found);
  json["findings"] = disc::to_json(merged({&input.findings, &tune.tune.findings, &found.findings}));
  return json_reply(json);
}

}  // namespace

std::span<const NamedAsk> tune_questions() {
  static constexpr std::array questions{NamedAsk{"arrange", arrange}};
  return questions;
}

}  // namespace combwright::workbench
