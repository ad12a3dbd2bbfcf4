// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_text.h"

#include <charconv>
#include <cmath>
#include <cstdint>

#include "base/text.h"
#include "music/utf8.h"

namespace combwright::music::musicxml {
namespace {

constexpr std::uint32_t replacement = 0xFFFD;

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
  return is_utf8(bytes) ? std::string(bytes) : latin1_to_utf8(bytes);
}

std::string clean(std::string_view text, std::size_t max_bytes) {
  std::string out;
  bool blank = false;
  while (!text.empty()) {
    const std::size_t length = utf8_length(text);
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
