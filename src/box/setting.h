// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

namespace combwright::box {

enum class Source { given, derived, fallback };

// One key of a box or shop as resolved, for people: "disc.diameter", "420 mm".
struct Setting {
  std::string key;
  std::string value;
  Source source = Source::given;
};

// "given", "derived" or "default".
std::string_view to_text(Source source);

}  // namespace combwright::box
