// SPDX-License-Identifier: Apache-2.0
#include "arrange/arrange.h"

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "arrange/doubts.h"
#include "arrange/lock.h"
#include "arrange/reasons.h"
#include "arrange/score.h"
#include "arrange/search.h"
#include "arrange/turn_part.h"
#include "base/error.h"
#include "base/parallel.h"

namespace combwright::arrange {
namespace {

std::string by_hand(Fate fate) {
  return fate == Fate::dropped ? "left out by hand" : "an octave away by hand";
}

// The first of the locks that the search could not keep, and what is in its way.
std::string lock_not_kept(const SearchResult& found, const std::vector<ScoreNote>& notes,
                          bool transposition_given) {
  std::size_t i = 0;
  while (!notes[i].lock || found.solution.choices[i].fate == *notes[i].lock) {
    ++i;
    assert(i < notes.size());
  }
  return fmt::format(
      "no arrangement was found that keeps all locks: {} is to be {}, and {}; free it, or what is "
      "in its way{}",
      name_of(notes[i]), *notes[i].lock == Fate::kept ? "kept" : "an octave away",
      what_hinders(i, found.problem, found.solution.choices, found.transpose_semitones),
      transposition_given ? ", or try another transposition" : "");
}

// Notes, plucks and what they are worth.
void take_over(const SearchResult& found, const std::vector<ScoreNote>& notes, Arrangement& a) {
  const std::vector<std::string> why =
      reasons(found.problem, found.solution.choices, found.transpose_semitones);
  double total = 0.0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const Choice& choice = found.solution.choices[i];
    a.notes.push_back(
        {.index = static_cast<int>(i),
         .onset_s = found.problem.demands[i].onset_s,
         .duration_s = notes[i].duration_s / found.tempo_factor,
         .midi = notes[i].midi,
         .weight = notes[i].weight,
         .role = notes[i].role,
         .fate = choice.fate,
         .why = notes[i].lock && choice.fate != Fate::kept ? by_hand(choice.fate) : why[i],
         .bar = notes[i].bar,
         .beat = notes[i].beat,
         .part = notes[i].part,
         .locked = notes[i].lock.has_value()});
    total += notes[i].weight;
    if (choice.tooth >= 0)
      a.plucks.push_back(
          {.time_s = choice.time_s, .track = choice.tooth + 1, .note = static_cast<int>(i)});
  }
  std::sort(a.plucks.begin(), a.plucks.end(), [](const Pluck& x, const Pluck& y) {
    return x.time_s != y.time_s ? x.time_s < y.time_s : x.track < y.track;
  });
  // Sums in different orders differ in their last digits.
  a.fidelity = std::min(1.0, found.solution.earned / total);
  a.fidelity_bound = std::clamp(found.solution.bound / total, a.fidelity, 1.0);
}

}  // namespace

Arrangement arrange(const box::Box& box, const music::Tune& tune, const Options& options,
                    const Watch& watch) {
  watch.say("arranging " + tune.title);
  const double turn_time = box.motor.turn_time_s;
  const Problem limits = problem_of(box, turn_time);
  TurnPart part = part_of_turn(box, limits, tune, options);
  const Findings passed_over = put_locks(options.locks, part.excerpt.bars, part.notes);
  const ExcerptChoice& excerpt = part.excerpt;
  SearchResult found = search(limits, part.notes, part.space, watch);
  if (!found.locks_kept)
    throw Error({}, lock_not_kept(found, part.notes, options.transpose_semitones.has_value()));

  Arrangement a;
  a.box_name = box.name;
  a.title = tune.title;
  a.transpose_semitones = found.transpose_semitones;
  a.tempo_factor = found.tempo_factor;
  a.turn_time_s = turn_time;
  a.first_bar = excerpt.bars.first;
  a.last_bar = excerpt.bars.last;
  for (const box::Track& track : box::tracks(box)) {
    a.tracks.push_back({.track = track.number,
                        .midi = track.midi,
                        .radius_m = track.radius_m,
                        .min_interval_s = limits.teeth[a.tracks.size()].interval_s});
  }
  take_over(found, part.notes, a);
  a.findings = findings_of(
      a, {.excerpt = excerpt, .excerpt_chosen = !options.bars, .search_stopped = found.stopped});
  a.findings.insert(a.findings.end(), passed_over.begin(), passed_over.end());
  a.trials = std::move(found.trials);
  return a;
}

std::vector<Trial> transpositions(const box::Box& box, const music::Tune& tune,
                                  const Options& options, const Watch& watch) {
  watch.say("solving every transposition of " + tune.title);
  const Problem limits = problem_of(box, box.motor.turn_time_s);
  Options any = options;
  any.transpose_semitones.reset();
  TurnPart part = part_of_turn(box, limits, tune, any);
  put_locks(options.locks, part.excerpt.bars, part.notes);
  std::vector<Trial> best(part.space.transpositions.size());
  parallel_for(best.size(), 0, [&](std::size_t i) {
    const SearchResult found = search(
        limits, part.notes, {{part.space.transpositions[i]}, part.space.tempo_factors}, watch);
    best[i] = *std::find_if(found.trials.begin(), found.trials.end(), [&](const Trial& trial) {
      return trial.tempo_factor == found.tempo_factor;
    });
    if (!found.locks_kept) best[i].fidelity.reset();
  });
  return best;
}

}  // namespace combwright::arrange
