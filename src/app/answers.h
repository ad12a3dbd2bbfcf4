// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/json.h"
#include "arrange/arrangement.h"
#include "box/box.h"

// Results as the JSON that `--json` prints: SI units, the unit in the key's name.
namespace combwright::app {

Json to_json(const box::Box& box);
Json to_json(const arrange::Arrangement& arrangement);
Json to_json(const std::vector<arrange::Trial>& trials);

// The object on one line, ended. Text that is not UTF-8 gets a replacement mark.
std::string line_of(const Json& json);

// The object laid out for people, ended.
std::string page_of(const Json& json);

}  // namespace combwright::app
