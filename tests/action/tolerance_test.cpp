// SPDX-License-Identifier: Apache-2.0
#include "action/tolerance.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "action/action.h"
#include "action/strike.h"
#include "base/file.h"
#include "box/box_reader.h"
#include "box/star_drive.h"

namespace combwright::action {
namespace {

box::Box larkspur() {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/larkspur.toml";
  return box::read_box(as_text(read_file(path)), path).box;
}

struct Site {
  double lift_m = 0.0;
  double face_m = 0.0;  // where the projection lets the tooth go
};

Site site_of(const box::Box& box, std::size_t comb, int track) {
  const box::StarDrive drive = box::star_drive(box);
  const Strike found = strike(box, drive, comb, place_of(box, track));
  return {found.lift_m, drive.face_m(found.slip_rad)};
}

// Central differences of the whole model, the deviation built into the box.
Sensitivity by_difference(Deviation deviation, std::size_t comb, int track) {
  constexpr double step = 1e-7;
  Site sites[2];
  for (const int way : {0, 1}) {
    const double by = way == 1 ? step : -step;
    box::Box box = larkspur();
    const double side = box.combs[comb].plucked == box::Plucked::down ? 1.0 : -1.0;
    double along = 0.0;
    switch (deviation) {
      case Deviation::axis_height:
        box.star_wheel.axis_below_disc_m += by;
        box.combs[comb].level_m += side * by;
        break;
      case Deviation::axle_play:
        box.star_wheel.tooth_overlap_m += side * by;
        along = by;
        break;
      case Deviation::projection_height:
        box.projection.height_m += by;
        break;
      case Deviation::comb_overlap:
        box.star_wheel.tooth_overlap_m += by;
        break;
      case Deviation::comb_level:
        box.combs[comb].level_m += by;
        break;
      case Deviation::eccentricity:
        along = by;
        break;
    }
    sites[way] = site_of(box, comb, track);
    sites[way].face_m += along;
  }
  return {(sites[1].lift_m - sites[0].lift_m) / (2 * step),
          (sites[1].face_m - sites[0].face_m) / (2 * step)};
}

TEST(Tolerance, ClosedFormsAreTheSlopesOfTheModel) {
  const box::Box box = larkspur();
  for (const std::size_t comb : {0U, 1U}) {
    for (const int track : {1, 40, 76}) {
      const auto slopes = sensitivities(box, comb, track);
      for (std::size_t i = 0; i < deviations; ++i) {
        const Sensitivity slope = by_difference(static_cast<Deviation>(i), comb, track);
        EXPECT_NEAR(slopes[i].lift, slope.lift, 1e-6) << i << " " << comb << " " << track;
        EXPECT_NEAR(slopes[i].way, slope.way, 1e-6) << i << " " << comb << " " << track;
      }
    }
  }
}

// The standard deviation of a thousandth of the tolerances, where the model is a straight line: the
// trials have n boxes, and theirs is off by one part in sqrt(2 n).
TEST(Tolerance, TrialsSpreadAsTheClosedFormsSay) {
  const box::Box box = larkspur();
  box::ActionTolerance small;
  for (double* each : {&small.axis_height_m, &small.axle_play_m, &small.projection_height_m,
                       &small.comb_overlap_m, &small.comb_level_m, &small.eccentricity_m})
    *each *= 1e-3;
  const auto expected = first_order(box, small, 70.0);
  const TrialOptions options{.boxes = 20'000};
  const Trials found = trials(box, small, 70.0, options);
  ASSERT_EQ(found.teeth.size(), expected.size());
  EXPECT_EQ(found.missed, 0.0);
  const double allowed = 5.0 / std::sqrt(2.0 * static_cast<double>(options.boxes));
  for (std::size_t i = 0; i < expected.size(); ++i) {
    EXPECT_NEAR(found.teeth[i].all.lift_m / expected[i].all.lift_m, 1.0, allowed) << i;
    EXPECT_NEAR(found.teeth[i].all.loudness_db / expected[i].all.loudness_db, 1.0, allowed) << i;
    EXPECT_NEAR(found.teeth[i].all.timing_s / expected[i].all.timing_s, 1.0, allowed) << i;
  }
}

// One after the other alone, so that none hides behind another.
TEST(Tolerance, EachDeviationAloneDoesWhatItsShareSays) {
  const box::Box box = larkspur();
  for (std::size_t i = 0; i < deviations; ++i) {
    box::ActionTolerance alone{0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
    double* const each[] = {&alone.axis_height_m,  &alone.axle_play_m,  &alone.projection_height_m,
                            &alone.comb_overlap_m, &alone.comb_level_m, &alone.eccentricity_m};
    *each[i] = 1e-6;
    const auto expected = first_order(box, alone, 70.0);
    const Trials found = trials(box, alone, 70.0, {.boxes = 5000});
    for (std::size_t tooth = 0; tooth < expected.size(); tooth += 25) {
      EXPECT_NEAR(found.teeth[tooth].all.lift_m, expected[tooth].all.lift_m,
                  0.06 * expected[tooth].all.lift_m + 1e-14)
          << i;
      EXPECT_NEAR(found.teeth[tooth].all.timing_s, expected[tooth].all.timing_s,
                  0.06 * expected[tooth].all.timing_s + 1e-12)
          << i;
    }
  }
}

TEST(Tolerance, TrialsAreTheSameForAnyNumberOfThreads) {
  const box::Box box = larkspur();
  const Trials one = trials(box, {}, 70.0, {.boxes = 300, .seed = 7, .threads = 1});
  const Trials three = trials(box, {}, 70.0, {.boxes = 300, .seed = 7, .threads = 3});
  const Trials other = trials(box, {}, 70.0, {.boxes = 300, .seed = 8, .threads = 1});
  EXPECT_EQ(one.missed, three.missed);
  for (std::size_t i = 0; i < one.teeth.size(); ++i) {
    EXPECT_EQ(one.teeth[i].all.timing_s, three.teeth[i].all.timing_s);
    EXPECT_EQ(one.teeth[i].mean_lift_m, three.teeth[i].mean_lift_m);
    EXPECT_NE(one.teeth[i].all.timing_s, other.teeth[i].all.timing_s);
  }
}

// e sin over the turn: at radius R a shift of e takes e T / (2 pi R), and the mean square of a sine
// is a half (physics of the disc).
TEST(Tolerance, AnEccentricDiscIsLateByItsShift) {
  box::ActionTolerance only{0.0, 0.0, 0.0, 0.0, 0.0, 2e-4};
  const auto teeth = first_order(larkspur(), only, 66.0);
  EXPECT_NEAR(teeth[0].all.timing_s,
              1e-4 / std::sqrt(2.0) * 66.0 / (2.0 * std::numbers::pi * 0.052), 1e-12);
  EXPECT_EQ(teeth[0].all.lift_m, 0.0);
}

TEST(Tolerance, SharesAddUpAndTheHeaviestComesFirst) {
  const auto parts = ranked(first_order(larkspur(), {}, 70.0));
  ASSERT_EQ(parts.size(), deviations);
  double loudness = 0.0;
  double timing = 0.0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    loudness += parts[i].loudness_share;
    timing += parts[i].timing_share;
    if (i > 0) {
      EXPECT_LE(parts[i].weight, parts[i - 1].weight);
    }
  }
  EXPECT_NEAR(loudness, 1.0, 1e-12);
  EXPECT_NEAR(timing, 1.0, 1e-12);
}

// A tolerance so wide that points miss their teeth is counted, not averaged in.
TEST(Tolerance, TeethThatThePointMissesAreCounted) {
  box::ActionTolerance wide;
  wide.comb_overlap_m = 2e-4;
  const Trials found = trials(larkspur(), wide, 70.0, {.boxes = 500});
  EXPECT_GT(found.missed, 0.1);
  EXPECT_LT(found.missed, 0.3);
  for (const TrialTooth& tooth : found.teeth) EXPECT_TRUE(std::isfinite(tooth.all.loudness_db));
}

}  // namespace
}  // namespace combwright::action
