// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>

#include "base/file.h"
#include "ear/recording.h"

namespace combwright::ear {

// No recording of ours is larger; hand it to read_file.
inline constexpr std::size_t max_recording_bytes = std::size_t{512} << 20;

inline constexpr double max_recording_s = 900.0;
inline constexpr int max_channels = 8;
inline constexpr int min_rate_hz = 8000;
inline constexpr int max_rate_hz = 768000;

// Of all channels together, so that a small file of packed silence can't fill the memory.
inline constexpr std::size_t max_recording_samples = std::size_t{1} << 27;

// Nothing a recorder writes lies further over full scale than this.
inline constexpr double max_sample = 65536.0;

// The sound of a WAV (RIFF, RIFX, RF64), AIFF (AIFF, AIFF-C) or FLAC file with samples of 16, 24 or
// 32 bits or in floating point. A file that ends early, or whose checksums tell of damage, is read
// as far as it is sound, and says so. Throws Error if it is something else, has no samples, breaks
// a limit above or holds a sample that is no number. `name` stands in errors.
Recording read_recording(const Bytes& bytes, const std::string& name);

}  // namespace combwright::ear
