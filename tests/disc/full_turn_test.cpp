// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include <gtest/gtest.h>

#include "arrange/arrange.h"
#include "base/file.h"
#include "box/box_reader.h"
#include "box/shop.h"
#include "disc/layout.h"

namespace combwright::disc {
namespace {

box::Box example(const std::string& name) {
  const std::string path = std::string(COMBWRIGHT_SOURCE_DIR) + "/examples/" + name;
  return box::read_box(as_text(read_file(path)), path).box;
}

// Half-second chords of all notes of an octave and a bass, so long that the tempo must be raised to
// fit the turn to the last moment; it ends on the innermost track.
music::Tune filling_tune(const box::Box& box, double stretch) {
  music::Tune tune;
  tune.title = "Filling";
  tune.parts = {{"all", 0}};
  tune.tempos = {{}};
  const auto count = static_cast<int>(box.motor.turn_time_s * stretch * 2.0);
  for (int i = 0; i <= count; ++i) {
    if (i % 8 == 0)
      tune.bars.push_back({.number = i / 8 + 1,
                           .start_s = 0.5 * i,
                           .start_quarter = 1.0 * i,
                           .length_quarter = 8.0});
    const auto& notes = box.scale.midi;
    const std::size_t high =
        notes.size() / 2 + static_cast<std::size_t>(i * 5) % (notes.size() / 2);
    for (const int midi : {notes.front(), notes[high]})
      tune.notes.push_back({.onset_s = 0.5 * i,
                            .duration_s = 0.5,
                            .onset_quarter = 1.0 * i,
                            .duration_quarter = 1.0,
                            .midi = midi});
  }
  tune.length_s = 0.5 * (count + 1);
  return tune;
}

class FullTurn : public ::testing::TestWithParam<const char*> {};

TEST_P(FullTurn, ATuneThatFillsTheTurnGivesADiscWithoutFault) {
  const box::Box box = example(GetParam());
  for (const double stretch : {0.93, 0.98, 1.03}) {
    const arrange::Arrangement a = arrange::arrange(box, filling_tune(box, stretch));
    EXPECT_LE(a.fidelity, a.fidelity_bound);
    EXPECT_GT(a.fidelity, 0.5);
    for (const Finding& finding : lay_out(box, a, {}).findings)
      EXPECT_NE(finding.level, Level::fault) << finding.where << ": " << finding.what;
  }
}

INSTANTIATE_TEST_SUITE_P(Boxes, FullTurn, ::testing::Values("larkspur.toml", "bramble.toml"));

}  // namespace
}  // namespace combwright::disc
