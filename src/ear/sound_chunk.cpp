// SPDX-License-Identifier: Apache-2.0
#include "ear/sound_chunk.h"

#include <string_view>

namespace combwright::ear {
namespace {

// What a 32-bit length says when the true one stands in the ds64 chunk.
constexpr std::uint64_t told_elsewhere = 0xFFFFFFFF;

std::uint64_t number(std::string_view bytes, bool big_endian) {
  std::uint64_t value = 0;
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    const char byte = bytes[big_endian ? i : bytes.size() - 1 - i];
    value = value << 8 | static_cast<std::uint8_t>(byte);
  }
  return value;
}

}  // namespace

std::optional<SoundChunk> sound_chunk(const Bytes& bytes) {
  const std::string_view file = as_text(bytes);
  const bool big_endian = file.starts_with("FORM") || file.starts_with("RIFX");
  const std::string_view wanted = file.starts_with("FORM") ? "SSND" : "data";
  std::optional<std::uint64_t> long_length;
  for (std::size_t at = 12; at + 8 <= file.size();) {
    const std::string_view id = file.substr(at, 4);
    std::uint64_t length = number(file.substr(at + 4, 4), big_endian);
    const std::size_t begin = at + 8;
    if (id == "ds64" && file.size() - begin >= 16)
      long_length = number(file.substr(begin + 8, 8), big_endian);
    if (id == wanted) {
      if (length == told_elsewhere && long_length) length = *long_length;
      return SoundChunk{begin, length};
    }
    if (length >= file.size() - begin) break;
    at = begin + static_cast<std::size_t>(length + length % 2);
  }
  return std::nullopt;
}

}  // namespace combwright::ear
