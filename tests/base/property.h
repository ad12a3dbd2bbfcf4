// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdlib>
#include <utility>

#include <rapidcheck.h>

namespace combwright {

// True if the property holds for the cases that RapidCheck draws; always the same ones unless
// RC_PARAMS says otherwise.
template <typename Property>
bool holds(Property&& property) {
  ::setenv("RC_PARAMS", "seed=1 max_success=1000", 0);
  return rc::check(std::forward<Property>(property));
}

}  // namespace combwright
