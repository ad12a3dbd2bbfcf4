// SPDX-License-Identifier: Apache-2.0
#include "disc/recover.h"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "action/action.h"
#include "base/angle.h"
#include "base/error.h"
#include "disc/sample_box.h"
#include "disc/turning.h"

namespace combwright::disc {
namespace {

using testing::sample_box;

// A hit as measured on a disc: no track, radius and angle only.
Projection measured(double radius_m, double angle_rad) {
  Projection hit;
  hit.track = 0;
  hit.radius_m = radius_m;
  hit.angle_rad = angle_rad;
  return hit;
}

int track_at(const box::Box& box, double radius_m) {
  return recover_plucks(box, {measured(radius_m, 1.0)}, 66.0).at(0).track;
}

std::string message_of(const box::Box& box, const Projection& hit) {
  try {
    recover_plucks(box, {hit}, 66.0, "scan.csv");
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

// Tracks from 50 mm on, 2 mm apart, 76 of them.
TEST(Recover, AHitBelongsToTheNearestTrack) {
  const box::Box box = sample_box();
  EXPECT_EQ(track_at(box, 0.050), 1);
  EXPECT_EQ(track_at(box, 0.05099), 1);
  EXPECT_EQ(track_at(box, 0.05101), 2);
  EXPECT_EQ(track_at(box, 0.200), 76);
}

TEST(Recover, HalfAPitchOutsideTheTracksIsTheLimit) {
  const box::Box box = sample_box();
  EXPECT_EQ(track_at(box, 0.049 + 1e-9), 1);
  EXPECT_EQ(track_at(box, 0.201 - 1e-9), 76);
  EXPECT_THAT(message_of(box, measured(0.049 - 1e-9, 1.0)), ::testing::HasSubstr("on no track"));
  EXPECT_THAT(message_of(box, measured(0.201 + 1e-9, 1.0)), ::testing::HasSubstr("on no track"));
}

TEST(Recover, ATrackThatIsGivenCountsBeforeTheRadius) {
  Projection hit = measured(0.050, 1.0);
  hit.track = 7;
  EXPECT_EQ(recover_plucks(sample_box(), {hit}, 66.0).at(0).track, 7);
  hit.track = 77;
  EXPECT_EQ(message_of(sample_box(), hit),
            "scan.csv: hit 1 is on track 77; the box has tracks 1 to 76");
  hit.track = -1;
  EXPECT_EQ(message_of(sample_box(), hit),
            "scan.csv: hit 1 is on track -1; the box has tracks 1 to 76");
}

// A quarter turn of 66 s is 16.5 s, whichever way the disc turns; the pluck follows by the release
// delay of its track.
TEST(Recover, TheAngleIsTheTimeOfTheTouch) {
  for (const auto turning : {box::Turning::clockwise, box::Turning::counter_clockwise}) {
    const box::Box box = sample_box(turning);
    const double delay_s = action::action(box, 66.0)[0].release_delay_s;
    const double quarter = (turning == box::Turning::clockwise ? 0.25 : 0.75) * two_pi;
    for (const double turns : {-3.0, 0.0, 5.0}) {
      const auto plucks = recover_plucks(box, {measured(0.05, quarter + turns * two_pi)}, 66.0);
      EXPECT_NEAR(plucks.at(0).time_s, 16.5 + delay_s, 1e-9);
    }
  }
}

TEST(Recover, APluckAfterTheStartLineComesEarlyInTheTurn) {
  const box::Box box = sample_box();
  const double delay_s = action::action(box, 66.0)[0].release_delay_s;
  const double touch_s = 66.0 - delay_s / 2.0;
  const auto plucks = recover_plucks(box, {measured(0.05, touch_s / 66.0 * two_pi)}, 66.0);
  EXPECT_NEAR(plucks.at(0).time_s, delay_s / 2.0, 1e-9);
}

TEST(Recover, PlucksComeByTimeThenTrackAndKeepTheirNotes) {
  const box::Box box = sample_box();
  std::vector<Projection> hits{measured(0.05, 2.0), measured(0.05, 1.0), measured(0.05, 1.0)};
  hits[0].note = 3;
  hits[1].note = 2;
  hits[2].note = 1;
  const auto plucks = recover_plucks(box, hits, 66.0);
  EXPECT_EQ(plucks.at(0).note, 1);
  EXPECT_EQ(plucks.at(1).note, 2);
  EXPECT_EQ(plucks.at(2).note, 3);
  EXPECT_TRUE(recover_plucks(box, {}, 66.0).empty());
}

TEST(Recover, HitOffEveryTrackIsRefusedWithTheTracksThatThereAre) {
  const box::Box box = sample_box();
  Projection stray;
  stray.radius_m = 0.0485;
  try {
    recover_plucks(box, {stray}, 66.0, "scan.csv");
    FAIL();
  } catch (const Error& error) {
    EXPECT_STREQ(error.what(),
                 "scan.csv: hit 1 at radius 48.500 mm lies on no track; they run from 50.000 mm to "
                 "200.000 mm");
  }
  stray.radius_m = std::nan("");
  EXPECT_THROW(recover_plucks(box, {stray}, 66.0), Error);
  stray.radius_m = 0.05;
  stray.angle_rad = std::nan("");
  EXPECT_THROW(recover_plucks(box, {stray}, 66.0), Error);
}

}  // namespace
}  // namespace combwright::disc
