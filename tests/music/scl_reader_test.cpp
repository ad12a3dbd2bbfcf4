// SPDX-License-Identifier: Apache-2.0
#include "music/scl_reader.h"

#include <string>

#include <gtest/gtest.h>

#include "base/error.h"
#include "music/pitch.h"

namespace combwright::music {
namespace {

// The forms that the format's description allows: cents, ratios, a whole number, words behind.
const char* const just =
    "! just.scl\n"
    "!\n"
    "Just intonation of C major\n"
    " 12\n"
    "!\n"
    " 111.731\n"
    " 9/8 a whole tone\r\n"
    " 6/5\n"
    " 5/4\n"
    " 4/3\n"
    " 45/32\n"
    " 3/2\n"
    " 8/5\n"
    " 5/3\n"
    " 9/5\n"
    " 15/8\n"
    " 2\n"
    "what follows is no matter\n";

std::string with(const std::string& what, const std::string& instead) {
  std::string text = just;
  return text.replace(text.find(what), what.size(), instead);
}

std::string refusal(const std::string& text) {
  try {
    read_scl(text, "a.scl");
  } catch (const Error& error) {
    return error.what();
  }
  return "";
}

TEST(SclReader, ReadsCentsRatiosAndComments) {
  const Temperament scale = read_scl(just, "a.scl");
  EXPECT_EQ(scale[0], 0.0);
  EXPECT_NEAR(scale[1], 111.731, 1e-12);
  EXPECT_NEAR(scale[2], cents(9.0 / 8.0), 1e-12);
  EXPECT_NEAR(scale[7], cents(1.5), 1e-12);
  EXPECT_NEAR(scale[11], cents(15.0 / 8.0), 1e-12);
}

TEST(SclReader, TheLastLineNeedsNoEnd) {
  const std::string text = just;
  EXPECT_EQ(read_scl(text.substr(0, text.find(" 2\n") + 2), "a.scl"), read_scl(just, "a.scl"));
}

TEST(SclReader, DescriptionMayBeEmpty) {
  EXPECT_EQ(read_scl(with("Just intonation of C major", ""), "a.scl"), read_scl(just, "a.scl"));
}

TEST(SclReader, RefusesWhatNoCombCanHaveWithItsPlace) {
  EXPECT_EQ(refusal(with(" 12\n", " 19\n")),
            "a.scl:4:2: has 19 notes; a comb needs the twelve of an octave");
  EXPECT_EQ(refusal(with(" 2\n", " 3/1\n")),
            "a.scl:17:2: the last note is at 1901.955 cents; it must be the octave, 2/1");
  EXPECT_EQ(refusal(with("4/3", "5/4")), "a.scl:10:2: note 5 is not above the one before it");
  EXPECT_EQ(refusal(with("111.731", "-5.0")), "a.scl:6:2: note 1 is not above the one before it");
}

TEST(SclReader, RefusesWhatIsNoNote) {
  for (const char* const word :
       {"4/0", "0/3", "4/", "x", "nan.", "1e999.", "4294967296/3", "3/2/1"})
    EXPECT_EQ(refusal(with("4/3", word)),
              std::string("a.scl:10:2: \"") + word +
                  "\" is no note; write cents with a point, such as 701.955, or a ratio, such as "
                  "3/2");
}

TEST(SclReader, RefusesWhatEndsTooSoon) {
  const std::string text = just;
  EXPECT_EQ(refusal(""),
            "a.scl: is empty; a scale file has a line of words, the number of notes, "
            "then the notes");
  EXPECT_EQ(refusal("words"),
            "a.scl:1: the number of notes should stand here; is this a scale "
            "file?");
  EXPECT_EQ(refusal(text.substr(0, text.find(" 5/4"))), "a.scl:9: ends after 3 of 12 notes");
  EXPECT_EQ(refusal(std::string(max_scl_bytes + 1, '!')),
            "a.scl: has 65537 bytes; a scale of twelve notes has far fewer");
}

}  // namespace
}  // namespace combwright::music
