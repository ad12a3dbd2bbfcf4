// SPDX-License-Identifier: Apache-2.0
// How long grace notes and arpeggio steps take is this reader's own choice, stated in
// musicxml_playback.h (common practice, no source).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "music/musicxml_scores.h"

namespace combwright::music {
namespace {

using namespace testing;  // NOLINT(google-build-using-namespace): the score builders
using ::testing::DoubleNear;
using ::testing::ElementsAre;
using ::testing::SizeIs;

constexpr double near_s = 1e-9;

std::vector<double> onsets_s(const Tune& tune) {
  std::vector<double> out;
  for (const Note& played : tune.notes) out.push_back(played.onset_s);
  return out;
}

std::vector<bool> ornaments(const Tune& tune) {
  std::vector<bool> out;
  for (const Note& played : tune.notes) out.push_back(played.ornament);
  return out;
}

const std::string roll = "<notations><arpeggiate/></notations>";

TEST(MusicXmlOrnaments, GraceNotesComeSixtyMillisecondsApartBeforeTheirNote) {
  const Tune tune = read_bar(note('C', 4) + grace('D') + grace('E') + note('F', 4));
  EXPECT_THAT(pitches(tune), ElementsAre(60, 62, 64, 65));
  EXPECT_THAT(onsets_s(tune), ElementsAre(0, DoubleNear(0.38, near_s), DoubleNear(0.44, near_s),
                                          DoubleNear(0.5, near_s)));
  EXPECT_THAT(ornaments(tune), ElementsAre(false, true, true, false));
  EXPECT_NEAR(tune.notes[1].duration_s, 0.06, near_s);
}

TEST(MusicXmlOrnaments, AGraceChordIsOneStep) {
  const Tune tune = read_bar(note('C', 4) + grace('D') + grace('F', "<chord/>") + note('E', 4));
  EXPECT_THAT(pitches(tune), ElementsAre(60, 62, 65, 64));
  EXPECT_DOUBLE_EQ(tune.notes[1].onset_s, tune.notes[2].onset_s);
  EXPECT_NEAR(tune.notes[3].onset_s - tune.notes[2].onset_s, 0.06, near_s);
}

TEST(MusicXmlOrnaments, ManyGraceNotesShareHalfOfAShortNoteOrGap) {
  // A sixteenth at 120 lasts 125 ms: three grace notes share 62.5 ms of it.
  const Tune before = read_bar(note('C', 4) + grace('D') + grace('E') + grace('F') + note('G', 1));
  EXPECT_NEAR(before.notes[1].onset_s, 0.5 - 0.0625, near_s);
  const Tune after = read_bar(note('C', 1) + grace('D') + grace('E') + grace('F') + note('G', 4));
  EXPECT_NEAR(after.notes[1].onset_s, 0.125 - 0.0625, near_s);
}

TEST(MusicXmlOrnaments, AtTheVeryStartGraceNotesTakeTheBeat) {
  const Tune tune = read_bar(grace('D') + note('C', 4) + note('E', 4, "", "<chord/>"));
  EXPECT_THAT(pitches(tune), ElementsAre(62, 60, 64));
  EXPECT_THAT(onsets_s(tune), ElementsAre(0, DoubleNear(0.06, near_s), DoubleNear(0.06, near_s)));
  EXPECT_NEAR(tune.notes[1].onset_s + tune.notes[1].duration_s, 0.5, near_s);
}

TEST(MusicXmlOrnaments, GraceNotesAtTheEndOfAMeasureComeBeforeTheBarLine) {
  const Tune tune = read_bar(note('C', 16) + grace('D') + grace('C'));
  ASSERT_THAT(tune.notes, SizeIs(3));
  EXPECT_NEAR(tune.notes[1].onset_s, 2.0 - 0.12, near_s);
  EXPECT_NEAR(tune.notes[2].onset_s, 2.0 - 0.06, near_s);
  EXPECT_THAT(bar_lengths(tune), ElementsAre(4));
}

TEST(MusicXmlOrnaments, AnArpeggioRisesInStepsOfThirtyFiveMilliseconds) {
  const Tune tune = read_bar(note('G', 16, roll) + note('C', 16, roll, "<chord/>") +
                             note('E', 16, roll, "<chord/>"));
  EXPECT_THAT(pitches(tune), ElementsAre(60, 64, 67));
  EXPECT_THAT(onsets_s(tune), ElementsAre(0, DoubleNear(0.035, near_s), DoubleNear(0.07, near_s)));
  EXPECT_THAT(ornaments(tune), ElementsAre(true, true, false));
  for (const Note& played : tune.notes)
    EXPECT_NEAR(played.onset_s + played.duration_s, 2.0, near_s);
}

TEST(MusicXmlOrnaments, AnArpeggioTakesAtMostAQuarterOfItsShortestNote) {
  const Tune tune = read_bar(note('C', 1, roll) + note('E', 1, roll, "<chord/>") +
                             note('G', 1, roll, "<chord/>"));
  EXPECT_NEAR(tune.notes[2].onset_s, 0.125 / 4, near_s);
}

TEST(MusicXmlOrnaments, AnArpeggioMayFallAndNumbersTellTwoApart) {
  const auto numbered = [](const std::string& attributes) {
    return "<notations><arpeggiate " + attributes + "/></notations>";
  };
  EXPECT_THAT(pitches(read_bar(note('C', 16, numbered("direction=\"down\"")) +
                               note('E', 16, numbered("direction=\"down\""), "<chord/>"))),
              ElementsAre(64, 60));
  const Tune two = read_bar(note('C', 16, numbered("number=\"1\"")) +
                            note('E', 16, numbered("number=\"1\""), "<chord/>") +
                            note('F', 16, numbered("number=\"2\""), "<chord/>") +
                            note('A', 16, numbered("number=\"2\""), "<chord/>"));
  EXPECT_THAT(onsets_s(two),
              ElementsAre(0, 0, DoubleNear(0.035, near_s), DoubleNear(0.035, near_s)));
  EXPECT_THAT(pitches(two), ElementsAre(60, 65, 64, 69));
}

}  // namespace
}  // namespace combwright::music
