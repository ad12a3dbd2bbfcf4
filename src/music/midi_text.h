// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <string>

namespace combwright::music {

// A name out of a MIDI file as valid UTF-8 on one line, without blanks at its ends, of at most 200
// bytes. Bytes that are not UTF-8 are taken as Latin-1: the standard names no encoding beyond
// ASCII.
std::string midi_text(std::span<const std::uint8_t> bytes);

}  // namespace combwright::music
