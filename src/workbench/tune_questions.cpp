// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <optional>
#include <string>

#include "app/answers.h"
#include "app/hear_job.h"
#include "app/tune_json.h"
#include "app/wind_option.h"
#include "arrange/arrange.h"
#include "base/error.h"
#include "base/file.h"
#include "disc/plan_json.h"
#include "sound/wav.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;

Reply arrange(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const app::TuneInput tune = tune_of(desk, question);
  const app::ArrangeTexts texts = arranging_of(question);
  question.end();
  const arrange::Arrangement found =
      arrange::arrange(input.box, tune.tune, app::parsed(texts), question.watch());
  Json json = app::to_json(found);
  json["findings"] = disc::to_json(merged({&input.findings, &tune.tune.findings, &found.findings}));
  return json_reply(json);
}

Reply tune(const Desk& desk, Question& question) {
  const app::TuneInput input = tune_of(desk, question);
  question.end();
  return json_reply(app::to_json(input.tune));
}

Reply transpositions(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const app::TuneInput tune = tune_of(desk, question);
  const app::ArrangeTexts texts = arranging_of(question);
  question.end();
  return json_reply({{"trials", app::to_json(arrange::transpositions(
                                    input.box, tune.tune, app::parsed(texts), question.watch()))}});
}

Reply hear(const Desk& desk, Question& question) {
  const std::optional<motor::WindState> wind = app::wind_of(question.text("wind"));
  const std::string only = question.text("only");
  if (!only.empty() && only != "left_out") throw Error({}, "only may be left_out");
  const app::TuneInputs inputs = inputs_of(desk, question);
  question.end();
  const app::TuneJob job =
      app::tune_job(inputs, {}, app::Combs::designed, question.watch(), desk.combs_of());
  const sound::Preview heard = only.empty() ? app::heard_at(job, wind, question.watch()).sound
                                            : app::left_out(job, question.watch());
  return {.type = "audio/wav",
          .body = std::string(as_text(sound::wav(heard, app::heard_title(inputs))))};
}

}  // namespace

std::span<const NamedAsk> tune_questions() {
  static constexpr std::array questions{NamedAsk{"arrange", arrange}, NamedAsk{"hear", hear},
                                        NamedAsk{"tune", tune},
                                        NamedAsk{"transpositions", transpositions}};
  return questions;
}

}  // namespace combwright::workbench
