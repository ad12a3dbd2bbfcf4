// SPDX-License-Identifier: Apache-2.0
#include "arrange/lock.h"

#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "arrange/reasons.h"
#include "arrange/rules_check.h"
#include "arrange/search.h"
#include "base/error.h"

namespace combwright::arrange {
namespace {

Problem low_box() {
  Problem limits{.most_plucks = 2, .pluck_window_s = 0.08, .earliest_s = 0.5, .latest_s = 9.5};
  for (const int midi : {48, 60, 62, 64, 65, 67, 67, 69, 71, 72})
    limits.teeth.push_back({midi, 0.3});
  return limits;
}

std::vector<ScoreNote> wide_tune(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_int_distribution<int> pitch(58, 72);
  std::uniform_real_distribution<double> weight(0.3, 1.2);
  std::vector<ScoreNote> notes;
  for (int i = 0; i < 24; ++i)
    notes.push_back({.onset_s = 0.15 * i, .midi = pitch(random), .weight = weight(random)});
  return notes;
}

const SearchSpace as_written{.transpositions = {0}, .tempo_factors = {1.0}};

TEST(Lock, LeavingOutByHandIsLikeANoteThatIsNotThere) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    std::vector<ScoreNote> locked = wide_tune(seed);
    std::vector<ScoreNote> without = locked;
    locked[7].lock = Fate::dropped;
    without.erase(without.begin() + 7);
    const SearchResult a = search(low_box(), locked, as_written);
    const SearchResult b = search(low_box(), without, as_written);
    EXPECT_EQ(a.solution.choices[7].fate, Fate::dropped);
    EXPECT_NEAR(a.solution.earned, b.solution.earned, 1e-9) << seed;
    EXPECT_NEAR(a.solution.bound, b.solution.bound, 1e-9) << seed;
  }
}

TEST(Lock, WhatTheSearchChoseItselfCostsNothing) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    std::vector<ScoreNote> notes = wide_tune(seed);
    const SearchResult free = search(low_box(), notes, as_written);
    for (std::size_t i = 0; i < notes.size(); i += 3)
      if (free.solution.choices[i].fate != Fate::moved)
        notes[i].lock = free.solution.choices[i].fate;
    const SearchResult held = search(low_box(), notes, as_written);
    EXPECT_TRUE(held.locks_kept);
    EXPECT_NEAR(held.solution.earned, free.solution.earned, 1e-9) << seed;
  }
}

TEST(Lock, IsKeptWhateverItCostsAndTheBoundStaysABound) {
  int held_otherwise = 0;
  for (unsigned seed = 1; seed <= 40; ++seed) {
    std::vector<ScoreNote> notes = wide_tune(seed);
    const SearchResult free = search(low_box(), notes, as_written);
    // The lightest note that the search gave up is to be played, at its own pitch or another.
    for (std::size_t i = 0; i < notes.size(); ++i) {
      if (free.solution.choices[i].fate != Fate::dropped) continue;
      for (const Fate fate : {Fate::kept, Fate::octave}) {
        std::vector<ScoreNote> tried = notes;
        tried[i].lock = fate;
        const SearchResult held = search(low_box(), tried, as_written);
        if (!held.locks_kept) continue;
        ++held_otherwise;
        EXPECT_EQ(held.solution.choices[i].fate, fate);
        EXPECT_EQ(broken_rule(held.problem, held.solution.choices), "");
        EXPECT_LE(held.solution.earned, free.solution.bound + 1e-9);
        EXPECT_GE(held.solution.bound, held.solution.earned - 1e-9);
        double earned = 0.0;
        for (std::size_t k = 0; k < notes.size(); ++k) {
          const Demand plain{.midi = notes[k].midi, .weight = notes[k].weight};
          const Choice& choice = held.solution.choices[k];
          if (choice.fate == Fate::moved)
            earned += earned_moved(plain);
          else if (choice.tooth >= 0)
            earned += earned_at_onset(plain, held.problem.teeth[choice.tooth].midi);
        }
        EXPECT_NEAR(held.solution.earned, earned, 1e-9);
      }
    }
  }
  EXPECT_GT(held_otherwise, 20);
}

TEST(Lock, ThatNoToothCanMeetIsTold) {
  std::vector<ScoreNote> notes = wide_tune(1);
  notes[3].midi = 61;
  notes[3].lock = Fate::kept;
  const SearchResult found = search(low_box(), notes, as_written);
  EXPECT_FALSE(found.locks_kept);
  EXPECT_EQ(what_hinders(3, found.problem, found.solution.choices, 0), "no tooth for C#4");
}

TEST(Lock, NamesTheNoteInItsWay) {
  // One tooth of C4 that needs 0.3 s, and no room to move by as much as they lack.
  std::vector<ScoreNote> notes{{.midi = 60, .weight = 1.0, .lock = Fate::kept},
                               {.onset_s = 0.1, .midi = 60, .weight = 1.0, .lock = Fate::kept},
                               {.onset_s = 2.0, .midi = 71, .weight = 1.0, .lock = Fate::octave}};
  const SearchResult found = search(low_box(), notes, as_written);
  EXPECT_FALSE(found.locks_kept);
  const std::size_t unmet = found.solution.choices[0].fate == Fate::kept ? 1 : 0;
  EXPECT_EQ(what_hinders(unmet, found.problem, found.solution.choices, 0),
            "C4 on track 2 is plucked 0.10 s away and needs 0.30 s");
  EXPECT_EQ(what_hinders(2, found.problem, found.solution.choices, 0),
            "no tooth an octave or two from B4");
}

std::vector<ScoreNote> two_notes() {
  return {{.midi = 60, .weight = 1.0, .bar = 2, .beat = 1.0},
          {.onset_s = 0.5, .midi = 62, .weight = 1.0, .bar = 2, .beat = 2.0 + 1.0 / 3.0}};
}

TEST(Lock, FindsItsNoteByBarBeatAndPitch) {
  std::vector<ScoreNote> notes = two_notes();
  EXPECT_TRUE(put_locks({{2, 2.3333, 62, Fate::octave}}, {1, 4}, notes).empty());
  EXPECT_EQ(notes[1].lock, Fate::octave);
  EXPECT_FALSE(notes[0].lock);
}

TEST(Lock, OfANoteOutsideTheBarsIsPassedOver) {
  std::vector<ScoreNote> notes = two_notes();
  EXPECT_EQ(put_locks({{9, 1.0, 60, Fate::dropped}}, {1, 4}, notes).size(), 1U);
}

TEST(Lock, OfNoNoteOrInTwoWaysIsRefused) {
  std::vector<ScoreNote> notes = two_notes();
  EXPECT_THROW(put_locks({{2, 1.0, 61, Fate::dropped}}, {1, 4}, notes), Error);
  EXPECT_THROW(put_locks({{2, 1.0, 60, Fate::dropped}, {2, 1.0, 60, Fate::kept}}, {1, 4}, notes),
               Error);
}

}  // namespace
}  // namespace combwright::arrange
