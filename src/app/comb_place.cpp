// SPDX-License-Identifier: Apache-2.0
#include "app/comb_place.h"

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::app {

std::size_t comb_place(const box::Box& box, const std::string& name) {
  if (name.empty() && box.combs.size() == 1) return 0;
  std::string names;
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    if (box.combs[i].name == name) return i;
    names += (names.empty() ? "\"" : " or \"") + box.combs[i].name + "\"";
  }
  if (name.empty()) throw Error({}, fmt::format("--comb is missing; the box has {}", names));
  throw Error({}, fmt::format("--comb is \"{}\"; the box has {}", name, names));
}

}  // namespace combwright::app
