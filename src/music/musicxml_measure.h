// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>

#include <pugixml.hpp>

#include "music/musicxml_document.h"
#include "music/musicxml_dynamics.h"
#include "music/musicxml_header.h"
#include "music/musicxml_score.h"

namespace combwright::music::musicxml {

// What carries over from one measure of a part to the next.
struct PartState {
  int part = 0;
  const PartInfo* info = nullptr;
  double divisions = 1.0;                // of a quarter note
  std::map<std::string, int> transpose;  // semitones by staff; "" for every staff
  double nominal_quarter = 0.0;          // by the time signature; 0 without one
  int beats = 4;
  int beat_unit = 4;
  std::optional<int> sharps;  // of the key signature; flats below 0
  Dynamics dynamics;
  std::size_t percussion_notes = 0;  // left out so far
};

// Reads what one part plays in one measure into the bar that all parts share. `bar_index` counts
// from 0. Throws Error at the element that cannot be understood.
void read_measure(const Document& document, pugi::xml_node measure, std::size_t bar_index,
                  PartState& state, WrittenBar& bar, Remarks& remarks);

}  // namespace combwright::music::musicxml
