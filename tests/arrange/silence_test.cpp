// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include "arrange/arrange.h"
#include "base/error.h"
#include "base/file.h"
#include "box/box_reader.h"

namespace combwright::arrange {
namespace {

std::string refusal(const music::Tune& tune) {
  try {
    const Bytes bytes = read_file(COMBWRIGHT_SOURCE_DIR "/examples/bramble.toml");
    arrange(box::read_box(as_text(bytes), "bramble.toml").box, tune, {});
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
