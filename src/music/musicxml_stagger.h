// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <map>
#include <utility>
#include <vector>

#include "music/musicxml_score.h"

namespace combwright::music::musicxml {

// Finds, within one measure of one part, which grace notes lead to which main note and which notes
// form an arpeggio, and writes it into the notes.
class Staggers {
 public:
  // The last of `notes` was read. `chord`: it shares the moment of the note before it.
  void add(std::vector<WrittenNote>& notes, bool chord);

  // A rest or unheard note of the voice was read: grace notes before it lead to its moment.
  void pass(int voice, double onset_quarter, double duration_quarter,
            std::vector<WrittenNote>& notes);

  // The note at `index` belongs to the arpeggio `number` at this moment.
  void roll(std::size_t index, double onset_quarter, int number, bool down);

  // The measure is over.
  void finish(std::vector<WrittenNote>& notes);

 private:
  struct Run {
    std::vector<std::size_t> notes;
    std::vector<int> ordinals;
    int count = 0;
  };
  struct Voice {
    Run graces;                        // waiting for their main note
    Stagger last;                      // of the note that a chord's further notes share
    double last_onset_quarter = -1.0;  // of the last main note; negative at the measure's start
  };
  struct Roll {
    std::vector<std::size_t> notes;
    bool down = false;
  };

  static Stagger resolve(Voice& voice, double room_quarter, std::vector<WrittenNote>& notes);

  static void spread(const Roll& roll, std::vector<WrittenNote>& notes);

  std::map<int, Voice> voices_;
  std::map<std::pair<double, int>, Roll> rolls_;
};

}  // namespace combwright::music::musicxml
