// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/document.h"
#include "box/keys.h"

namespace combwright::box {

// The notes of a list of texts, "C2 D2 G2*2", rising from text to text. Throws Error at the item
// for a word that is no note, with the note that was meant where it can be told, for a note below
// the one before it, and for more than max_items notes.
std::vector<int> read_notes(const KeyInfo& key, const Entry& entry);

// A text of a list of notes that read_notes() has taken, and how many notes it holds.
struct NoteCount {
  Place place;
  std::size_t notes = 0;
};
std::vector<NoteCount> count_notes(const Entry& entry);

// The notes, low to high, as the key `notes` of a scale takes them: "notes = [", an octave a line,
// duplicates as "G2*2", "]"; ended.
std::string notes_text(const std::vector<int>& midi);

}  // namespace combwright::box
