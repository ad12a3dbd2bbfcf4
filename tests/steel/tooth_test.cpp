// SPDX-License-Identifier: Apache-2.0
#include "steel/tooth.h"

#include <cmath>
#include <functional>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sample_tooth.h"
#include "steel/metal.h"
#include "steel/modes.h"

namespace combwright::steel {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

Tooth leaded() {
  Tooth tooth = sample_tooth();
  tooth.leads = {lead_block(tooth, 540e-6, 0.027, 0.006)};
  return tooth;
}

TEST(Tooth, IsAsHeavyAsItsPrismoid) {
  EXPECT_NEAR(steel_mass_kg(sample_tooth()), sample_mass_kg, 1e-15);
  Tooth tooth = sample_tooth();
  tooth.sections[0].tip_thickness_m = 0.0;
  tooth.sections[0].tip_width_m = 0.0;
  EXPECT_NEAR(steel_mass_kg(tooth), sample_mass_kg / 3.0, 1e-15);  // a pyramid
}

TEST(LeadBlock, ReachesAsFarDownAsItsMassNeeds) {
  Tooth tooth = sample_tooth();
  tooth.sections[0].tip_thickness_m = 0.0005;
  const Lead lead = lead_block(tooth, 11340.0 * 0.002 * 0.006 * 0.003, 0.015, 0.006);
  EXPECT_NEAR(lead.height_m, 0.003, 1e-15);
  EXPECT_NEAR(lead.offset_m, 0.5 * (0.00075 + 0.003), 1e-15);
  EXPECT_EQ(lead.width_m, 0.002);
}

TEST(Metal, OfABoxKeepsItsValues) {
  const Metal steel =
      metal(box::Steel{.modulus_pa = 2e11, .density_kg_m3 = 7800.0, .poisson_ratio = 0.3});
  EXPECT_EQ(steel.modulus_pa, 2e11);
  EXPECT_EQ(steel.density_kg_m3, 7800.0);
  EXPECT_EQ(steel.poisson_ratio, 0.3);
  EXPECT_EQ(metal(box::Lead{.modulus_pa = 1e10, .density_kg_m3 = 9000.0}).density_kg_m3, 9000.0);
}

TEST(Problem, IsNothingForAToothThatCanBeCut) {
  EXPECT_EQ(problem(sample_tooth()), "");
  EXPECT_EQ(problem(leaded()), "");
}

TEST(Problem, NamesWhatIsImpossible) {
  const std::vector<std::pair<std::function<void(Tooth&)>, std::string>> cases{
      {[](Tooth& t) { t.sections.clear(); }, "a tooth has 1 to 256 sections and up to 256 leads"},
      {[](Tooth& t) { t.sections[0].length_m = nan; }, "the length is no number; give one"},
      {[](Tooth& t) { t.sections[0].length_m = -0.003; },
       "the length is -3 mm; give one between 1 um and 10 m"},
      {[](Tooth& t) { t.sections[0].root_width_m = 0.0; },
       "the width is 0 mm; give one between 1 um and 10 m"},
      {[](Tooth& t) { t.sections[0].tip_thickness_m = 5e-6; },
       "the thickness changes by more than a factor of 100; taper less"},
      {[](Tooth& t) { t.sections[0].root_thickness_m = 0.04; },
       "the tooth is 40 mm thick and only 30 mm long; no beam theory holds for it"},
      {[](Tooth& t) { t.steel.modulus_pa = nan; }, "the steel's modulus is no number; give one"},
      {[](Tooth& t) { t.steel.poisson_ratio = 0.7; },
       "the steel's Poisson's ratio is impossible; give one between 0 and 0.5"},
      {[](Tooth& t) { t.root.turning_n_m = 0.0; },
       "the root holds the tooth against turning with 0 N m for a radian; give at least "
       "1.139e-06 N m"},
      {[](Tooth& t) { t.leads[0].mass_kg = 0.0; },
       "a lead of 0 mg is no weight for this tooth; give one above 0 and up to 471 g"},
      {[](Tooth& t) { t.leads[0].mass_kg = nan; }, "a lead's mass is no number; give one"},
      {[](Tooth& t) { t.leads[0] = lead_block(t, 0.1, 0.027, 0.006); },
       "a lead of 100 g on 6 mm would hang 734.9 mm down, further than the tooth is long; make it "
       "longer or lighter"},
      {[](Tooth& t) { t.leads[0].center_m = nan; }, "a lead's place is no length; give one"},
      {[](Tooth& t) { t.leads[0].center_m = 0.028; },
       "a lead ends 31 mm from the root, beyond the tip at 30 mm; move it inwards"},
      {[](Tooth& t) { t.leads[0].center_m = 0.001; },
       "a lead begins 2 mm behind the root; move it outwards"},
      {[](Tooth& t) { t.leads[0].length_m = 0.04; },
       "a lead is 40 mm long, the tooth only 30 mm; give a shorter lead"},
      {[](Tooth& t) {
         t.leads[0].length_m = 0.03;
         t.leads[0].center_m = 0.015;
         t.leads[0].modulus_pa = rigid;
       },
       "the rigid leads leave nothing of the tooth to bend; give shorter leads"},
      {[](Tooth& t) {
         t.leads = {{.mass_kg = 1e-4, .center_m = 0.005, .length_m = 0.01, .modulus_pa = rigid},
                    {.mass_kg = 1e-4, .center_m = 0.02, .length_m = 0.02, .modulus_pa = rigid}};
       },
       "the rigid leads leave nothing of the tooth to bend; give shorter leads"},
      {[](Tooth& t) { t.leads.push_back(t.leads[0]); }, "two leads overlap; move them apart"}};
  for (const auto& [spoil, words] : cases) {
    Tooth tooth = leaded();
    spoil(tooth);
    EXPECT_EQ(problem(tooth), words);
  }
}

TEST(Findings, WarnOfAStoutToothAndOfLead) {
  EXPECT_TRUE(findings(sample_tooth()).empty());
  const Findings lead = findings(leaded());
  ASSERT_EQ(lead.size(), 1U);
  EXPECT_THAT(lead[0].remedy, testing::HasSubstr("wash your hands"));
  const Findings stout = findings(plain_tooth(0.004, 0.002, 0.001, 0.001));
  ASSERT_EQ(stout.size(), 1U);
  EXPECT_EQ(stout[0].level, Level::warning);
}

// Leads at the same place are one lead; a lead of no length in two halves is the same lead.
TEST(Leads, AddUp) {
  Tooth whole = sample_tooth();
  whole.leads = {{.mass_kg = 100e-6, .center_m = 0.02}};
  Tooth halves = sample_tooth();
  halves.leads = {{.mass_kg = 50e-6, .center_m = 0.02}, {.mass_kg = 50e-6, .center_m = 0.02}};
  EXPECT_NEAR(first_mode_hz(whole), first_mode_hz(halves), 1e-9);
}

// The tooth in two sections, or in one, is the same tooth.
TEST(Sections, OfOneTaperAreOneSection) {
  Tooth tooth = sample_tooth(Theory::thick);
  tooth.sections[0].tip_thickness_m = 0.0006;
  Tooth cut = tooth;
  cut.sections[0].length_m = 0.012;
  cut.sections[0].tip_thickness_m = 0.00084;
  cut.sections.push_back(tooth.sections[0]);
  cut.sections[1].length_m = 0.018;
  cut.sections[1].root_thickness_m = 0.00084;
  const std::vector<Mode> whole = modes(tooth);
  const std::vector<Mode> parts = modes(cut);
  for (std::size_t k = 0; k < whole.size(); ++k)
    EXPECT_NEAR(parts[k].frequency_hz, whole[k].frequency_hz,
                modes_relative_error * whole[k].frequency_hz);
}

}  // namespace
}  // namespace combwright::steel
