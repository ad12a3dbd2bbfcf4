// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "box/document.h"
#include "box/keys.h"

namespace combwright::box {

// Throws Error: the key's name and what is wrong with its value.
[[noreturn]] void refuse(const Place& place, const KeyInfo& key, const std::string& problem);

// The entry's value as the key wants it. Throws Error at the value: another kind, no unit or a
// foreign one, out of bounds, an unknown word or note.
Value read_value(const KeyInfo& key, const Entry& entry);

// The value of a key whose KeyInfo::absent is `fallback`.
Value fallback_value(const KeyInfo& key);

// What is wrong with a value for its bounds: "is 5 m; it must lie between 40 mm and 1.2 m"; empty
// if nothing.
std::string bounds_problem(const KeyInfo& key, const Value& value);

}  // namespace combwright::box
