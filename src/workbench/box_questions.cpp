// SPDX-License-Identifier: Apache-2.0
#include <array>

#include "app/answers.h"
#include "disc/plan_json.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

Reply check(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  question.end();
  return json_reply(
      {{"box", app::to_json(input.box)}, {"findings", disc::to_json(input.findings)}});
}

}  // namespace

std::span<const NamedAsk> box_questions() {
  static constexpr std::array questions{NamedAsk{"check", check}};
  return questions;
}

}  // namespace combwright::workbench
