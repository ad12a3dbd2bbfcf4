// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

namespace combwright::music {

// No file is longer: at the finest division this is still four million quarter notes.
inline constexpr std::int64_t max_midi_ticks = std::int64_t{1} << 37U;

// Most tempo events, most time signatures and most marks of sections that are read from one file.
inline constexpr std::size_t max_midi_changes = 1'000'000;

struct MidiNote {
  static constexpr std::int64_t sounding = -1;
  static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

  std::int64_t onset_tick = 0;
  std::int64_t end_tick = sounding;
  std::uint32_t next = none;  // the next note to sound on this key while this one still does
  std::uint8_t midi = 0;
  std::uint8_t velocity = 0;
  std::uint8_t channel = 0;  // from 0
};

struct MidiTempo {
  std::int64_t tick = 0;
  std::uint32_t quarter_us = 500'000;  // 120/min, where the file says nothing (SMF 1.0)
};

// A time signature; 4/4 where the file says nothing (SMF 1.0).
struct MidiMeter {
  std::int64_t tick = 0;
  int beats = 4;
  int beat_unit = 4;
  bool restart = false;  // a sequence of a format 2 file begins here
};

// What says that one section ends and another begins.
struct MidiSection {
  std::int64_t tick = 0;
  bool ends_here = false;  // the section ends with what sounds at the tick, not before it
};

struct MidiTrack {
  static constexpr int no_program = -1;

  std::string name;
  std::string instrument;
  std::size_t first_note = 0;  // into MidiScore::notes
  std::size_t last_note = 0;   // one past
  std::int64_t end_tick = 0;
  std::array<int, 16> programs{};  // the first of each channel
};

// How often a fault was met that is mended, and the track (from 1) where it was met first.
struct MidiFault {
  std::size_t count = 0;
  std::size_t first_track = 0;

  void met(std::size_t track) {
    if (count++ == 0) first_track = track;
  }
};

// What the tracks of a file say, in ticks, in the order of the file. The notes of a track are in
// order of onset.
struct MidiScore {
  std::vector<MidiTrack> tracks;
  std::vector<MidiNote> notes;
  std::vector<MidiTempo> tempos;
  std::vector<MidiMeter> meters;
  std::vector<MidiSection> sections;
  std::size_t percussion_notes = 0;
  MidiFault unreleased_notes;
  MidiFault cut_tracks;
  MidiFault endless_tracks;  // without an end-of-track event
  MidiFault trailing_bytes;  // events after the end-of-track event
  MidiFault bad_programs;
  MidiFault bad_tempos;
  MidiFault bad_meters;
};

}  // namespace combwright::music
