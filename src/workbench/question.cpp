// SPDX-License-Identifier: Apache-2.0
#include "workbench/question.h"

#include <limits>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"

namespace combwright::workbench {

using app::Json;

Question::Question(const std::string& body) : fields_(Json::parse(body, nullptr, false)) {
  if (!fields_.is_object()) throw Error({}, "the body must be a JSON object");
}

Json Question::take(const std::string& key) {
  const auto found = fields_.find(key);
  if (found == fields_.end()) return nullptr;
  Json value = std::move(*found);
  fields_.erase(found);
  return value;
}

std::string Question::text(const std::string& key) {
  const Json value = take(key);
  if (value.is_null()) return {};
  if (!value.is_string()) throw Error({}, fmt::format("{} must be a text", key));
  return value.get<std::string>();
}

std::optional<std::int64_t> Question::whole(const std::string& key, std::int64_t low,
                                            std::int64_t high) {
  const Json value = take(key);
  if (value.is_null() || value == "") return std::nullopt;
  std::optional<std::int64_t> number;
  if (value.is_string()) {
    number = parse_number<std::int64_t>(value.get<std::string>());
  } else if (value.is_number_integer() &&
             !(value.is_number_unsigned() &&
               value.get<std::uint64_t>() > std::numeric_limits<std::int64_t>::max())) {
    number = value.get<std::int64_t>();
  }
  if (!number || *number < low || *number > high)
    throw Error({}, fmt::format("{} must be a whole number from {} to {}", key, low, high));
  return number;
}

bool Question::flag(const std::string& key) {
  const Json value = take(key);
  if (value.is_null()) return false;
  if (!value.is_boolean()) throw Error({}, fmt::format("{} must be true or false", key));
  return value.get<bool>();
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
