// SPDX-License-Identifier: Apache-2.0
#include "music/midi_text.h"

#include <algorithm>

namespace combwright::music {
namespace {

constexpr std::size_t max_text = 200;

bool is_continuation(std::uint8_t byte) {
  return (byte & 0xC0U) == 0x80;
}

// Length of the UTF-8 sequence that these bytes begin with; 0 if they begin with none (RFC 3629:
// shortest form, no surrogates, up to U+10FFFF).
std::size_t sequence_length(std::span<const std::uint8_t> bytes) {
  const std::uint8_t lead = bytes[0];
  if (lead < 0x80) return 1;
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || bytes.size() < length) return 0;
  if (!std::ranges::all_of(bytes.subspan(1, length - 1), is_continuation)) return 0;
  const std::uint8_t second = bytes[1];
  const bool overlong = (lead == 0xE0 && second < 0xA0) || (lead == 0xF0 && second < 0x90);
  const bool beyond = (lead == 0xED && second > 0x9F) || (lead == 0xF4 && second > 0x8F);
  return overlong || beyond ? 0 : length;
}

bool is_utf8(std::span<const std::uint8_t> bytes) {
  while (!bytes.empty()) {
    const std::size_t length = sequence_length(bytes);
    if (length == 0) return false;
    bytes = bytes.subspan(length);
  }
  return true;
}

bool is_control(std::uint8_t byte) {
  return byte < 0x20 || byte == 0x7F;
}

void append(std::string& text, std::span<const std::uint8_t> bytes) {
  for (const std::uint8_t byte : bytes) text += is_control(byte) ? ' ' : static_cast<char>(byte);
}

std::string from_utf8(std::span<const std::uint8_t> bytes) {
  std::string text;
  while (!bytes.empty()) {
    const std::size_t length = sequence_length(bytes);
    if (text.size() + length > max_text) break;
    append(text, bytes.first(length));
    bytes = bytes.subspan(length);
  }
  return text;
}

std::string from_latin1(std::span<const std::uint8_t> bytes) {
  std::string text;
  for (const std::uint8_t byte : bytes) {
    if (text.size() + 2 > max_text) break;
    if (byte < 0x80) {
      append(text, {&byte, 1});
    } else {
      text += static_cast<char>(0xC0U | byte >> 6U);
      text += static_cast<char>(0x80U | (byte & 0x3FU));
    }
  }
  return text;
}

}  // namespace

std::string midi_text(std::span<const std::uint8_t> bytes) {
  std::string text = is_utf8(bytes) ? from_utf8(bytes) : from_latin1(bytes);
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

}  // namespace combwright::music
