// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "base/file.h"

namespace combwright::ear::test {

// A sound file as libsndfile writes it, for a format of its own numbering (SF_FORMAT_WAV |
// SF_FORMAT_PCM_24). All channels have one length.
Bytes sound_file(const std::vector<std::vector<double>>& channels, int rate_hz, int format);

}  // namespace combwright::ear::test
