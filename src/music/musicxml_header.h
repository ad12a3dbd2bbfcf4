// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>
#include <vector>

#include <pugixml.hpp>

#include "music/tune.h"

namespace combwright::music::musicxml {

// What the part list says of one part.
struct PartInfo {
  Part part;
  std::map<std::string, bool> percussion;  // by instrument id: plays on MIDI channel 10
  bool percussion_by_default = false;      // for notes that name no instrument
};

// Parts in the order of the part list; `index` finds them by id.
struct PartList {
  std::vector<PartInfo> parts;
  std::map<std::string, std::size_t> index;
};

PartList read_part_list(pugi::xml_node root);

// The work's title, else the movement's, else the credit that is marked or stands first.
std::string read_title(pugi::xml_node root);

// The creator of type composer, else the credit marked so; empty if there is none.
std::string read_composer(pugi::xml_node root);

}  // namespace combwright::music::musicxml
