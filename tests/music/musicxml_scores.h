// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "music/musicxml_reader.h"

namespace combwright::music::testing {

inline std::span<const std::uint8_t> bytes_of(std::string_view text) {
  return {reinterpret_cast<const std::uint8_t*>(text.data()), text.size()};
}

inline Tune read_text(std::string_view text) {
  return read_musicxml(bytes_of(text), "tune.xml");
}

// A partwise score of one part with these measures.
inline std::string one_part(const std::string& measures) {
  return "<score-partwise><part-list><score-part id=\"P1\"><part-name>Box</part-name>"
         "</score-part></part-list><part id=\"P1\">" +
         measures + "</part></score-partwise>";
}

inline Tune read_part(const std::string& measures) {
  return read_text(one_part(measures));
}

// One measure of music; 4/4 with four divisions to the quarter note.
inline std::string bar(const std::string& music) {
  return "<measure number=\"1\"><attributes><divisions>4</divisions><time><beats>4</beats>"
         "<beat-type>4</beat-type></time></attributes>" +
         music + "</measure>";
}

inline Tune read_bar(const std::string& music) {
  return read_part(bar(music));
}

inline std::string pitch(char step, int octave, const std::string& alter = "") {
  return std::string("<pitch><step>") + step + "</step>" +
         (alter.empty() ? "" : "<alter>" + alter + "</alter>") + "<octave>" +
         std::to_string(octave) + "</octave></pitch>";
}

// A note of octave 4, of so many divisions, with more elements before and after its duration.
inline std::string note(char step, int divisions, const std::string& after = "",
                        const std::string& before = "") {
  return "<note>" + before + pitch(step, 4) + "<duration>" + std::to_string(divisions) +
         "</duration>" + after + "</note>";
}

inline std::string grace(char step, const std::string& before = "") {
  return "<note><grace/>" + before + pitch(step, 4) + "</note>";
}

inline std::string rest(int divisions) {
  return "<note><rest/><duration>" + std::to_string(divisions) + "</duration></note>";
}

inline std::vector<int> pitches(const Tune& tune) {
  std::vector<int> out;
  for (const Note& note : tune.notes) out.push_back(note.midi);
  return out;
}

inline std::vector<double> onsets(const Tune& tune) {
  std::vector<double> out;
  for (const Note& note : tune.notes) out.push_back(note.onset_quarter);
  return out;
}

inline std::vector<double> durations(const Tune& tune) {
  std::vector<double> out;
  for (const Note& note : tune.notes) out.push_back(note.duration_quarter);
  return out;
}

inline std::vector<int> bar_numbers(const Tune& tune) {
  std::vector<int> out;
  for (const Bar& played : tune.bars) out.push_back(played.number);
  return out;
}

inline std::vector<double> bar_lengths(const Tune& tune) {
  std::vector<double> out;
  for (const Bar& played : tune.bars) out.push_back(played.length_quarter);
  return out;
}

}  // namespace combwright::music::testing
