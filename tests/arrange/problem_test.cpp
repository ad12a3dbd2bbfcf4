// SPDX-License-Identifier: Apache-2.0
#include "arrange/problem.h"

#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>

#include <gtest/gtest.h>

#include "action/action.h"
#include "box/box_reader.h"

namespace combwright::arrange {
namespace {

box::Box example(const std::string& name) {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/" + name + ".toml";
  std::stringstream text;
  text << std::ifstream(path).rdbuf();
  return box::read_box(text.str(), path).box;
}

TEST(ProblemOf, HasAToothForEveryTrackWithTheActionsInterval) {
  const box::Box box = example("bramble");
  const Problem p = problem_of(box, 38.0);
  const auto tracks = action::action(box, 38.0);
  ASSERT_EQ(p.teeth.size(), tracks.size());
  for (std::size_t k = 0; k < p.teeth.size(); ++k)
    EXPECT_DOUBLE_EQ(p.teeth[k].interval_s, tracks[k].min_interval_s);
}

TEST(ProblemOf, LeavesTheStartGapPlainOnEveryTrack) {
  const box::Box box = example("bramble");
  const double turn_s = 38.0;
  const Problem p = problem_of(box, turn_s);
  const double gap_s = box.disc.start_gap_rad / (2.0 * std::numbers::pi) * turn_s;
  for (const action::TrackAction& track : action::action(box, turn_s)) {
    const double touches_s = p.earliest_s - track.release_delay_s;
    EXPECT_GE(touches_s, gap_s - 1e-12);
  }
  EXPECT_LT(p.latest_s, turn_s);
}

TEST(ProblemOf, KeepsNeighboursApartOnlyWhereTheSheetBesideThemIsNarrowerThanTheWeb) {
  box::Box box = example("bramble");
  EXPECT_TRUE(problem_of(box, 38.0).neighbours.empty());
  box.projection.web_m = box.tracks.pitch_m - box.projection.width_m + 0.2e-3;
  const Problem p = problem_of(box, 38.0);
  ASSERT_EQ(p.neighbours.size() + 1, p.teeth.size());
  for (std::size_t k = 0; k < p.neighbours.size(); ++k) {
    const double radius = action::action(box, 38.0)[k].radius_m;
    const double speed = 2.0 * std::numbers::pi * radius / 38.0;
    // Side by side they need at least their own length of arc.
    EXPECT_GT(p.neighbours[k].reach_s * speed, box.projection.length_m);
    EXPECT_LT(p.neighbours[k].reach_s * speed,
              box.projection.length_m + box.projection.web_m + 0.1e-3);
  }
}

}  // namespace
}  // namespace combwright::arrange
