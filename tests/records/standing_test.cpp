// SPDX-License-Identifier: Apache-2.0
#include "records/standing.h"

#include <gtest/gtest.h>

namespace combwright::records {
namespace {

ToothSummary tooth(int track, std::optional<double> cents) {
  ToothSummary summary;
  summary.tooth.track = track;
  summary.final_cents = cents;
  return summary;
}

TEST(Standing, ByTheLastReadingAndTheTolerance) {
  EXPECT_EQ(to_text(standing(tooth(1, {}), 2.0)), "not_read");
  EXPECT_EQ(to_text(standing(tooth(1, -2.1), 2.0)), "flat");
  EXPECT_EQ(to_text(standing(tooth(1, -2.0), 2.0)), "in_tune");
  EXPECT_EQ(to_text(standing(tooth(1, 2.0), 2.0)), "in_tune");
  EXPECT_EQ(to_text(standing(tooth(1, 2.1), 2.0)), "sharp");
}

TEST(Standing, TheNextToothIsTheNearestAboveAndThenTheFirst) {
  const std::vector<ToothSummary> teeth{tooth(1, -30.0), tooth(2, 0.0), tooth(3, {}),
                                        tooth(4, 1.0)};
  EXPECT_EQ(next_to_tune(teeth, 1, 2.0), 3);
  EXPECT_EQ(next_to_tune(teeth, 3, 2.0), 1);
  EXPECT_EQ(next_to_tune(teeth, 4, 2.0), 1);
  EXPECT_EQ(next_to_tune({tooth(1, -30.0), tooth(2, 0.0)}, 1, 2.0), std::nullopt);
  EXPECT_EQ(next_to_tune({}, 1, 2.0), std::nullopt);
}

}  // namespace
}  // namespace combwright::records
