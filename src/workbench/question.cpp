// SPDX-License-Identifier: Apache-2.0
#include "workbench/question.h"

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::workbench {

using app::Json;

Question::Question(const std::string& body) : fields_(Json::parse(body, nullptr, false)) {
  if (!fields_.is_object()) throw Error({}, "the body must be a JSON object");
}

std::string Question::text(const std::string& key) {
  const auto found = fields_.find(key);
  if (found == fields_.end() || found->is_null()) return {};
  if (!found->is_string()) throw Error({}, fmt::format("{} must be a text", key));
  std::string value = found->get<std::string>();
  fields_.erase(found);
  return value;
}

void Question::end() const {
  if (fields_.empty()) return;
  throw Error({}, fmt::format("{} is no field of this question", fields_.begin().key()));
}

app::BoxInput box_of(const Desk& desk, Question& question) {
  const std::string path = desk.path_of(question.text("box"));
  const std::string text = question.text("box_text");
  return text.empty() ? app::load_box(path) : app::box_input(text, path);
}

box::Shop shop_of(const Desk& desk, Question& question) {
  const std::string name = question.text("shop");
  return name.empty() ? box::Shop{} : app::load_shop(desk.path_of(name));
}

app::TuneInput tune_of(const Desk& desk, Question& question) {
  return app::load_tune(desk.path_of(question.text("tune")));
}

app::ArrangeTexts arranging_of(Question& question) {
  return {question.text("bars"), question.text("transpose"), question.text("tempo")};
}

}  // namespace combwright::workbench
