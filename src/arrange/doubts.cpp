// SPDX-License-Identifier: Apache-2.0
#include "arrange/doubts.h"

#include <algorithm>
#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "arrange/octaves.h"
#include "music/pitch.h"

namespace combwright::arrange {
namespace {

Finding about_excerpt(const Arrangement& a, const ExcerptChoice& excerpt) {
  return {.level = excerpt.at_phrase_end ? Level::note : Level::warning,
          .where = fmt::format("bars {}-{}", a.first_bar, a.last_bar),
          .what = excerpt.at_phrase_end
                      ? "the tune is longer than a turn; these bars fill it and end a phrase"
                      : "the tune is longer than a turn and no phrase end was found in time",
          .remedy = "other bars can be chosen"};
}

std::string place_of(const ArrangedNote& note) {
  return fmt::format("bar {} beat {:.3g}", note.bar, note.beat);
}

// What is said of the place of several notes.
std::string_view first_here(std::size_t notes) {
  return notes > 1 ? ", the first one here" : "";
}

// What would have saved the lost notes: the tooth that most of them miss, if that is the reason.
std::string what_would_save(const Arrangement& a, const std::vector<std::size_t>& lost) {
  std::map<int, int> missing;
  for (const std::size_t i : lost) {
    const int midi = a.notes[i].midi + a.transpose_semitones;
    const bool has_tooth = std::any_of(a.tracks.begin(), a.tracks.end(),
                                       [&](const TrackUse& track) { return track.midi == midi; });
    if (!has_tooth && midi >= 0 && midi <= 127) ++missing[midi];
  }
  if (missing.empty()) return "try other bars or a box with more duplicates";
  const auto most =
      std::max_element(missing.begin(), missing.end(),
                       [](const auto& x, const auto& y) { return x.second < y.second; });
  return fmt::format(
      "a tooth {} would play {}; try other bars or another key", music::note_name(most->first),
      lost.size() == 1 ? std::string("it") : fmt::format("{} of them", most->second));
}

void tell_of_lost_melody(const Arrangement& a, Findings& findings) {
  const std::vector<std::size_t> lost = lost_melody(a);
  if (lost.empty()) return;
  const ArrangedNote& first = a.notes[lost.front()];
  findings.push_back(
      {.level = Level::warning,
       .where = place_of(first),
       .what = fmt::format(
           "{} left out{}: {}",
           lost.size() == 1 ? "1 melody note is" : fmt::format("{} melody notes are", lost.size()),
           first_here(lost.size()), first.why),
       .remedy = what_would_save(a, lost),
       .at = {.notes = {lost.begin(), lost.end()}}});
}

// Notes outside the melody that an octave lifts above the melody.
std::vector<std::size_t> lifted_above_melody(const Arrangement& a) {
  std::vector<HeardNote> heard;
  for (const ArrangedNote& note : a.notes)
    heard.push_back({note.onset_s, note.role == Role::melody});
  for (const Pluck& pluck : a.plucks)
    heard[static_cast<std::size_t>(pluck.note)].midi =
        a.tracks[static_cast<std::size_t>(pluck.track - 1)].midi;
  const std::vector<int> melody = melody_heard(heard);
  std::vector<std::size_t> lifted;
  for (std::size_t i = 0; i < a.notes.size(); ++i) {
    const bool octave = a.notes[i].fate == Fate::octave && a.notes[i].role != Role::melody;
    if (octave && heard[i].midi > melody[i]) lifted.push_back(i);
  }
  return lifted;
}

void tell_of_lifted(const Arrangement& a, Findings& findings) {
  const std::vector<std::size_t> lifted = lifted_above_melody(a);
  if (lifted.empty()) return;
  findings.push_back(
      {.level = Level::warning,
       .where = place_of(a.notes[lifted.front()]),
       .what =
           fmt::format("{} note{} of bass or inner parts sound{} above the melody for want of a "
                       "tooth{}",
                       lifted.size(), lifted.size() == 1 ? "" : "s", lifted.size() == 1 ? "s" : "",
                       first_here(lifted.size())),
       .remedy = "listen before cutting; another transposition may suit the comb better",
       .at = {.notes = {lifted.begin(), lifted.end()}}});
}

}  // namespace

Findings findings_of(const Arrangement& a, const Making& making) {
  Findings findings;
  if (making.search_stopped) {
    findings.push_back(
        {.level = Level::note,
         .where = "transposition and tempo",
         .what = "the bars have so many notes that not all transpositions and tempos were tried",
         .remedy = "you can choose them, or fewer bars"});
  }
  if (making.excerpt_chosen && !making.excerpt.whole)
    findings.push_back(about_excerpt(a, making.excerpt));
  if (a.tempo_factor != 1.0) {
    findings.push_back(
        {.level = Level::note,
         .where = "tempo",
         .what = fmt::format("played at {:.1f} % of the written tempo", 100.0 * a.tempo_factor),
         .remedy = "you can choose it, or fewer bars"});
  }
  tell_of_lost_melody(a, findings);
  tell_of_lifted(a, findings);
  if (a.fidelity < 0.9) {
    findings.push_back(
        {.level = Level::warning,
         .where = a.title,
         .what = fmt::format("only {:.1f} % of the tune's weight is kept", 100.0 * a.fidelity),
         .remedy = "this comb does not suit this tune well; listen before cutting"});
  }
  return findings;
}

}  // namespace combwright::arrange
