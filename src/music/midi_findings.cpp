// SPDX-License-Identifier: Apache-2.0
#include "music/midi_findings.h"

#include <algorithm>

#include <fmt/format.h>

namespace combwright::music {
namespace {

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

// `what` follows the count, in the singular and the plural.
void add(Findings& findings, Level level, const MidiFault& fault, const char* one, const char* many,
         const char* remedy) {
  if (fault.count == 0) return;
  findings.push_back(
      {level, fmt::format("track {}", fault.first_track), counted(fault.count, one, many), remedy});
}

}  // namespace

Findings midi_findings(const MidiScore& score, std::size_t declared_tracks) {
  Findings findings;
  const char* listen = "compare with the original by ear";
  add(findings, Level::warning, score.cut_tracks,
      "track is cut short in the middle of an event; what came before it was kept",
      "tracks are cut short in the middle of an event; what came before it was kept",
      "fetch the file again if the end of the tune is missing");
  add(findings, Level::warning, score.endless_tracks, "track has no end-of-track event",
      "tracks have no end-of-track event",
      "fetch the file again if the end of the tune is missing");
  if (score.tracks.size() < declared_tracks) {
    findings.push_back(
        {Level::warning, "header",
         fmt::format("the file promises {} but holds {}",
                     counted(declared_tracks, "track", "tracks"), score.tracks.size()),
         "fetch the file again if parts are missing"});
  }
  add(findings, Level::warning, score.trailing_bytes,
      "track goes on after its end-of-track event; what follows was left out",
      "tracks go on after their end-of-track event; what follows was left out", listen);
  add(findings, Level::warning, score.unreleased_notes,
      "note is never released; it was ended with its track",
      "notes are never released; they were ended with their tracks", listen);
  add(findings, Level::warning, score.bad_tempos, "tempo of no meaning was left out",
      "tempos of no meaning were left out", listen);
  add(findings, Level::warning, score.bad_meters, "time signature of no meaning was left out",
      "time signatures of no meaning were left out", "check the bar numbers");
  add(findings, Level::note, score.bad_programs,
      "instrument number above 127 was taken without its top bit",
      "instrument numbers above 127 were taken without their top bit", "");
  if (score.percussion_notes > 0) {
    findings.push_back({Level::note, "channel 10",
                        counted(score.percussion_notes, "percussion note was left out",
                                "percussion notes were left out"),
                        "a comb has no place for drums"});
  }
  if (score.notes.empty())
    findings.push_back(
        {Level::warning, "tracks", "there is no pitched note", "choose another file"});
  const auto unsounded = static_cast<std::size_t>(std::ranges::count_if(
      score.notes, [](const MidiNote& note) { return note.onset_tick == note.end_tick; }));
  if (unsounded > 0) {
    findings.push_back({Level::note, "tracks",
                        counted(unsounded, "note ends at its own onset; it was kept",
                                "notes end at their own onsets; they were kept"),
                        "a plucked tooth needs no length"});
  }
  return findings;
}

}  // namespace combwright::music
