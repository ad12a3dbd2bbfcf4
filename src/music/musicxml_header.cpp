// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_header.h"

#include <algorithm>

#include "music/musicxml_text.h"

namespace combwright::music::musicxml {
namespace {

constexpr int percussion_channel = 10;

PartInfo read_part(pugi::xml_node node) {
  PartInfo info;
  info.part.name = clean(node.child_value("part-name"));
  if (info.part.name.empty()) info.part.name = clean(node.attribute("id").value());
  bool first = true;
  for (const pugi::xml_node instrument : node.children("midi-instrument")) {
    const bool percussion =
        parse_whole(instrument.child_value("midi-channel")) == percussion_channel;
    info.percussion[instrument.attribute("id").value()] = percussion;
    if (!first) continue;
    first = false;
    info.percussion_by_default = percussion;
    const int program = parse_whole(instrument.child_value("midi-program")).value_or(1);
    info.part.program = std::clamp(program, 1, 128) - 1;
  }
  return info;
}

std::string credit(pugi::xml_node root, const std::string& type) {
  for (const pugi::xml_node node : root.children("credit"))
    if (clean(node.child_value("credit-type")) == type)
      return clean(node.child_value("credit-words"));
  return {};
}

}  // namespace

PartList read_part_list(pugi::xml_node root) {
  PartList list;
  for (const pugi::xml_node node : root.child("part-list").children("score-part")) {
    const bool is_new = list.index.emplace(node.attribute("id").value(), list.parts.size()).second;
    if (is_new) list.parts.push_back(read_part(node));
  }
  return list;
}

std::string read_title(pugi::xml_node root) {
  for (const std::string& title :
       {clean(root.child("work").child_value("work-title")),
        clean(root.child_value("movement-title")), credit(root, "title")})
    if (!title.empty()) return title;
  return clean(root.child("credit").child_value("credit-words"));
}

std::string read_composer(pugi::xml_node root) {
  for (const pugi::xml_node creator : root.child("identification").children("creator"))
    if (clean(creator.attribute("type").value()) == "composer") return clean(creator.text().get());
  return credit(root, "composer");
}

}  // namespace combwright::music::musicxml
