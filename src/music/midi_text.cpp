// SPDX-License-Identifier: Apache-2.0
#include "music/midi_text.h"

#include "music/utf8.h"

namespace combwright::music {
namespace {

constexpr std::size_t max_text = 200;

bool is_control(char letter) {
  return static_cast<unsigned char>(letter) < 0x20 || letter == 0x7F;
}

}  // namespace

std::string midi_text(std::span<const std::uint8_t> bytes) {
  const std::string raw(bytes.begin(), bytes.end());
  const std::string whole = is_utf8(raw) ? raw : latin1_to_utf8(raw);
  std::string text;
  for (std::string_view rest = whole; !rest.empty();) {
    const std::size_t length = utf8_length(rest);
    if (text.size() + length > max_text) break;
    text += is_control(rest[0]) ? " " : rest.substr(0, length);
    rest.remove_prefix(length);
  }
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

}  // namespace combwright::music
