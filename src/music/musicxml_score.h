// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.h"
#include "music/musicxml_document.h"
#include "music/tune.h"

namespace combwright::music::musicxml {

// No bar of a real score is longer; what goes beyond is an Error.
inline constexpr double max_bar_quarters = 1000.0;

// A note's place in a run of grace notes or in an arpeggio: it is played `steps` of `of` steps away
// from its written time, and all steps together take no more than `room_quarter`.
struct Stagger {
  int steps = 0;
  int of = 0;
  double room_quarter = 0.0;
};

struct WrittenNote {
  double offset_quarter = 0.0;  // from the bar line
  double duration_quarter = 0.0;
  int midi = 60;
  std::optional<double> own_loudness;  // the note's own, above the marks in force
  double loudness = 0.0;               // 0..1
  bool accent = false;
  bool grace = false;
  bool ornament = false;
  bool tie_start = false;
  bool tie_stop = false;
  int part = 0;
  int voice = 0;
  Stagger before;  // grace notes, steps earlier; the main note after them has 0 steps
  Stagger after;   // notes of an arpeggio, steps later
};

struct WrittenTempo {
  double offset_quarter = 0.0;
  double quarters_per_minute = 120.0;
  bool in_words = false;  // from "Allegro" and the like
};

// Where the player jumps from and to. Labels pair a sign with its jump and may be empty.
struct Signs {
  std::vector<std::string> segnos;
  std::vector<std::string> codas;
  std::optional<std::string> dal_segno;
  std::optional<std::string> to_coda;
  bool to_coda_at_start = false;  // the jump is before the bar, not after it
  bool da_capo = false;
  bool fine = false;
};

struct WrittenBar {
  int number = 1;
  bool partial = false;          // marked as not counted, or numbered 0
  double start_quarter = 0.0;    // from the first bar line, repeats not counted
  double length_quarter = 0.0;   // as played
  double content_quarter = 0.0;  // end of the longest part
  double nominal_quarter = 0.0;  // by the time signature; 0 without one
  int beats = 4;
  int beat_unit = 4;
  bool repeat_start = false;
  int repeat_plays = 0;      // times played up to the repeat sign at its end; 0 without one
  std::vector<int> endings;  // numbers of the ending it stands in
  bool ending_start = false;
  bool ending_stop = false;
  bool section_start = false;  // double bar, repeat sign, rehearsal mark, new key
  bool section_end = false;
  Signs sounded;  // from <sound>
  Signs worded;   // from "D.C." and the like, and from drawn signs
  std::vector<WrittenTempo> tempos;
  std::vector<WrittenNote> notes;
};

// A score as written: bars of all parts together, one after the other.
struct Score {
  std::string title;
  std::string composer;
  std::vector<Part> parts;
  std::vector<WrittenBar> bars;
  std::size_t percussion_notes = 0;  // left out
  Findings findings;
};

// Reads the whole document. Throws Error with the element's line and column.
Score read_score(const Document& document);

}  // namespace combwright::music::musicxml
