// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "box/keys.h"

// Ties keys of a table to members of the structs they fill, for the *_keys.cpp files.
namespace combwright::box {

template <typename Member>
void assign(Member& member, const Value& value) {
  if constexpr (std::is_enum_v<Member>)
    member = static_cast<Member>(std::get<int>(value));
  else
    member = std::get<Member>(value);
}

// A member of T itself.
template <auto Member, typename T>
void set_own(T& target, std::size_t, const Value& value) {
  assign(target.*Member, value);
}

// A member of a part of T: set<&Box::disc, &Disc::diameter_m>.
template <auto Part, auto Member, typename T>
void set(T& target, std::size_t, const Value& value) {
  assign(target.*Part.*Member, value);
}

// A member of one of the parts in a list: set_row<&Box::combs, &Comb::name>.
template <auto Parts, auto Member, typename T>
void set_row(T& target, std::size_t row, const Value& value) {
  assign((target.*Parts)[row].*Member, value);
}

// The same key or keys, marked as stored for computations that are still to come.
template <typename T>
Key<T> later(Key<T> key) {
  key.info.for_later = true;
  return key;
}
template <typename T>
std::vector<Key<T>> all_later(std::vector<Key<T>> keys) {
  for (Key<T>& key : keys) key = later(std::move(key));
  return keys;
}

}  // namespace combwright::box
