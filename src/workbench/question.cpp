// SPDX-License-Identifier: Apache-2.0
#include "workbench/question.h"

#include <algorithm>
#include <cstdint>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::workbench {

using app::Json;

namespace {

// Deeper than any question goes; what is nested without end would be copied without end.
Json parsed(const std::string& body) {
  constexpr int deepest = 16;
  return Json::parse(
      body,
      [](int depth, Json::parse_event_t, const Json&) {
        if (depth > deepest) throw Error({}, "the body is nested too deep");
        return true;
      },
      false);
}

}  // namespace

Question::Question(const std::string& body, const Watch& watch)
    : fields_(parsed(body)), watch_(&watch) {
  if (!fields_.is_object()) throw Error({}, "the body must be a JSON object");
}

Json Question::taken(const std::string& key) {
  const auto found = fields_.find(key);
  if (found == fields_.end()) return nullptr;
  Json value = std::move(*found);
  fields_.erase(found);
  return value;
}

std::string Question::text(const std::string& key) {
  const Json value = taken(key);
  if (value.is_null()) return {};
  if (!value.is_string()) throw Error({}, fmt::format("{} must be a text", key));
  return value.get<std::string>();
}

std::vector<std::string> Question::texts(const std::string& key) {
  const Json value = taken(key);
  if (value.is_null()) return {};
  const auto is_text = [](const Json& item) { return item.is_string(); };
  if (!value.is_array() || !std::all_of(value.begin(), value.end(), is_text))
    throw Error({}, fmt::format("{} must be a list of texts", key));
  return value.get<std::vector<std::string>>();
}

std::vector<Json> Question::objects(const std::string& key) {
  const Json value = taken(key);
  if (value.is_null()) return {};
  const auto is_object = [](const Json& item) { return item.is_object(); };
  if (!value.is_array() || !std::all_of(value.begin(), value.end(), is_object))
    throw Error({}, fmt::format("{} must be a list of objects", key));
  return value.get<std::vector<Json>>();
}

std::optional<std::int64_t> Question::whole(const std::string& key, std::int64_t low,
                                            std::int64_t high) {
  const Json value = taken(key);
  if (value.is_null()) return std::nullopt;
  if (!value.is_number_integer() || value.get<std::int64_t>() < low ||
      value.get<std::int64_t>() > high)
    throw Error({}, fmt::format("{} must be a whole number from {} to {}", key, low, high));
  return value.get<std::int64_t>();
}

bool Question::flag(const std::string& key) {
  const Json value = taken(key);
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

BoxText box_text_of(const Desk& desk, Question& question) {
  const std::string name = question.text("box");
  std::string text = question.text("box_text");
  if (text.empty()) text = desk.read(name).text;
  return {.text = std::move(text), .path = desk.path_of(name)};
}

box::Shop shop_of(const Desk& desk, Question& question) {
  const std::string name = question.text("shop");
  return name.empty() ? box::Shop{} : app::load_shop(desk.path_of(name));
}

app::TuneInput tune_of(const Desk& desk, Question& question) {
  return app::load_tune(desk.path_of(question.text("tune")));
}

app::ArrangeTexts arranging_of(Question& question) {
  return {question.text("bars"), question.text("transpose"), question.text("tempo"),
          question.text("melody"), question.texts("locks")};
}

app::TuneInputs inputs_of(const Desk& desk, Question& question) {
  app::BoxInput box = box_of(desk, question);
  box::Shop shop = shop_of(desk, question);
  app::TuneInput tune = tune_of(desk, question);
  return {std::move(box), std::move(tune), std::move(shop), app::parsed(arranging_of(question)),
          app::today()};
}

}  // namespace combwright::workbench
