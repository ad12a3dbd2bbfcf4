// SPDX-License-Identifier: Apache-2.0
#include "base/finding.h"

#include <gtest/gtest.h>

namespace combwright {
namespace {

TEST(Finding, only_a_fault_is_a_fault) {
  const Findings harmless = {{.level = Level::note}, {.level = Level::warning}};
  EXPECT_FALSE(has_fault(harmless));
  EXPECT_FALSE(has_fault({}));
  EXPECT_TRUE(has_fault({{.level = Level::note}, {.level = Level::fault}}));
}

TEST(Finding, levels_have_the_words_of_the_interface) {
  EXPECT_EQ(to_text(Level::fault), "fault");
  EXPECT_EQ(to_text(Level::warning), "warning");
  EXPECT_EQ(to_text(Level::note), "note");
}

}  // namespace
}  // namespace combwright
