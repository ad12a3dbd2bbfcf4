// SPDX-License-Identifier: Apache-2.0
#include "arrange/doubts.h"

#include <algorithm>
#include <string>

#include <fmt/format.h>

namespace combwright::arrange {
namespace {

Finding about_excerpt(const Arrangement& a, const ExcerptChoice& excerpt) {
  return {.level = excerpt.at_phrase_end ? Level::note : Level::warning,
          .where = fmt::format("bars {}-{}", a.first_bar, a.last_bar),
          .what = excerpt.at_phrase_end
                      ? "the tune is longer than a turn; these bars fill it and end a phrase"
                      : "the tune is longer than a turn and no phrase end was found in time",
          .remedy = "choose other bars with --bars"};
}

std::string place_of(const ArrangedNote& note) {
  return fmt::format("bar {} beat {:.3g}", note.bar, note.beat);
}

void tell_of_lost_melody(const Arrangement& a, Findings& findings) {
  const auto lost = [](const ArrangedNote& note) {
    return note.role == Role::melody && note.fate == Fate::dropped;
  };
  const auto count = std::count_if(a.notes.begin(), a.notes.end(), lost);
  if (count == 0) return;
  const ArrangedNote& first = *std::find_if(a.notes.begin(), a.notes.end(), lost);
  findings.push_back({.level = Level::warning,
                      .where = place_of(first),
                      .what = fmt::format("{} melody note{} left out, the first one here: {}",
                                          count, count == 1 ? " is" : "s are", first.why),
                      .remedy = "try other bars or a box with more duplicates"});
}

void tell_of_lifted(const Arrangement& a, const std::vector<std::size_t>& lifted,
                    Findings& findings) {
  if (lifted.empty()) return;
  findings.push_back(
      {.level = Level::warning,
       .where = place_of(a.notes[lifted.front()]),
       .what =
           fmt::format("{} note{} of bass or inner parts sound{} above the melody for want of "
                       "a tooth, the first one here",
                       lifted.size(), lifted.size() == 1 ? "" : "s", lifted.size() == 1 ? "s" : ""),
       .remedy = "listen before cutting; another key (--transpose) may suit the comb better"});
}

}  // namespace

Findings findings_of(const Arrangement& a, const Making& making) {
  Findings findings;
  if (making.search_stopped) {
    findings.push_back(
        {.level = Level::note,
         .where = "transposition and tempo",
         .what = "the bars have so many notes that not all transpositions and tempos were tried",
         .remedy = "choose them yourself with --transpose and --tempo, or fewer bars with --bars"});
  }
  if (making.excerpt_chosen && !making.excerpt.whole)
    findings.push_back(about_excerpt(a, making.excerpt));
  if (a.tempo_factor != 1.0) {
    findings.push_back(
        {.level = Level::note,
         .where = "tempo",
         .what = fmt::format("played at {:.1f} % of the written tempo", 100.0 * a.tempo_factor),
         .remedy = "choose it yourself with --tempo, or fewer bars with --bars"});
  }
  tell_of_lost_melody(a, findings);
  tell_of_lifted(a, making.lifted, findings);
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
