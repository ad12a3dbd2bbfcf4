// SPDX-License-Identifier: Apache-2.0
#include "workbench/base64.h"

#include <array>
#include <cstdint>

#include "base/error.h"

namespace combwright::workbench {
namespace {

constexpr std::string_view letters =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
constexpr std::uint8_t no_letter = 64;

constexpr std::array<std::uint8_t, 256> values = [] {
  std::array<std::uint8_t, 256> all{};
  for (std::uint8_t& value : all) value = no_letter;
  for (std::size_t i = 0; i < letters.size(); ++i)
    all[static_cast<unsigned char>(letters[i])] = static_cast<std::uint8_t>(i);
  return all;
}();

}  // namespace

std::string from_base64(std::string_view text) {
  const auto wrong = [] { return Error({}, "the bytes must be in base 64, padded"); };
  if (text.size() % 4 != 0) throw wrong();
  std::size_t padding = 0;
  while (padding < 2 && padding < text.size() && text[text.size() - 1 - padding] == '=') ++padding;
  std::string bytes;
  bytes.reserve(text.size() / 4 * 3);
  for (std::size_t i = 0; i < text.size(); i += 4) {
    const bool last = i + 4 == text.size();
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      const bool padded = last && k >= 4 - padding;
      const std::uint8_t value =
          padded ? std::uint8_t{0} : values[static_cast<unsigned char>(text[i + k])];
      if (value == no_letter) throw wrong();
      group = group << 6U | value;
    }
    for (std::size_t k = 0; k < (last ? 3 - padding : 3); ++k)
      bytes.push_back(static_cast<char>(group >> (16U - 8U * k) & 0xFFU));
  }
  return bytes;
}

}  // namespace combwright::workbench
