// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "arrange/arrangement.h"

namespace combwright::app {

// The title that the MIDI file of a tune's arrangement bears.
std::string midi_title(const std::string& tune, const std::string& box);

// The arrangement as the bytes of a Standard MIDI File: every pluck at its time, at the pitch of
// its track. A note ends where it was written to, or at the next pluck of the same pitch.
std::string arrangement_midi(const arrange::Arrangement& arrangement);

}  // namespace combwright::app
