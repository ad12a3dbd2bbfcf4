// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <utility>

#include "app/motor_answers.h"
#include "app/motor_job.h"
#include "draw/cautions.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

Reply motor(const Desk& desk, Question& question) {
  app::BoxInput input = box_of(desk, question);
  box::Shop shop = shop_of(desk, question);
  const std::string tune = question.text("tune");
  const app::ArrangeTexts texts = arranging_of(question);
  question.end();
  const app::MotorJob job =
      tune.empty() ? app::motor_job(input, shop)
                   : app::motor_job({std::move(input), app::load_tune(desk.path_of(tune)),
                                     std::move(shop), app::parsed(texts), app::today()});
  Json json = app::to_json(job.box, job.tune, job.prediction,
                           merged({&job.prediction.findings, &job.findings}));
  json["cautions"] = draw::motor_cautions();
  return json_reply(json);
}

}  // namespace

std::span<const NamedAsk> motor_questions() {
  static constexpr std::array questions{NamedAsk{"motor", motor}};
  return questions;
}

}  // namespace combwright::workbench
