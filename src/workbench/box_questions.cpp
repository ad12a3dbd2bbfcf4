// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/answers.h"
#include "app/comb_job.h"
#include "app/key_answers.h"
#include "box/box_fields.h"
#include "box/box_keys.h"
#include "box/edit_lines.h"
#include "box/edit_text.h"
#include "box/key_reader.h"
#include "disc/plan_json.h"
#include "draw/box_section.h"
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

// Every key as the text has it, and what is wrong with the box or to be looked at in it.
Reply settings(const Desk& desk, Question& question) {
  const BoxText text = box_text_of(desk, question);
  question.end();
  const box::BoxFields fields = box::box_fields(text.text, text.path);
  Json json = {
      {"settings", app::to_json(fields)}, {"findings", Json::array()}, {"problem", nullptr}};
  try {
    json["findings"] = disc::to_json(app::box_input(text.text, text.path).findings);
  } catch (const Error& error) {
    if (error.kind() == Error::Kind::machine) throw;
    json["problem"] = problem_json(error);
    json["problem"]["where"] = fields.at_line(error.place().line.value_or(0));
  }
  return json_reply(json);
}

box::KeyEdit edit_of(const Json& fields) {
  const auto field = [&](const char* name) { return fields.value(name, Json(nullptr)); };
  const Json section = field("section");
  const Json row = field("row");
  const Json name = field("name");
  const Json value = field("value");
  constexpr int most_rows = 1000;
  if (!section.is_string() || !name.is_string() || !(value.is_string() || value.is_null()) ||
      !(row.is_null() || (row.is_number_unsigned() && row.get<std::uint64_t>() < most_rows)))
    throw Error({}, "an edit has texts `section`, `name` and `value` (or null) and a number `row`");
  return {.section = section.get<std::string>(),
          .row = row.is_null() ? 0 : row.get<std::size_t>(),
          .name = name.get<std::string>(),
          .value = value.is_null() ? std::nullopt : std::optional(value.get<std::string>())};
}

Reply edit(const Desk& desk, Question& question) {
  const BoxText text = box_text_of(desk, question);
  const std::vector<Json> asked = question.objects("edits");
  const std::string lines = question.text("lines");
  question.end();
  constexpr std::size_t most_edits = 500;
  std::vector<box::KeyEdit> edits;
  edits.reserve(asked.size());
  for (const Json& each : asked) edits.push_back(edit_of(each));
  for (box::KeyEdit& each : box::edits_of(lines, "lines")) edits.push_back(std::move(each));
  if (edits.size() > most_edits) throw Error({}, "too many edits at once; at most 500 are made");
  return json_reply({{"box_text", box::edit_text(text.text, text.path, box::box_schema().sections,
                                                 box::infos(box::box_schema()), edits)}});
}

Reply section(const Desk& desk, Question& question) {
  const app::BoxInput input = box_of(desk, question);
  const box::Shop shop = shop_of(desk, question);
  const std::string teeth = question.text("teeth");
  question.end();
  if (!teeth.empty() && teeth != "designed")
    throw Error({}, "teeth is either left out or \"designed\"");
  const auto designs = teeth.empty() ? std::vector<steel::CombDesign>{}
                                     : desk.combs_of()(input.box, shop, question.watch());
  Json figures = Json::array();
  for (const draw::Figure& figure : draw::box_section(input.box, designs))
    figures.push_back({{"name", figure.name}, {"title", figure.title}, {"svg", figure.svg}});
  return json_reply({{"figures", std::move(figures)}});
}

}  // namespace

std::span<const NamedAsk> box_questions() {
  static constexpr std::array questions{NamedAsk{"check", check}, NamedAsk{"settings", settings},
                                        NamedAsk{"edit", edit}, NamedAsk{"section", section}};
  return questions;
}

}  // namespace combwright::workbench
