// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/finding.h"

namespace combwright::music {

// One written note as it sounds, at the tempo of the file.
struct Note {
  double onset_s = 0.0;
  double duration_s = 0.0;
  double onset_quarter = 0.0;  // quarter notes from the start, as played
  double duration_quarter = 0.0;
  int midi = 60;           // sounding pitch, C4 = 60
  double loudness = 0.63;  // 0..1: velocity / 127, or the dynamic mark in force
  bool accent = false;     // marked to stand out
  bool ornament = false;   // grace note, or a lower note of a written arpeggio
  int part = 0;            // index into Tune::parts
  int voice = 0;           // voice within the part, 0 where the file has none
};

// One bar as played: repeats are written out.
struct Bar {
  int number = 1;  // as written; a pickup bar is 0
  double start_s = 0.0;
  double start_quarter = 0.0;
  double length_quarter = 4.0;
  int beats = 4;
  int beat_unit = 4;
  bool section_end = false;  // a section or verse ends with it, as far as the file says
};

struct Part {
  std::string name;
  int program = 0;  // General MIDI program, from 0
};

// The tempo from a moment on, until the next.
struct Tempo {
  double start_s = 0.0;
  double start_quarter = 0.0;
  double quarters_per_minute = 120.0;
};

// A tune as read from a file: pitched notes only, repeats played out. Notes are sorted by onset_s,
// then midi, then part; bars cover every note without holes; tempos holds at least one entry.
struct Tune {
  std::string title;
  std::string composer;
  std::vector<Part> parts;
  std::vector<Note> notes;
  std::vector<Bar> bars;
  std::vector<Tempo> tempos;
  double length_s = 0.0;             // end of the last note
  std::size_t percussion_notes = 0;  // left out
  Findings findings;
};

// Largest counts a reader accepts; a file beyond is refused.
inline constexpr std::size_t max_notes = 1'000'000;
inline constexpr std::size_t max_bars = 100'000;

}  // namespace combwright::music
