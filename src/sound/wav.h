// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "base/file.h"
#include "sound/preview.h"

namespace combwright::sound {

// The sound as a WAV file: stereo, 24-bit PCM, with the title and this program's name in its LIST
// chunk. The same sound and title give the same bytes. Samples lie within -1..1.
Bytes wav(const Preview& preview, const std::string& title);

// Largest difference of a sample in the file, over 2^23, from the sound's: half a step of rounding,
// and up to a whole one because 1 is written as 2^23 - 1.
inline constexpr double wav_error = 1.5 / 8388608.0;

}  // namespace combwright::sound
