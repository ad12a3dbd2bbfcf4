// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <pugixml.hpp>

#include "music/musicxml_measure.h"

namespace combwright::music::musicxml {

// Divisions, key, time signature and transposition of an <attributes> element. Divisions that are
// no positive number are an Error; a time signature that cannot be read is left out with a remark.
void read_attributes(const Document& document, pugi::xml_node attributes, PartState& state,
                     Remarks& remarks);

// The divisions in a <divisions> element; throws Error unless they are positive and finite.
double read_divisions(const Document& document, pugi::xml_node divisions);

// Sounding pitch of a <note> as a MIDI number, its part's transposition included. Quarter tones are
// rounded up with a remark; a pitch that cannot be read or is outside 0..127 is an Error.
int read_pitch(const Document& document, pugi::xml_node note, const PartState& state,
               Remarks& remarks);

// Bar line: repeat sign, ending, double or final bar, fermata, segno and coda.
void read_barline(pugi::xml_node barline, WrittenBar& bar);

}  // namespace combwright::music::musicxml
