// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <optional>

#include <nlohmann/json.hpp>

namespace combwright::app {

// Keys keep the order in which they were put in.
using Json = nlohmann::ordered_json;

// null for nothing.
template <class Value>
Json or_null(const std::optional<Value>& value) {
  return value ? Json(*value) : Json(nullptr);
}

// null for what has no end, or is no number.
inline Json finite_or_null(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

// What `make` makes of each.
template <class List, class Make>
Json array_of(const List& list, const Make& make) {
  Json array = Json::array();
  for (const auto& item : list) array.push_back(make(item));
  return array;
}

}  // namespace combwright::app
