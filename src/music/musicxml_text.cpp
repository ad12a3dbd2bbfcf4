// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_text.h"

#include <charconv>
#include <cmath>
#include <cstdint>

namespace combwright::music::musicxml {
namespace {

constexpr std::uint32_t replacement = 0xFFFD;

void append_utf8(std::string& out, std::uint32_t code) {
  const auto byte = [&out](std::uint32_t value) { out.push_back(static_cast<char>(value)); };
  if (code < 0x80) {
    byte(code);
  } else if (code < 0x800) {
    byte(0xC0 | (code >> 6));
    byte(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    byte(0xE0 | (code >> 12));
    byte(0x80 | ((code >> 6) & 0x3F));
    byte(0x80 | (code & 0x3F));
  } else {
    byte(0xF0 | (code >> 18));
    byte(0x80 | ((code >> 12) & 0x3F));
    byte(0x80 | ((code >> 6) & 0x3F));
    byte(0x80 | (code & 0x3F));
  }
}

// Length of the well-formed UTF-8 sequence at the front (Unicode 15, table 3-7), 0 if there is
// none.
std::size_t sequence_length(std::string_view text) {
  const auto at = [text](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
  };
  const auto tail = [&at](std::size_t i) { return (at(i) & 0xC0U) == 0x80U; };
  const unsigned lead = at(0);
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return tail(1) ? 2 : 0;
  if (lead >= 0xE0 && lead <= 0xEF) {
    const bool overlong = lead == 0xE0 && at(1) < 0xA0;
    const bool surrogate = lead == 0xED && at(1) > 0x9F;
    return tail(1) && tail(2) && !overlong && !surrogate ? 3 : 0;
  }
  if (lead >= 0xF0 && lead <= 0xF4) {
    const bool overlong = lead == 0xF0 && at(1) < 0x90;
    const bool beyond = lead == 0xF4 && at(1) > 0x8F;
    return tail(1) && tail(2) && tail(3) && !overlong && !beyond ? 4 : 0;
  }
  return 0;
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    const std::size_t length = sequence_length(text);
    if (length == 0) return false;
    text.remove_prefix(length);
  }
  return true;
}

std::string from_utf16(std::string_view bytes, bool big_endian) {
  const auto unit = [&](std::size_t i) -> std::uint32_t {
    const auto first = static_cast<unsigned char>(bytes[i]);
    const auto second = static_cast<unsigned char>(bytes[i + 1]);
    return big_endian ? first << 8U | second : second << 8U | first;
  };
  std::string out;
  out.reserve(bytes.size());
  for (std::size_t i = 0; i + 1 < bytes.size(); i += 2) {
    std::uint32_t code = unit(i);
    if (code >= 0xD800 && code <= 0xDBFF && i + 3 < bytes.size()) {
      const std::uint32_t low = unit(i + 2);
      const bool pair = low >= 0xDC00 && low <= 0xDFFF;
      code = pair ? 0x10000 + ((code - 0xD800) << 10U) + (low - 0xDC00) : replacement;
      if (pair) i += 2;
    } else if (code >= 0xD800 && code <= 0xDFFF) {
      code = replacement;
    }
    append_utf8(out, code);
  }
  return out;
}

std::string from_latin1(std::string_view bytes) {
  std::string out;
  out.reserve(bytes.size() + bytes.size() / 8);
  for (const char c : bytes) append_utf8(out, static_cast<unsigned char>(c));
  return out;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

template <typename Number>
std::optional<Number> parsed(std::string_view text) {
  text = trimmed(text);
  if (text.starts_with('+')) text.remove_prefix(1);
  Number value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

}  // namespace

std::string to_utf8(std::string_view bytes) {
  using namespace std::string_view_literals;
  if (bytes.starts_with("\xEF\xBB\xBF"sv)) bytes.remove_prefix(3);
  if (bytes.starts_with("\xFE\xFF"sv)) return from_utf16(bytes.substr(2), true);
  if (bytes.starts_with("\xFF\xFE"sv)) return from_utf16(bytes.substr(2), false);
  if (bytes.starts_with("\0<"sv)) return from_utf16(bytes, true);
  if (bytes.starts_with("<\0"sv)) return from_utf16(bytes, false);
  return is_utf8(bytes) ? std::string(bytes) : from_latin1(bytes);
}

std::string clean(std::string_view text, std::size_t max_bytes) {
  std::string out;
  bool blank = false;
  while (!text.empty()) {
    const std::size_t length = sequence_length(text);
    const auto lead = static_cast<unsigned char>(text.front());
    if (length == 0 || lead <= ' ' || lead == 0x7F) {
      blank = !out.empty();
      text.remove_prefix(1);
      continue;
    }
    if (out.size() + length + (blank ? 1 : 0) > max_bytes) return out;
    if (blank) out.push_back(' ');
    blank = false;
    out.append(text.substr(0, length));
    text.remove_prefix(length);
  }
  return out;
}

std::optional<double> parse_number(std::string_view text) {
  const std::optional<double> value = parsed<double>(text);
  return value && std::isfinite(*value) ? value : std::nullopt;
}

std::optional<int> parse_whole(std::string_view text) {
  return parsed<int>(text);
}

}  // namespace combwright::music::musicxml
