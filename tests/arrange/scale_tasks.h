// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <random>
#include <vector>

#include "arrange/scale_search.h"
#include "arrange/score.h"

namespace combwright::arrange {

// Invented tunes for scales of a few teeth, crowded enough that intervals bind.
class RandomTunes {
 public:
  explicit RandomTunes(unsigned seed) : random_(seed) {}

  // So many chances of a note on a grid of 50 ms; pitches from 60 on, over so many semitones.
  std::vector<ScoreNote> next(int chances, int semitones) {
    std::vector<ScoreNote> notes;
    int time = 0;
    for (int i = 0; i < chances; ++i) {
      time += below(4);
      const ScoreNote note{.onset_s = 0.05 * time,
                           .midi = 60 + below(semitones),
                           .role = below(2) == 0 ? Role::melody : Role::inner,
                           .weight = 0.3 + 0.01 * below(90)};
      // A written note is one pitch at one onset.
      const bool twin =
          !notes.empty() && notes.back().onset_s == note.onset_s && notes.back().midi >= note.midi;
      if (!twin) notes.push_back(note);
    }
    return notes;
  }

 private:
  int below(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }

  std::mt19937 random_;
};

// All scales of so many notes within the range.
inline std::vector<std::vector<int>> all_scales(int teeth, int lowest, int highest) {
  std::vector<std::vector<int>> scales{{}};
  for (int i = 0; i < teeth; ++i) {
    std::vector<std::vector<int>> longer;
    for (const std::vector<int>& scale : scales) {
      for (int m = scale.empty() ? lowest : scale.back(); m <= highest; ++m) {
        longer.push_back(scale);
        longer.back().push_back(m);
      }
    }
    scales = std::move(longer);
  }
  return scales;
}

}  // namespace combwright::arrange
