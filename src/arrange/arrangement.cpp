// SPDX-License-Identifier: Apache-2.0
#include "arrange/arrangement.h"

#include <algorithm>

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

std::size_t melody_lost(const Arrangement& arrangement) {
  return static_cast<std::size_t>(std::count_if(
      arrangement.notes.begin(), arrangement.notes.end(),
      [](const auto& note) { return note.role == Role::melody && note.fate == Fate::dropped; }));
}

}  // namespace combwright::arrange
