// SPDX-License-Identifier: Apache-2.0
// The two boxes of our own invention, and whether they are sound as machines.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/file.h"
#include "box/box_reader.h"

namespace combwright::box {
namespace {

BoxReading example(const std::string& name) {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/" + name + ".toml";
  const Bytes bytes = read_file(path);
  return read_box(as_text(bytes), path);
}

class Example : public testing::TestWithParam<const char*> {};

INSTANTIATE_TEST_SUITE_P(Boxes, Example, testing::Values("larkspur", "bramble"),
                         [](const auto& box) { return std::string(box.param); });

TEST_P(Example, is_read_without_a_finding) {
  EXPECT_THAT(example(GetParam()).findings, testing::IsEmpty());
}

TEST_P(Example, bears_its_files_name) {
  EXPECT_EQ(example(GetParam()).box.name, GetParam());
}

TEST_P(Example, has_the_commonest_keys_complete_in_its_melody_octave) {
  const Box box = example(GetParam()).box;
  const std::set<int> notes(box.scale.midi.begin(), box.scale.midi.end());
  // G4 to G5 in C major and G major: every note of both.
  for (const int note : {67, 69, 71, 72, 74, 76, 77, 78, 79})
    EXPECT_EQ(notes.count(note), 1U) << note;
}

// The strip is sized as makers do: it fills about half of the room in the barrel (best turns), is
// not longer than 15 000 times its thickness, and winds on an arbor of at least 15 thicknesses
// (rules of thumb of a spring maker's catalogue).
TEST_P(Example, has_a_spring_of_the_usual_proportions) {
  const Spring spring = example(GetParam()).box.spring;
  const double room =
      std::numbers::pi * (std::pow(spring.barrel_radius_m, 2) - std::pow(spring.arbor_radius_m, 2));
  const double fill = spring.strip_length_m * spring.strip_thickness_m / room;
  EXPECT_GT(fill, 0.45);
  EXPECT_LT(fill, 0.55);
  EXPECT_LT(spring.strip_length_m, 15000 * spring.strip_thickness_m);
  EXPECT_GT(2 * spring.arbor_radius_m, 15 * spring.strip_thickness_m);
}

TEST(Larkspur, has_76_tracks_and_pairs_on_one_turn_of_70_s) {
  const Box box = example("larkspur").box;
  const std::vector<Track> all = tracks(box);
  ASSERT_EQ(all.size(), 76U);
  EXPECT_EQ(box.combs.size(), 2U);
  EXPECT_EQ(box.motor.turn_time_s, 70.0);
  EXPECT_NEAR(all.front().radius_m, 0.052, 1e-12);
  EXPECT_NEAR(all.back().radius_m, 0.202, 1e-12);
  EXPECT_EQ(all.front().midi, 36);
  EXPECT_EQ(all.back().midi, 88);
}

TEST(Larkspur, is_chromatic_from_the_second_octave_up) {
  const Box box = example("larkspur").box;
  const std::set<int> notes(box.scale.midi.begin(), box.scale.midi.end());
  for (int note = 45; note <= 88; ++note) EXPECT_EQ(notes.count(note), 1U) << note;
}

TEST(Bramble, has_30_tracks_and_one_comb) {
  const Box box = example("bramble").box;
  EXPECT_EQ(box.scale.midi.size(), 30U);
  EXPECT_EQ(box.combs.size(), 1U);
  EXPECT_EQ(box.scale.midi.front(), 60);
  EXPECT_EQ(box.scale.midi.back(), 91);
}

}  // namespace
}  // namespace combwright::box
