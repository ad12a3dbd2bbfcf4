// SPDX-License-Identifier: Apache-2.0
#include "music/midi_bytes.h"

#include "base/error.h"

namespace combwright::music {

std::span<const std::uint8_t> MidiBytes::take(std::size_t size) {
  if (size > left()) {
    cut_ = true;
    size = left();
  }
  const std::uint8_t* start = at_;
  at_ += size;
  return {start, size};
}

MidiBytes MidiBytes::chunk(std::size_t size) {
  MidiBytes inner = *this;
  take(size);
  inner.end_ = at_;
  return inner;
}

void MidiBytes::fail(const std::string& message, std::size_t offset) const {
  throw Error(Place{.file = *name_, .byte = offset}, message);
}

std::uint32_t MidiBytes::rest_of_variable_length(std::uint32_t value) {
  const std::size_t start = offset() - 1;
  for (int i = 1; i < 4; ++i) {
    const std::uint32_t byte = u8();
    value = value << 7U | (byte & 0x7FU);
    if (byte < 0x80) return value;
  }
  fail("a number of variable length runs over four bytes; its fourth byte must be below 80 hex",
       start);
}

}  // namespace combwright::music
