// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "box/document.h"
#include "box/keys.h"

// The value of a key as a form shows it, without quotes and brackets: "0.8 mm"; "26 mm, 57.5 mm";
// notes and lines of RS-274 each text on a line of its own.
namespace combwright::box {

// What the file gives, in the file's own words.
std::string field_text(const KeyInfo& key, const Entry& entry);

// What the value would be in a form.
std::string field_text(const KeyInfo& key, const Value& value);

bool is_list(Kind kind);

// What stands right of the equals sign for what a form says: one item, or those of a list without
// their brackets. Throws Error at `place` for what can't be written as that kind of value.
std::vector<std::string> written_items(const KeyInfo& key, std::string_view field,
                                       const Place& place);

}  // namespace combwright::box
