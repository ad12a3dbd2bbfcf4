// SPDX-License-Identifier: Apache-2.0
#include <string>
#include <string_view>

#include "app/key_answers.h"
#include "box/box_keys.h"

namespace combwright::app {
namespace {

std::string_view to_text(box::Kind kind) {
  switch (kind) {
    case box::Kind::quantity:
      return "quantity";
    case box::Kind::quantities:
      return "quantities";
    case box::Kind::number:
      return "number";
    case box::Kind::integer:
      return "integer";
    case box::Kind::integers:
      return "integers";
    case box::Kind::text:
      return "text";
    case box::Kind::stroke:
      return "stroke";
    case box::Kind::choice:
      return "choice";
    case box::Kind::notes:
      return "notes";
  }
  return "";
}

std::string_view to_text(box::Otherwise absent) {
  switch (absent) {
    case box::Otherwise::required:
      return "required";
    case box::Otherwise::fallback:
      return "default";
    case box::Otherwise::derived:
      return "derived";
  }
  return "";
}

Json key_json(const box::KeyInfo& key) {
  return {
      {"name", key.name},           {"kind", to_text(key.kind)}, {"write", box::what_to_write(key)},
      {"least", key.least},         {"greatest", key.greatest},  {"absent", to_text(key.absent)},
      {"otherwise", key.otherwise}, {"choices", key.choices},    {"help", key.help}};
}

Json section_json(const box::SectionInfo& section) {
  Json keys = Json::array();
  for (const box::Key<box::Box>& key : box::box_schema().keys)
    if (key.info.section == section.name) keys.push_back(key_json(key.info));
  return {{"name", section.name},
          {"help", section.help},
          {"repeated", section.repeated()},
          {"greatest_rows", section.repeated() ? section.greatest_rows : 1},
          {"keys", std::move(keys)}};
}

}  // namespace

Json box_keys_json() {
  Json sections = Json::array();
  sections.push_back(section_json({.name = "", .help = "Before the first section."}));
  for (const box::SectionInfo& section : box::box_schema().sections)
    sections.push_back(section_json(section));
  return {{"sections", std::move(sections)}};
}

Json to_json(const box::BoxFields& fields) {
  Json list = Json::array();
  for (const box::Field& field : fields.fields) {
    list.push_back({{"key", box::full_name(*field.key, field.row)},
                    {"section", field.key->section},
                    {"row", field.row},
                    {"name", field.key->name},
                    {"value", or_null(field.value)},
                    {"from", field.source ? Json(box::to_text(*field.source)) : Json(nullptr)},
                    {"otherwise", or_null(field.otherwise)},
                    {"line", field.first_line > 0 ? Json(field.first_line) : Json(nullptr)}});
  }
  return list;
}

}  // namespace combwright::app
