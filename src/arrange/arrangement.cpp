// SPDX-License-Identifier: Apache-2.0
#include "arrange/arrangement.h"

namespace combwright::arrange {

std::string_view to_text(Role role) {
  switch (role) {
    case Role::melody:
      return "melody";
    case Role::bass:
      return "bass";
    case Role::inner:
      return "inner";
  }
  return "";
}

std::string_view to_text(Fate fate) {
  switch (fate) {
    case Fate::kept:
      return "kept";
    case Fate::octave:
      return "octave";
    case Fate::moved:
      return "moved";
    case Fate::dropped:
      return "dropped";
  }
  return "";
}

std::vector<std::size_t> lost_melody(const Arrangement& arrangement) {
  std::vector<std::size_t> lost;
  for (std::size_t i = 0; i < arrangement.notes.size(); ++i) {
    const ArrangedNote& note = arrangement.notes[i];
    if (note.role == Role::melody && note.fate == Fate::dropped) lost.push_back(i);
  }
  return lost;
}

}  // namespace combwright::arrange
