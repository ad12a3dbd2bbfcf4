// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <set>
#include <string_view>

#include <pugixml.hpp>

#include "music/musicxml_document.h"
#include "music/musicxml_dynamics.h"
#include "music/musicxml_score.h"

namespace combwright::music::musicxml {

// Quarter notes of a note type ("quarter", "eighth", "16th"...); nothing for other words.
std::optional<double> type_quarters(std::string_view type);

// The tempo of a metronome mark (beat unit with its dots, and the first number of per-minute) in
// quarter notes a minute; nothing if it is none, or a relation between two note values.
std::optional<double> metronome_tempo(pugi::xml_node metronome);

// The tempo that words such as "Allegro ma non troppo" stand for, in quarter notes a minute: the
// middle of the range printed on metronomes (common practice, no source).
std::optional<double> words_tempo(std::string_view words);

// What directions of one part in one measure are written into.
struct DirectionSink {
  const Document& document;
  WrittenBar& bar;
  Dynamics& dynamics;
  std::set<double>& accents;  // offsets at which every note of the part is accented
  Remarks& remarks;
};

// A <direction> or <sound> at this moment of the bar; `divisions` is what <offset> counts in.
void read_direction(pugi::xml_node direction, const Moment& at, double divisions,
                    const DirectionSink& sink);
void read_sound(pugi::xml_node sound, const Moment& at, double divisions,
                const DirectionSink& sink);

// The marks of a <dynamics> element.
void read_dynamics(pugi::xml_node dynamics, const Moment& at, const DirectionSink& sink);

}  // namespace combwright::music::musicxml
