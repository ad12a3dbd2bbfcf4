// SPDX-License-Identifier: Apache-2.0
#include "steel/lifted.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "sample_tooth.h"

namespace combwright::steel {
namespace {

constexpr double force_n = 2.0;

std::vector<double> along(const Tooth& tooth, int steps) {
  std::vector<double> positions;
  for (int i = 0; i <= steps; ++i) positions.push_back(length_m(tooth) * i / steps);
  return positions;
}

// sigma = 6 F (L - x) / (b h^2) (text-book cantilever).
TEST(Lifted, AnEvenBarIsStressedInAStraightLine) {
  const std::vector<double> found =
      lifted_stress_pa(sample_tooth(), force_n, along(sample_tooth(), 4));
  const double root = 6.0 * force_n * 0.03 / (0.002 * 1e-6);
  for (int i = 0; i <= 4; ++i)
    EXPECT_NEAR(found[static_cast<std::size_t>(i)], root * (4 - i) / 4.0, 1.0);
}

// A bar whose depth grows in a straight line from its loaded end is stressed most where the depth
// is twice that of the end (Gere & Timoshenko, Mechanics of Materials, on beams that are not
// uniform).
TEST(Lifted, ATaperedBarIsStressedMostWhereItIsTwiceAsThickAsAtItsTip) {
  const Tooth tooth = plain_tooth(0.03, 0.002, 0.0015, 0.0005);
  const std::vector<double> positions = along(tooth, 3000);
  const std::vector<double> found = lifted_stress_pa(tooth, force_n, positions);
  const auto most = std::max_element(found.begin(), found.end()) - found.begin();
  EXPECT_NEAR(thickness_m(tooth, positions[static_cast<std::size_t>(most)]), 0.001, 1e-6);
}

// The transformed section (Gere & Timoshenko, on composite beams): the weight counts as steel of
// its width times the ratio of the moduli; here worked through with areas about the lower edge.
TEST(Lifted, UnderAWeightBothBendAsOneSection) {
  Tooth tooth = sample_tooth();
  const double height = 0.003;
  Lead lead{
      .mass_kg = 1e-4, .center_m = 0.024, .length_m = 0.006, .height_m = height, .width_m = 0.002};
  lead.offset_m = 0.5 * (0.001 + height);
  lead.modulus_pa = 16e9;
  tooth.leads = {lead};
  const double ratio = 16e9 / tooth.steel.modulus_pa;
  const double steel_area = 0.002 * 0.001;
  const double lead_area = ratio * 0.002 * height;
  const double axis =
      (lead_area * 0.5 * height + steel_area * (height + 0.0005)) / (lead_area + steel_area);
  const double second = ratio * 0.002 * std::pow(height, 3.0) / 12.0 +
                        lead_area * std::pow(axis - 0.5 * height, 2.0) +
                        0.002 * std::pow(0.001, 3.0) / 12.0 +
                        steel_area * std::pow(height + 0.0005 - axis, 2.0);
  const double faces = std::max(height + 0.001 - axis, std::abs(height - axis));
  const double expected = force_n * (0.03 - 0.022) * faces / second;
  const std::vector<double> found = lifted_stress_pa(tooth, force_n, {0.022, 0.010});
  EXPECT_NEAR(found[0], expected, 1e-9 * expected);
  EXPECT_NEAR(found[1], 6.0 * force_n * 0.02 / (0.002 * 1e-6), 1.0);
}

TEST(Lifted, UnderARigidWeightTheSteelBearsNothing) {
  Tooth tooth = sample_tooth();
  tooth.leads = {{.mass_kg = 1e-4, .center_m = 0.024, .length_m = 0.006, .modulus_pa = rigid}};
  EXPECT_EQ(lifted_stress_pa(tooth, force_n, {0.024})[0], 0.0);
}

}  // namespace
}  // namespace combwright::steel
