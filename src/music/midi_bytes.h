// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>

namespace combwright::music {

// Reads a MIDI file, or one chunk of it, byte by byte; numbers are big-endian. Reading past the end
// gives zeros and sets cut(), so that a caller need look only once an event.
class MidiBytes {
 public:
  // `name` stands in errors and must outlive this.
  MidiBytes(std::span<const std::uint8_t> file, const std::string& name)
      : file_(file.data()), at_(file_), end_(file_ + file.size()), name_(&name) {}

  std::size_t left() const { return static_cast<std::size_t>(end_ - at_); }
  bool cut() const { return cut_; }
  // From the start of the file.
  std::size_t offset() const { return static_cast<std::size_t>(at_ - file_); }

  std::uint8_t peek() const { return at_ < end_ ? *at_ : std::uint8_t{0}; }

  std::uint8_t u8() {
    if (at_ < end_) return *at_++;
    cut_ = true;
    return 0;
  }

  std::uint32_t u16() {
    const std::uint32_t high = u8();
    return high << 8U | u8();
  }

  std::uint32_t u32() {
    const std::uint32_t high = u16();
    return high << 16U | u16();
  }

  // A variable-length quantity: seven bits a byte, the last byte below 80 hex, at most four bytes
  // (SMF 1.0). More bytes throw Error.
  std::uint32_t variable_length() {
    const std::uint32_t first = u8();
    return first < 0x80 ? first : rest_of_variable_length(first & 0x7FU);
  }

  // The next `size` bytes, or what is left of them.
  std::span<const std::uint8_t> take(std::size_t size);

  // The next `size` bytes, or what is left of them, as a reader that knows its place in the file.
  MidiBytes chunk(std::size_t size);

  // Throws Error with the byte offset.
  [[noreturn]] void fail(const std::string& message, std::size_t offset) const;

 private:
  std::uint32_t rest_of_variable_length(std::uint32_t value);

  const std::uint8_t* file_;
  const std::uint8_t* at_;
  const std::uint8_t* end_;
  const std::string* name_;
  bool cut_ = false;
};

}  // namespace combwright::music
