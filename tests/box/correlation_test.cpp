// SPDX-License-Identifier: Apache-2.0
#include "box/correlation.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "box_text.h"

namespace combwright::box {
namespace {

std::string with_correlation(const std::string& list) {
  return short_box + "[learnt]\ncorrelation = [" + list + "]\n";
}

TEST(Correlation, is_none_if_nothing_is_given) {
  const Box box = read_box(short_box, "b.toml").box;
  EXPECT_EQ(correlation(box), (SquareMatrix{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}));
  EXPECT_DOUBLE_EQ(box.learnt.scatter_cents, 5.0);
}

TEST(Correlation, is_the_upper_triangle_row_by_row) {
  const Box box = read_box(with_correlation(R"("90 %", "-20 %", "10 %")"), "b.toml").box;
  EXPECT_EQ(correlation(box), (SquareMatrix{{1, 0.9, -0.2}, {0.9, 1, 0.1}, {-0.2, 0.1, 1}}));
}

TEST(Correlation, has_one_value_for_each_pair) {
  EXPECT_EQ(refusal(with_correlation(R"("90 %")")),
            "b.toml:25:15: learnt.correlation has 1 values; with 1 comb it has 3, copied as comb "
            "--learn prints them");
}

TEST(Correlation, can_not_contradict_itself) {
  // If a goes with b and with c, b and c go together: 1 + 2abc - a^2 - b^2 - c^2 is the
  // determinant.
  EXPECT_EQ(refusal(with_correlation(R"("90 %", "90 %", "-90 %")")),
            "b.toml:25:15: learnt.correlation has values that contradict each other (not positive "
            "definite); copy them as comb --learn prints them, or leave them out");
  EXPECT_EQ(refusal(with_correlation(R"("80 %", "80 %", "29 %")")), "");
  EXPECT_NE(refusal(with_correlation(R"("80 %", "80 %", "27 %")")), "");
  EXPECT_NE(refusal(with_correlation(R"("100 %", "0 %", "0 %")")), "");
}

}  // namespace
}  // namespace combwright::box
