// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <utility>

#include "app/motor_answers.h"
#include "app/motor_job.h"
#include "app/motor_wishes.h"
#include "draw/cautions.h"
#include "motor/size.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

app::MotorJob job_of(const Desk& desk, Question& question) {
  app::BoxInput input = box_of(desk, question);
  box::Shop shop = shop_of(desk, question);
  const std::string tune = question.text("tune");
  const app::ArrangeTexts texts = arranging_of(question);
  question.end();
  if (tune.empty()) return app::motor_job(input, shop, question.watch(), desk.combs_of());
  return app::motor_job({std::move(input), app::load_tune(desk.path_of(tune)), std::move(shop),
                         app::parsed(texts), app::today()},
                        question.watch(), desk.combs_of());
}

Reply motor(const Desk& desk, Question& question) {
  const app::MotorJob job = job_of(desk, question);
  Json json = app::to_json(job.box, job.tune, job.prediction,
                           merged({&job.prediction.findings, &job.findings}));
  json["cautions"] = draw::motor_cautions();
  return json_reply(json);
}

Reply size(const Desk& desk, Question& question) {
  const app::WishTexts texts{
      static_cast<int>(question.whole("plays", 1, app::most_plays).value_or(0)),
      question.text("turn_time"), question.text("tempo_drop"), question.text("barrel")};
  const app::MotorJob job = job_of(desk, question);
  const motor::Sizing sizing = motor::size_motor(job.box, job.shop, job.prediction.plucks,
                                                 app::wishes_of(texts, job), question.watch());
  Json json = app::to_json(job.box, job.tune, sizing, merged({&sizing.findings, &job.findings}));
  json["cautions"] = draw::motor_cautions();
  return json_reply(json);
}

}  // namespace

std::span<const NamedAsk> motor_questions() {
  static constexpr std::array questions{NamedAsk{"motor", motor}, NamedAsk{"size", size}};
  return questions;
}

}  // namespace combwright::workbench
