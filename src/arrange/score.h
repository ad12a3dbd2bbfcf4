// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "arrange/arrangement.h"
#include "music/tune.h"

namespace combwright::arrange {

// A written note with its place in the tune and what it is worth. The same pitch at the same onset
// in several parts is one note, with the greatest of their weights.
struct ScoreNote {
  double onset_s = 0.0;  // at the tempo of the file
  double duration_s = 0.0;
  int midi = 60;
  Role role = Role::inner;
  double weight = 0.0;
  int bar = 1;  // as played, from 1
  double beat = 1.0;
  int part = 0;
  std::optional<Fate> lock = std::nullopt;  // its fate, where somebody has fixed it
};

// The notes of the whole tune by onset, then pitch. The role comes from roles(); the weight is the
// role's (melody 1, bass 0.6, inner 0.35) times a factor within [0.78, 1.22] for place in the bar,
// accent, length and loudness, so that a melody note outweighs any bass note and a bass note any
// inner one. `melody_part`: index into Tune::parts of the part whose top line is the melody.
std::vector<ScoreNote> score(const music::Tune& tune, std::optional<int> melody_part = {});

// The role of each note of the tune, in its order: melody is the top line of the part that most
// often lies on top, bass the low line of the part that most often lies lowest, and where those
// parts rest, the top and low lines of what sounds.
std::vector<Role> roles(const music::Tune& tune, std::optional<int> melody_part = {});

}  // namespace combwright::arrange
