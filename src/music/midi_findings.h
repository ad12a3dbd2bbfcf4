// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "base/finding.h"
#include "music/midi_score.h"

namespace combwright::music {

// What was left out or mended while the tracks were read, one finding a kind. `declared_tracks` is
// the number of tracks that the header promised.
Findings midi_findings(const MidiScore& score, std::size_t declared_tracks);

}  // namespace combwright::music
