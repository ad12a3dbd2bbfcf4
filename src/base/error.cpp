// SPDX-License-Identifier: Apache-2.0
#include "base/error.h"

#include <algorithm>

#include <fmt/format.h>

namespace combwright {
namespace {

// Messages quote outside text; a control character in it would break the line or the terminal.
std::string one_line(std::string text) {
  std::replace_if(
      text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f; }, ' ');
  return text;
}

std::string joined(const Place& place, const std::string& message) {
  const std::string where = to_text(place);
  return one_line(where.empty() ? message : where + ": " + message);
}

}  // namespace

std::string to_text(const Place& place) {
  if (place.byte) return fmt::format("{}:byte {}", place.file, *place.byte);
  if (place.line && place.column)
    return fmt::format("{}:{}:{}", place.file, *place.line, *place.column);
  if (place.line) return fmt::format("{}:{}", place.file, *place.line);
  return place.file;
}

Error::Error(const Place& place, const std::string& message, Kind kind)
    : std::runtime_error(joined(place, message)),
      place_(place),
      message_(one_line(message)),
      kind_(kind) {}

}  // namespace combwright
