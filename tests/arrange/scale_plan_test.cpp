// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_plan.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>

#include "arrange/rules_check.h"
#include "arrange/scale_tasks.h"
#include "arrange/search.h"
#include "arrange/solve.h"
#include "base/error.h"
#include "box/box_reader.h"

namespace combwright::arrange {
namespace {

box::Box bramble() {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/bramble.toml";
  std::stringstream text;
  text << std::ifstream(path).rdbuf();
  return box::read_box(text.str(), path).box;
}

std::vector<RepertoireTune> tunes(unsigned seed, int count, int notes = 80) {
  RandomTunes random(seed);
  std::vector<RepertoireTune> all;
  for (int j = 0; j < count; ++j) {
    RepertoireTune tune{.name = "tune " + std::to_string(j)};
    tune.part.notes = random.next(notes, 30);
    tune.part.space.tempo_factors = {0.9, 0.98, 1.06};
    all.push_back(tune);
  }
  return all;
}

std::vector<int> midi_of(const ScalePlan& plan) {
  std::vector<int> midi;
  for (const ScaleTooth& tooth : plan.scale) midi.push_back(tooth.midi);
  return midi;
}

TEST(PlanScale, CoversMoreThanTheBoxsOwnScaleAndNoMoreThanTheBounds) {
  const box::Box box = bramble();
  const ScalePlan plan = plan_scale(box, tunes(1, 6));
  EXPECT_GT(plan.coverage, plan.coverage_now);
  EXPECT_LE(plan.coverage, plan.coverage_bound_in_keys);
  EXPECT_LE(plan.coverage_bound_in_keys, plan.coverage_bound + 1e-12);
  EXPECT_LE(plan.coverage_bound, 1.0);
  ASSERT_EQ(plan.tunes.size(), 6U);
  double mean = 0.0;
  for (const TuneCoverage& tune : plan.tunes) {
    mean += tune.coverage / 6.0;
    EXPECT_LE(tune.coverage, tune.coverage_bound);
    EXPECT_DOUBLE_EQ(tune.tempo_factor, 0.98);
  }
  EXPECT_NEAR(mean, plan.coverage, 1e-12);
}

TEST(PlanScale, PutsRisingNotesOnRisingTracksFromTheBassSide) {
  box::Box box = bramble();
  const ScalePlan inner = plan_scale(box, tunes(2, 3));
  ASSERT_EQ(inner.scale.size(), 30U);
  for (std::size_t i = 0; i < inner.scale.size(); ++i)
    EXPECT_EQ(inner.scale[i].track, static_cast<int>(i) + 1);
  box.tracks.bass = box::BassSide::outer;
  const ScalePlan outer = plan_scale(box, tunes(2, 3));
  for (std::size_t i = 0; i < outer.scale.size(); ++i)
    EXPECT_EQ(outer.scale[i].track, 30 - static_cast<int>(i));
  const std::vector<int> midi = midi_of(outer);
  EXPECT_TRUE(std::is_sorted(midi.begin(), midi.end()));
}

TEST(PlanScale, CoverageIsWhatAnArrangementUnderAllRulesKeeps) {
  box::Box box = bramble();
  const std::vector<RepertoireTune> all = tunes(3, 3);
  const ScalePlan plan = plan_scale(box, all);
  box.scale.midi = midi_of(plan);
  const Problem limits = problem_of(box, box.motor.turn_time_s);
  for (std::size_t j = 0; j < all.size(); ++j) {
    const Problem problem =
        with_demands(limits, all[j].part.notes, plan.tunes[j].transpose_semitones, 0.98);
    const Solution solution = solve(problem, quick_effort);
    EXPECT_EQ(broken_rule(problem, solution.choices), "");
    double total = 0.0;
    for (const ScoreNote& note : all[j].part.notes) total += note.weight;
    EXPECT_NEAR(plan.tunes[j].coverage, solution.earned / total, 1e-12);
  }
}

TEST(PlanScale, KeepsAScaleThatCoversEverything) {
  const box::Box box = bramble();
  RepertoireTune tune{.name = "scale"};
  for (int i = 0; i < 8; ++i)
    tune.part.notes.push_back({.onset_s = 1.0 * i, .midi = 72, .weight = 1.0});
  tune.part.space.tempo_factors = {1.0};
  const ScalePlan plan = plan_scale(box, {tune});
  EXPECT_EQ(midi_of(plan), box.scale.midi);
  EXPECT_EQ(plan.coverage, 1.0);
  EXPECT_EQ(plan.coverage_now, 1.0);
  EXPECT_TRUE(plan.next.empty());
}

TEST(PlanScale, TellsWhatTheNextTeethBuy) {
  const ScalePlan plan = plan_scale(bramble(), tunes(4, 4, 160), {.teeth = 12});
  ASSERT_EQ(plan.scale.size(), 12U);
  ASSERT_EQ(plan.next.size(), 5U);
  double coverage = plan.coverage;
  for (const NextTooth& tooth : plan.next) {
    EXPECT_NEAR(tooth.coverage - coverage, tooth.gain, 1e-12);
    EXPECT_GT(tooth.gain, 0.0);
    EXPECT_GE(tooth.track, 1);
    EXPECT_LE(tooth.track, 17);
    coverage = tooth.coverage;
  }
}

TEST(PlanScale, StaysWithinTheNotesAsked) {
  const ScalePlan plan =
      plan_scale(bramble(), tunes(5, 2), {.teeth = 10, .lowest_midi = 65, .highest_midi = 70});
  for (const ScaleTooth& tooth : plan.scale) {
    EXPECT_GE(tooth.midi, 65);
    EXPECT_LE(tooth.midi, 70);
  }
}

TEST(PlanScale, WarnsOfTracksThatTheDiscHasNoRoomFor) {
  const ScalePlan plan = plan_scale(bramble(), tunes(6, 2), {.teeth = 60});
  ASSERT_FALSE(plan.findings.empty());
  EXPECT_EQ(plan.findings.front().level, Level::warning);
  EXPECT_EQ(plan.findings.front().what, "60 tracks need a disc of more than 182 mm");
}

TEST(PlanScale, SaysWhereARangeOfFewNotesIsFilledWithCopies) {
  RepertoireTune tune{.name = "three notes, far apart"};
  for (int i = 0; i < 3; ++i)
    tune.part.notes.push_back({.onset_s = 5.0 * i, .midi = 60 + 2 * i, .weight = 1.0});
  tune.part.space.tempo_factors = {1.0};
  const ScalePlan plan =
      plan_scale(bramble(), {tune}, {.teeth = 12, .lowest_midi = 60, .highest_midi = 64});
  ASSERT_EQ(plan.findings.size(), 1U);
  EXPECT_EQ(plan.findings.front().level, Level::note);
  // Each of the three sounds on one tooth; what lies between them is not played at all.
  std::vector<int> pitches = midi_of(plan);
  pitches.erase(std::unique(pitches.begin(), pitches.end()), pitches.end());
  EXPECT_EQ(plan.findings.front().what,
            std::to_string(12 - pitches.size()) +
                " of the 12 teeth are copies that the tunes do not need: from C4 to E4 there are "
                "only 5 notes");
  EXPECT_TRUE(plan_scale(bramble(), {tune}, {.teeth = 5, .lowest_midi = 60, .highest_midi = 64})
                  .findings.empty());
}

TEST(PlanScale, RefusesWhatCannotBe) {
  const auto message = [](const ScaleOptions& options) {
    try {
      plan_scale(bramble(), tunes(1, 1), options);
    } catch (const Error& error) {
      return std::string(error.what());
    }
    return std::string("no error");
  };
  EXPECT_EQ(message({.teeth = 0}), "0 teeth can't be planned; ask for 1 to 500");
  EXPECT_EQ(message({.teeth = 501}), "501 teeth can't be planned; ask for 1 to 500");
  EXPECT_EQ(message({.lowest_midi = 72, .highest_midi = 60}),
            "the lowest note, C5, lies above the highest, C4; give them the other way round");
  EXPECT_EQ(message({.lowest_midi = 108}),
            "--lowest C8 lies above G6, the highest note of the box's scale; give --highest too");
  EXPECT_EQ(message({.highest_midi = 24}),
            "--highest C1 lies below C4, the lowest note of the box's scale; give --lowest too");
  EXPECT_EQ(message({.lowest_midi = -1}),
            "--lowest: there is no note -1; notes are numbered from 0, C-1, to 127, G9");
  EXPECT_EQ(message({.highest_midi = 128}),
            "--highest: there is no note 128; notes are numbered from 0, C-1, to 127, G9");
}

TEST(PlanScale, IsTheSameForAnyNumberOfThreads) {
  const std::vector<RepertoireTune> all = tunes(8, 5);
  const ScalePlan one = plan_scale(bramble(), all, {}, 1);
  const ScalePlan three = plan_scale(bramble(), all, {}, 3);
  EXPECT_EQ(midi_of(one), midi_of(three));
  EXPECT_EQ(one.coverage, three.coverage);
  EXPECT_EQ(one.coverage_bound, three.coverage_bound);
  ASSERT_EQ(one.next.size(), three.next.size());
  for (std::size_t i = 0; i < one.next.size(); ++i)
    EXPECT_EQ(one.next[i].coverage, three.next[i].coverage);
}

}  // namespace
}  // namespace combwright::arrange
