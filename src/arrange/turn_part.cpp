// SPDX-License-Identifier: Apache-2.0
#include "arrange/turn_part.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::arrange {
namespace {

constexpr double tempo_step = 0.02;

// No box plays so many in a turn, and each costs time.
constexpr std::size_t most_notes = 20'000;

std::vector<ScoreNote> notes_of(const std::vector<ScoreNote>& score, const BarRange& bars) {
  std::vector<ScoreNote> notes;
  for (const ScoreNote& note : score)
    if (note.bar >= bars.first && note.bar <= bars.last) notes.push_back(note);
  return notes;
}

// The tempos at which the span fits the room, written tempo included where it does.
std::vector<double> tempo_factors(const box::Box& box, double span_s, double room_s) {
  const double least = std::max(box.motor.slowest_tempo, span_s / room_s);
  const double most = box.motor.fastest_tempo;
  std::vector<double> factors;
  constexpr double rounding = 1e-9;  // so that limits that are themselves steps are among them
  const auto first = static_cast<int>(std::ceil((least - 1.0) / tempo_step - rounding));
  const auto last = static_cast<int>(std::floor((most - 1.0) / tempo_step + rounding));
  for (int i = first; i <= last && least <= most; ++i)
    factors.push_back(std::clamp(1.0 + i * tempo_step, least, most));
  const bool between_steps = factors.empty() || factors.front() > least;
  if (least > 1.0 && least <= most && between_steps) factors.insert(factors.begin(), least);
  return factors;
}

BarRange checked_bars(const BarRange& asked, const music::Tune& tune) {
  const auto count = static_cast<int>(tune.bars.size());
  if (asked.first < 1 || asked.last < asked.first || asked.last > count)
    throw Error({}, fmt::format("bars {}-{} are not in the tune; it has bars 1 to {}, as played",
                                asked.first, asked.last, count));
  return asked;
}

SearchSpace search_space(const box::Box& box, const Options& options, double span_s,
                         double room_s) {
  SearchSpace space;
  if (options.transpose_semitones) {
    if (std::abs(*options.transpose_semitones) > 127)
      throw Error({}, "a transposition is at most 127 semitones");
    space.transpositions = {*options.transpose_semitones};
  } else {
    for (int t = -transpose_reach_semitones; t <= transpose_reach_semitones; ++t)
      space.transpositions.push_back(t);
  }
  space.tempo_factors = tempo_factors(box, span_s, room_s);
  if (options.tempo_factor) {
    const double tempo = *options.tempo_factor;
    if (!(tempo >= box.motor.slowest_tempo && tempo <= box.motor.fastest_tempo)) {
      throw Error({}, fmt::format("a tempo of {:.1f} % is outside what the box allows; {:.1f} % to "
                                  "{:.1f} % would do",
                                  100.0 * tempo, 100.0 * box.motor.slowest_tempo,
                                  100.0 * box.motor.fastest_tempo));
    }
    if (span_s / tempo > room_s)
      space.tempo_factors.clear();
    else
      space.tempo_factors = {tempo};
  }
  if (space.tempo_factors.empty()) {
    const double tempo = options.tempo_factor.value_or(box.motor.fastest_tempo);
    throw Error(
        {}, fmt::format("the bars last {:.1f} s and a turn has room for {:.1f} s of the tune at "
                        "{:.1f} % of its tempo, {}; take fewer bars",
                        span_s, room_s * tempo, 100.0 * tempo,
                        options.tempo_factor ? "as asked" : "the fastest the box allows"));
  }
  return space;
}

Error silence(const music::Tune& tune) {
  if (tune.percussion_notes == 0)
    return {{}, "the tune has no notes, only rests or nothing at all; give one with notes"};
  return {{},
          fmt::format("all notes of the tune ({}) are percussion, which a comb has no teeth for; "
                      "give one with notes of a pitch",
                      tune.percussion_notes)};
}

// The excerpt asked for, or the one that fills a turn best.
ExcerptChoice excerpt_of(const box::Box& box, const music::Tune& tune,
                         const std::vector<ScoreNote>& all, const Options& options, double room_s) {
  if (options.bars) return {.bars = checked_bars(*options.bars, tune)};
  return choose_excerpt(tune, all, room_s, options.tempo_factor.value_or(box.motor.fastest_tempo));
}

void check_number(const std::vector<ScoreNote>& notes, const BarRange& bars) {
  if (notes.empty())
    throw Error({}, fmt::format("bars {}-{} have no notes; choose others", bars.first, bars.last));
  if (notes.size() > most_notes) {
    throw Error({}, fmt::format("bars {}-{} have {} notes, more than the {} that can be looked at; "
                                "take fewer bars",
                                bars.first, bars.last, notes.size(), most_notes));
  }
}

}  // namespace

TurnPart part_of_turn(const box::Box& box, const Problem& limits, const music::Tune& tune,
                      const Options& options) {
  if (options.melody_part &&
      !(*options.melody_part >= 0 && *options.melody_part < static_cast<int>(tune.parts.size())))
    throw Error({}, fmt::format("the tune has parts 1 to {}; {} is none of them", tune.parts.size(),
                                *options.melody_part + 1));
  const std::vector<ScoreNote> all = score(tune, options.melody_part);
  if (all.empty()) throw silence(tune);
  const double room = limits.latest_s - limits.earliest_s;
  if (!(room > 0.0)) throw Error({}, "the start gap leaves no room for a tune; make it smaller");
  const ExcerptChoice excerpt = excerpt_of(box, tune, all, options, room);
  std::vector<ScoreNote> notes = notes_of(all, excerpt.bars);
  check_number(notes, excerpt.bars);
  SearchSpace space = search_space(box, options, onset_span_s(notes, excerpt.bars), room);
  return {.excerpt = excerpt, .notes = std::move(notes), .space = std::move(space)};
}

}  // namespace combwright::arrange
