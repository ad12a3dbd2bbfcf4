// SPDX-License-Identifier: Apache-2.0
#include "workbench/api.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/action_answers.h"
#include "app/answers.h"
#include "app/arrange_options.h"
#include "app/comb_answers.h"
#include "app/comb_job.h"
#include "app/inputs.h"
#include "app/motor_answers.h"
#include "app/motor_job.h"
#include "arrange/arrange.h"
#include "base/error.h"
#include "disc/plan_json.h"
#include "draw/cautions.h"
#include "steel/comb.h"
#include "workbench/page.h"

namespace combwright::workbench {
namespace {

using app::Json;

// The fields of a question, each taken once: what is left over at the end is a mistake.
class Question {
 public:
  explicit Question(const std::string& body) : fields_(Json::parse(body, nullptr, false)) {
    if (!fields_.is_object()) throw Error({}, "the body must be a JSON object");
  }

  std::string text(const std::string& key) {
    const auto found = fields_.find(key);
    if (found == fields_.end() || found->is_null()) return {};
    if (!found->is_string()) throw Error({}, fmt::format("{} must be a text", key));
    std::string value = found->get<std::string>();
    fields_.erase(found);
    return value;
  }

  void end() const {
    if (fields_.empty()) return;
    throw Error({}, fmt::format("{} is no field of this question", fields_.begin().key()));
  }

 private:
  Json fields_;
};

// `box`: the name of a box file; `box_text`: what the page has made of it, not saved yet.
app::BoxInput box_of(const Desk& desk, Question& question) {
  const std::string name = question.text("box");
  const std::string path = desk.path_of(name);
  const std::string text = question.text("box_text");
  app::BoxInput input = text.empty() ? app::load_box(path) : app::box_input(text, path);
  return input;
}

box::Shop shop_of(const Desk& desk, Question& question) {
  const std::string name = question.text("shop");
  return name.empty() ? box::Shop{} : app::load_shop(desk.path_of(name));
}

Json check(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  question.end();
  return {{"box", app::to_json(input.box)}, {"findings", disc::to_json(input.findings)}};
}

Json comb(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const box::Shop shop = shop_of(desk, question);
  question.end();
  const app::CombJob job = app::comb_job(input.box, shop);
  Json json = app::to_json(input.box, job.designs, app::comb_findings(input.findings, job));
  json["cautions"] = draw::comb_sheet_cautions(input.box, job.designs);
  return json;
}

Json action(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const box::Shop shop = shop_of(desk, question);
  question.end();
  const auto job = app::action_job(input, shop, app::designed(input.box, shop), std::nullopt);
  Json json = app::to_json(input.box, shop, job);
  json["cautions"] = draw::setting_cautions();
  return json;
}

Json arrange(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const app::TuneInput tune = app::load_tune(desk.path_of(question.text("tune")));
  const app::ArrangeTexts texts{question.text("bars"), question.text("transpose"),
                                question.text("tempo")};
  question.end();
  const arrange::Arrangement found = arrange::arrange(input.box, tune.tune, app::parsed(texts));
  Json json = app::to_json(found);
  json["findings"] = disc::to_json(merged({&input.findings, &tune.tune.findings, &found.findings}));
  return json;
}

Json motor(const Desk& desk, Question& question) {
  app::BoxInput input = box_of(desk, question);
  box::Shop shop = shop_of(desk, question);
  const std::string tune = question.text("tune");
  const app::ArrangeTexts texts{question.text("bars"), question.text("transpose"),
                                question.text("tempo")};
  question.end();
  const app::MotorJob job =
      tune.empty() ? app::motor_job(input, shop)
                   : app::motor_job({std::move(input), app::load_tune(desk.path_of(tune)),
                                     std::move(shop), app::parsed(texts), app::today()});
  Json json = app::to_json(job.box, job.tune, job.prediction,
                           merged({&job.prediction.findings, &job.findings}));
  json["cautions"] = draw::motor_cautions();
  return json;
}

using Ask = Json (*)(const Desk&, Question&);
constexpr std::array<std::pair<std::string_view, Ask>, 5> questions{
    {{"check", check}, {"comb", comb}, {"action", action}, {"arrange", arrange}, {"motor", motor}}};

Reply json_reply(const Json& json, int status = 200) {
  return {.status = status, .body = app::line_of(json)};
}

Reply error_reply(const Error& error) {
  const Place& place = error.place();
  Json json = {{"error", error.message()}, {"place", nullptr}};
  if (!place.file.empty()) {
    // By its name: where the folder lies is no concern of the page.
    const std::size_t slash = place.file.rfind('/');
    json["place"] = {{"file", place.file.substr(slash == std::string::npos ? 0 : slash + 1)},
                     {"line", app::or_null(place.line)},
                     {"column", app::or_null(place.column)},
                     {"byte", app::or_null(place.byte)}};
  }
  return json_reply(json, error.kind() == Error::Kind::machine ? 500 : 400);
}

Reply no_such(std::string_view what) {
  return json_reply({{"error", fmt::format("there is no {}", what)}, {"place", nullptr}}, 404);
}

Reply ask(const Desk& desk, const Request& request, std::string_view name) {
  const auto* const found = std::find_if(questions.begin(), questions.end(),
                                         [&](const auto& each) { return each.first == name; });
  if (found == questions.end()) return no_such("such question");
  if (request.method != "POST")
    return json_reply({{"error", "ask with POST"}, {"place", nullptr}}, 405);
  Question question(request.body);
  return json_reply(found->second(desk, question));
}

Reply file(const Desk& desk, const Request& request, const std::string& name) {
  if (request.method == "GET") {
    Sheet sheet = desk.read(name);
    return {.type = "application/octet-stream",
            .body = std::move(sheet.text),
            .version = std::move(sheet.version)};
  }
  std::string known = request.if_match;
  std::erase(known, '"');
  std::string version;
  if (!desk.save(name, request.body, known, version)) {
    return json_reply({{"error", fmt::format("{} was changed by another hand; look at it before "
                                             "you write over it",
                                             name)},
                       {"place", nullptr}},
                      412);
  }
  Reply reply = json_reply({{"version", version}});
  reply.version = version;
  return reply;
}

}  // namespace

Reply answer(const Desk& desk, const Request& request) {
  constexpr std::string_view root = "/api/";
  constexpr std::string_view files = "files/";
  if (!request.path.starts_with(root)) return page(request);
  const std::string_view path = std::string_view(request.path).substr(root.size());
  try {
    if (path == "desk") return json_reply({{"papers", desk.papers()}, {"tunes", desk.tunes()}});
    if (path.starts_with(files)) return file(desk, request, std::string(path.substr(files.size())));
    return ask(desk, request, path);
  } catch (const Error& error) {
    return error_reply(error);
  }
}

}  // namespace combwright::workbench
