// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "music/midi_reader.h"

// Standard MIDI Files by hand, for tests.
namespace combwright::music::by_hand {

using Bytes = std::vector<std::uint8_t>;

inline Bytes operator+(Bytes left, const Bytes& right) {
  for (const std::uint8_t byte : right) left.push_back(byte);
  return left;
}

inline Bytes text(const std::string& letters) {
  return {letters.begin(), letters.end()};
}

inline Bytes big_endian(std::size_t value, int size) {
  Bytes bytes;
  for (int shift = 8 * (size - 1); shift >= 0; shift -= 8)
    bytes.push_back(static_cast<std::uint8_t>(value >> shift));
  return bytes;
}

inline Bytes chunk(const std::string& name, const Bytes& data) {
  return text(name) + big_endian(data.size(), 4) + data;
}

inline Bytes header(int format, int tracks, int division) {
  return chunk("MThd", big_endian(static_cast<std::size_t>(format), 2) +
                           big_endian(static_cast<std::size_t>(tracks), 2) +
                           big_endian(static_cast<std::size_t>(division), 2));
}

inline const Bytes end_of_track{0x00, 0xFF, 0x2F, 0x00};

inline Bytes track(const Bytes& events) {
  return chunk("MTrk", events + end_of_track);
}

// At delta time 0.
inline Bytes tempo(std::size_t quarter_us) {
  return Bytes{0x00, 0xFF, 0x51, 0x03} + big_endian(quarter_us, 3);
}

// At delta time 0; the unit is a power of two, so 3 stands for eighths.
inline Bytes meter(int beats, int unit_power) {
  return {0x00,
          0xFF,
          0x58,
          0x04,
          static_cast<std::uint8_t>(beats),
          static_cast<std::uint8_t>(unit_power),
          0x18,
          0x08};
}

inline Bytes name(const Bytes& letters) {
  return Bytes{0x00, 0xFF, 0x03, static_cast<std::uint8_t>(letters.size())} + letters;
}

// C4 struck at delta time 0 and let go 96 ticks later.
inline const Bytes c4{0x00, 0x90, 60, 64, 0x60, 0x80, 60, 0};

inline Tune read(const Bytes& file) {
  return read_midi(file, "tune.mid");
}

// A file of one track, 96 ticks a quarter.
inline Tune read_track(const Bytes& events) {
  return read(header(0, 1, 96) + track(events));
}

// The text of the error that reading gives; empty if there is none.
std::string error_of(const Bytes& file);

// "level: what" of the findings, but for the note on a missing tempo.
std::vector<std::string> findings_of(const Tune& tune);

}  // namespace combwright::music::by_hand
