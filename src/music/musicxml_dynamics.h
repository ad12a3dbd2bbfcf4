// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "music/musicxml_score.h"

namespace combwright::music::musicxml {

// A moment in the written score.
struct Moment {
  std::size_t bar = 0;
  double offset_quarter = 0.0;
};

// From this moment on the part plays this loud (0..1).
struct LoudnessMark {
  Moment at;
  double loudness = 0.0;
};

// Growing or fading between two moments.
struct Wedge {
  Moment start;
  Moment end;
  bool louder = true;
};

// The dynamics of one part, in the order of the file.
struct Dynamics {
  std::vector<LoudnessMark> marks;
  std::vector<Wedge> wedges;
  std::optional<Wedge> open_wedge;
};

// Loudness without any mark: mf.
inline constexpr double default_loudness = 80.0 / 127.0;

// Loudness of a dynamic mark by its element's name: ppp 16, pp 33, p 49, mp 64, mf 80, f 96, ff
// 112, fff 126 of 127 as MIDI velocities (common practice, no source); nothing for other names.
std::optional<double> mark_loudness(std::string_view name);

// True for marks that strike one moment only: sf, sfz, fz, rfz, fp and their kin.
bool is_accent_mark(std::string_view name);

// Loudness of a `dynamics` attribute, which is a percentage of velocity 90 (MusicXML 4.0, sound
// element); nothing if it isn't a number of at least 0.
std::optional<double> percent_loudness(pugi::xml_attribute percent);

// Gives every note its loudness: its own, else the mark in force in its part. Inside a wedge it
// runs in a straight line to the mark that stands within a quarter note of the wedge's end, or
// else by one step of marks. `dynamics` is indexed by part.
void apply_dynamics(std::vector<WrittenBar>& bars, const std::vector<Dynamics>& dynamics);

}  // namespace combwright::music::musicxml
