// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>

#include "base/file.h"

namespace combwright::ear {

// The chunk of samples in a WAV or AIFF file as its header has it.
struct SoundChunk {
  std::size_t begin = 0;     // byte at which its contents begin
  std::uint64_t length = 0;  // in bytes; it may reach beyond the file
};

// None if there is no such chunk. WAV: Multimedia Programming Interface and Data Specifications 1.0
// (IBM and Microsoft, 1991); RF64: ITU-R BS.2088; AIFF: Audio Interchange File Format 1.3 (1989).
std::optional<SoundChunk> sound_chunk(const Bytes& bytes);

}  // namespace combwright::ear
