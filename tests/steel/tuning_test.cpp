// SPDX-License-Identifier: Apache-2.0
//
// Clipping, filing and warming. Sources of the figures: the closed forms named beside them, worked
// out in 30-digit arithmetic for a bar of 30 x 2 x 1 mm.
#include "steel/tuning.h"

#include <cmath>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "sample_tooth.h"
#include "steel/modes.h"

namespace combwright::steel {
namespace {

constexpr double cents_per_log = 1200.0 / std::numbers::ln2;

Tooth with_mass_at_tip() {
  Tooth tooth = sample_tooth();
  tooth.leads = {lead_block(tooth, sample_mass_kg, 0.03, 0.0)};
  return tooth;
}

// df / f = -phi^2 dm / (2 M): -2 dm / m for a bare bar; -6.99011 cents for 1 % of the bar's mass
// where as much already hangs at the tip.
TEST(Clipping, RaisesThePitchAsThePerturbationFormulaSays) {
  const double percent_mg = 0.01 * sample_mass_kg * 1e6;
  EXPECT_NEAR(sensitivity(sample_tooth()).clip_cents_per_mg * percent_mg, 34.62468, 1e-5);
  EXPECT_NEAR(sensitivity(with_mass_at_tip()).clip_cents_per_mg * percent_mg, 6.99011, 5e-6);
  EXPECT_NEAR(sensitivity(with_mass_at_tip()).clip_cents_per_mg, 1.484100,
              1.484100 * sensitivity_relative_error);
}

// 1, 5, 20 and 50 mg off 471 mg at the tip, by the frequency equation of a bar with a tip mass.
TEST(Clipping, IsSolvedAgainForLargeClips) {
  const Tooth tooth = with_mass_at_tip();
  for (const auto& [mg, cents] :
       {std::pair{1.0, 1.485371}, {5.0, 7.452418}, {20.0, 30.201656}, {50.0, 77.571707}})
    EXPECT_NEAR(cents_between(tooth, clipped(tooth, 0, 1e-6 * mg)), cents, 1e-6);
}

TEST(Clipping, ShortensABlockFromItsOuterEnd) {
  Tooth tooth = sample_tooth();
  tooth.leads = {lead_block(tooth, 540e-6, 0.027, 0.006)};
  const Lead left = clipped(tooth, 0, 90e-6).leads[0];
  EXPECT_NEAR(left.mass_kg, 450e-6, 1e-15);
  EXPECT_NEAR(left.length_m, 0.005, 1e-15);
  EXPECT_NEAR(left.center_m - 0.5 * left.length_m, 0.024, 1e-15);
  EXPECT_EQ(left.height_m, tooth.leads[0].height_m);
}

// A milligram off the outer end of a block, at the tip, raises the pitch more than one off a point
// in its middle would.
TEST(Clipping, CountsWhereTheLeadEnds) {
  Tooth tooth = sample_tooth();
  tooth.leads = {lead_block(tooth, 540e-6, 0.027, 0.006)};
  const double h = 1e-3;  // mg
  EXPECT_NEAR(sensitivity(tooth).clip_cents_per_mg,
              cents_between(tooth, clipped(tooth, 0, 1e-6 * h)) / h, 1e-5);
  const Mode mode = modes(tooth, 1)[0];
  const std::vector<double> shape = steel::shape(tooth, mode, {0.027});
  const double middle = 0.5e-6 * cents_per_log * shape[0] * shape[0] / mode.modal_mass_kg;
  EXPECT_GT(sensitivity(tooth).clip_cents_per_mg, 1.2 * middle);
}

// phi^2 at 0.5, 0.75 and 0.9 of the length, bare and with a mass of its own at the tip.
TEST(Shape, IsThatOfAClampedBar) {
  const std::vector<double> at{0.015, 0.0225, 0.027, 0.03, 0.0};
  const auto expect = [&](const Tooth& tooth, const std::vector<double>& squares) {
    const std::vector<double> found = shape(tooth, modes(tooth, 1)[0], at);
    for (std::size_t i = 0; i < at.size(); ++i) EXPECT_NEAR(found[i] * found[i], squares[i], 1e-7);
  };
  expect(sample_tooth(), {0.1152759, 0.4326315, 0.7437330, 1.0, 0.0});
  expect(with_mass_at_tip(), {0.1008518, 0.4064171, 0.7271739, 1.0, 0.0});
}

// d ln f = integral of [3 phi''^2 / l^4 - phi^2] / (2 M / m) dh / h dx / L: over the first tenth
// 0.5211985 bare and 0.4290426 with a mass of its own at the tip; over the last tenth of a bare bar
// -0.1737023.
TEST(Filing, ChangesThePitchAsTheEnergiesSay) {
  const double per_um = 1e-6 / 0.001 * cents_per_log;
  const Sensitivity bare = sensitivity(sample_tooth());
  EXPECT_NEAR(bare.file_root_cents_per_um / per_um, -0.5211985, 1e-7);
  EXPECT_NEAR(bare.file_tip_cents_per_um / per_um, 0.1737023, 1e-7);
  EXPECT_NEAR(sensitivity(with_mass_at_tip()).file_root_cents_per_um / per_um, -0.4290426, 1e-7);
}

// The same formula is 0 at x / L = 0.57938164 of a bare bar, and at 0.77392828 with a mass of its
// own at the tip.
TEST(Filing, DoesNothingAtOnePlace) {
  // Half of what filing and adding do, so that only the first order is left.
  const auto effect = [](const Tooth& tooth, double share) {
    const double place = share * 0.03;
    return 0.5 * cents_between(filed(tooth, place - 3e-5, place + 3e-5, -1e-5),
                               filed(tooth, place - 3e-5, place + 3e-5, 1e-5));
  };
  for (const auto& [tooth, share] :
       {std::pair{sample_tooth(), 0.57938164}, {with_mass_at_tip(), 0.77392828}}) {
    EXPECT_LT(effect(tooth, share - 0.05), -0.001);
    EXPECT_GT(effect(tooth, share + 0.05), 0.001);
    EXPECT_NEAR(effect(tooth, share), 0.0, 1e-5);
  }
}

TEST(Filing, OfTheWholeLengthIsAThinnerTooth) {
  const Tooth thinner = filed(sample_tooth(), 0.0, 0.03, 1e-4);
  ASSERT_EQ(thinner.sections.size(), 1U);
  EXPECT_NEAR(cents_between(sample_tooth(), thinner), 1200.0 * std::log2(0.9), 1e-7);
}

TEST(Filing, LeavesTheRestOfEverySectionAsItWas) {
  Tooth tooth = sample_tooth();
  tooth.sections[0].tip_thickness_m = 0.0007;
  tooth = filed(tooth, 0.02, 0.03, 0.0);
  const Tooth thinner = filed(tooth, 0.015, 0.025, 1e-4);
  EXPECT_EQ(thinner.sections.size(), 4U);
  EXPECT_NEAR(length_m(thinner), 0.03, 1e-15);
  for (const double x : {0.001, 0.0149, 0.0251, 0.029})
    EXPECT_NEAR(thickness_m(thinner, x), 0.001 - 0.01 * x, 1e-15) << x;
  for (const double x : {0.0151, 0.0199, 0.0201, 0.0249})
    EXPECT_NEAR(thickness_m(thinner, x), 0.0009 - 0.01 * x, 1e-15) << x;
}

// f^2 goes as modulus times length over mass for any shape (dimensional argument):
// (-2.5e-4 + 1.15e-5) / 2 for each kelvin is -0.20645 cents.
TEST(Warmth, FlattensEveryToothAlike) {
  EXPECT_NEAR(cents_per_k(), -0.20645, 5e-6);
  Tooth leaded = sample_tooth(Theory::thick);
  leaded.leads = {lead_block(leaded, 540e-6, 0.027, 0.006), lead_block(leaded, 20e-6, 0.015, 0.0)};
  leaded.root.turning_n_m = 50.0 * root_unit_n_m(leaded);
  leaded.root.shifting_n_m = 1e8;
  for (const Tooth& tooth : {sample_tooth(), leaded}) {
    EXPECT_NEAR(cents_between(tooth, warmed(tooth, 1.0)), cents_per_k(), 2e-4);
    EXPECT_NEAR(first_mode_hz(warmed(tooth, 10.0)) / first_mode_hz(tooth),
                std::sqrt((1.0 - 2.5e-3) * (1.0 + 1.15e-4)), 1e-10);
    EXPECT_NEAR(steel_mass_kg(warmed(tooth, 10.0)), steel_mass_kg(tooth), 1e-15);
  }
}

}  // namespace
}  // namespace combwright::steel
