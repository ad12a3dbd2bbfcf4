// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include "arrange/arrange.h"
#include "base/error.h"

namespace combwright::arrange {
namespace {

std::string refusal(const music::Tune& tune) {
  try {
    arrange({}, tune, {});
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

TEST(Silence, a_tune_of_rests_is_refused) {
  EXPECT_EQ(refusal({}),
            "the tune has no notes, only rests or nothing at all; give one with notes");
}

TEST(Silence, a_tune_of_drums_is_refused_as_such) {
  music::Tune tune;
  tune.percussion_notes = 20;
  EXPECT_EQ(refusal(tune),
            "all notes of the tune (20) are percussion, which a comb has no teeth for; give one "
            "with notes of a pitch");
}

}  // namespace
}  // namespace combwright::arrange
