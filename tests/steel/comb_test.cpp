// SPDX-License-Identifier: Apache-2.0
#include "steel/comb.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <random>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/file.h"
#include "box/box_reader.h"
#include "box/target.h"
#include "steel/comb_lists.h"
#include "steel/metal.h"
#include "steel/modes.h"

namespace combwright::steel {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr double lift_m = 0.0006;

box::Box example(const std::string& name) {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/" + name + ".toml";
  return box::read_box(as_text(read_file(path)), path).box;
}

// With the lines that the search finds for it, so that it need not search again.
box::Box drawn(const std::string& name) {
  box::Box box = example(name);
  for (box::Comb& comb : box.combs) {
    if (name == "bramble") comb.lines = {0.0, 0.031351, 0.029729, 0.02877, 0.703125, 1.0};
    if (name == "larkspur") comb.lines = {0.609375, 0.025208, 0.022667, 0.019755, 0.4, 1.0};
  }
  return box;
}

std::vector<CombDesign> designed(const box::Box& box, const box::Shop& shop = {}) {
  const std::vector<double> lifts_m(box.scale.midi.size(), lift_m);
  return design_combs(box, shop, {box.combs.size(), lifts_m});
}

TEST(Comb, claims_the_error_of_its_pitches) {
  const CombDesign design = designed(drawn("bramble"))[0];
  for (const CombTooth& tooth : design.teeth) {
    const double cents = 1200.0 * std::log2(first_mode_hz(tooth.in_tune) / tooth.target_hz);
    EXPECT_LT(std::abs(cents), comb_pitch_error_cents) << "track " << tooth.track;
  }
}

// Goodman's line without a mean stress: the factor is the limit over the stress.
TEST(Comb, says_at_which_stress_the_safety_factor_ends) {
  const box::Box box = drawn("bramble");
  const CombDesign design = designed(box)[0];
  for (const CombTooth& tooth : design.teeth)
    EXPECT_NEAR(tooth.safety_factor * tooth.ring_stress_pa / box.combs[0].safety_factor,
                design.ring_stress_limit_pa, 1e-9 * design.ring_stress_limit_pa);
}

TEST(Comb, tells_levels_over_the_median_tooth) {
  const CombDesign design = designed(drawn("bramble"))[0];
  std::vector<double> levels;
  for (const CombTooth& tooth : design.teeth) levels.push_back(tooth.level_db);
  std::sort(levels.begin(), levels.end());
  EXPECT_NEAR(levels.back() - levels.front(), design.loudness_db, 1e-9);
  const std::size_t half = levels.size() / 2;
  EXPECT_NEAR(levels[half] + levels[(levels.size() - 1) / 2], 0.0, 1e-9);
  const CombTooth& first = design.teeth.front();
  const CombTooth& last = design.teeth.back();
  EXPECT_NEAR(std::pow(10.0, (first.level_db - last.level_db) / 20.0),
              first.root_force_n / last.root_force_n, 1e-9);
}

TEST(Comb, with_the_bass_at_the_outer_end_is_the_same_mirrored) {
  box::Box box = drawn("bramble");
  const CombDesign inner = designed(box)[0];
  box.tracks.bass = box::BassSide::outer;
  const CombDesign outer = designed(box)[0];
  const std::size_t count = inner.teeth.size();
  for (std::size_t i = 0; i < count; ++i) {
    const CombTooth& mirrored = outer.teeth[count - 1 - i];
    EXPECT_EQ(inner.teeth[i].midi, mirrored.midi);
    EXPECT_NEAR(length_m(inner.teeth[i].in_tune) / length_m(mirrored.in_tune), 1.0, 1e-9);
  }
  EXPECT_EQ(outer.teeth.front().track, 1);
}

TEST(Comb, without_a_low_enough_bar_says_which_limit_binds) {
  box::Shop shop;
  shop.lead.bar_m = {0.004};
  const CombDesign design = designed(example("bramble"), shop)[0];
  EXPECT_THAT(design.findings,
              Contains(AllOf(Field(&Finding::level, Level::fault),
                             Field(&Finding::what, HasSubstr("worth of 0.1 mm of weight")),
                             Field(&Finding::remedy, HasSubstr("lead.bars")))));
}

TEST(Comb, with_leads_that_hit_the_bedplate_says_so) {
  box::Box box = drawn("larkspur");
  for (box::Comb& comb : box.combs) comb.room_below_m = lift_m;
  const CombDesign design = designed(box)[0];
  EXPECT_THAT(design.findings,
              Contains(AllOf(Field(&Finding::level, Level::fault),
                             Field(&Finding::remedy, HasSubstr("comb.room_below")))));
}

TEST(Comb, of_steel_alone_needs_no_caution) {
  box::Box box = example("bramble");
  box.scale.midi = {91};
  box.tracks.count = 1;
  box.combs[0].longest_tooth_m = box.combs[0].shortest_tooth_m;
  const CombDesign design = designed(box)[0];
  ASSERT_EQ(design.teeth.size(), 1U);
  EXPECT_FALSE(design.teeth[0].leaded());
  EXPECT_THAT(design.findings, IsEmpty());
}

TEST(Comb, is_designed_or_refused_in_words_whatever_a_box_may_hold) {
  std::mt19937 random(20'240'601);
  const auto between = [&](double low, double high) {
    return low * std::pow(high / low, std::uniform_real_distribution<>(0.0, 1.0)(random));
  };
#ifdef __SANITIZE_ADDRESS__
  constexpr int boxes = 2;  // each takes ten seconds there
#else
  constexpr int boxes = 12;
#endif
  for (int i = 0; i < boxes; ++i) {
    box::Box box = example("bramble");
    box::Comb& comb = box.combs[0];
    box.scale.midi = {static_cast<int>(between(1.0, 120.0)), 60, 60,
                      static_cast<int>(between(60.0, 127.0))};
    std::sort(box.scale.midi.begin(), box.scale.midi.end());
    box.tracks.count = 4;
    comb.tooth_width_m = between(0.0002, 0.02);
    comb.plate_thickness_m = between(0.0003, 0.02);
    comb.thinnest_m = between(0.00005, 0.9 * comb.plate_thickness_m + 0.00001);
    comb.shortest_tooth_m = between(0.003, 0.3);
    comb.longest_tooth_m = between(comb.shortest_tooth_m, 0.3);
    comb.root_yield = i % 3 == 0 ? 0.0 : between(0.01, 1.0);
    box.lead.longest = between(0.01, 0.8);
    box.lead.tip_gap_m = between(0.0001, 0.05);
    box.lead.density_kg_m3 = between(1000.0, 25'000.0);
    box.lead.modulus_pa = between(1e9, 5e11);
    box::Shop shop;
    shop.lead.bar_m = {between(0.0001, 0.05), between(0.0001, 0.05)};
    const CombDesign design = designed(box, shop)[0];
    for (const CombTooth& tooth : design.teeth) {
      EXPECT_EQ(problem(tooth.as_cut), "");
      EXPECT_EQ(problem(tooth.in_tune), "");
      EXPECT_TRUE(std::isfinite(tooth.safety_factor));
      for (const double hz : tooth.modes_hz) EXPECT_GT(hz, 0.0);
    }
  }
}

TEST(CombLists, cut_halfway_between_the_teeth_on_both_sides) {
  const box::Box box = drawn("bramble");
  const CombDesign design = designed(box)[0];
  const std::vector<SawCut> cuts = saw_cuts(box, box.combs[0], design);
  ASSERT_EQ(cuts.size(), design.teeth.size() + 1);
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i)
    EXPECT_NEAR(cuts[i + 1].radius_m - cuts[i].radius_m, box.tracks.pitch_m, 1e-12);
  // The first cut and the last are flush with the sides of the plate.
  const Plate plate = steel::plate(box, box.combs[0], design);
  const double half_kerf = 0.5 * box.combs[0].tooth_gap_m;
  EXPECT_NEAR(cuts.front().from_edge_m, half_kerf, 1e-12);
  EXPECT_NEAR(cuts.back().from_edge_m, plate.width_m - half_kerf, 1e-12);
  EXPECT_DOUBLE_EQ(cuts[1].length_m,
                   0.5 * (length_m(design.teeth[0].as_cut) + length_m(design.teeth[1].as_cut)));
}

TEST(CombLists, name_the_teeth_of_every_weight) {
  const box::Box box = drawn("larkspur");
  std::vector<int> times(2 * box.scale.midi.size(), 0);
  const std::vector<CombDesign> designs = designed(box);
  for (const LeadCut& cut : lead_cuts(designs)) {
    for (const ToothPlace& place : cut.teeth) {
      const auto index = static_cast<std::size_t>(place.track - 1);
      const CombTooth& tooth = designs[place.comb].teeth[index];
      ASSERT_TRUE(tooth.leaded());
      EXPECT_NEAR(tooth.as_cut.leads.front().length_m, cut.length_m, 1e-9);
      EXPECT_NEAR(tooth.as_cut.leads.front().mass_kg, cut.mass_kg, 1e-12);
      ++times[place.comb * box.scale.midi.size() + index];
    }
  }
  for (std::size_t comb = 0; comb < designs.size(); ++comb) {
    for (std::size_t i = 0; i < designs[comb].teeth.size(); ++i)
      EXPECT_EQ(times[comb * box.scale.midi.size() + i], designs[comb].teeth[i].leaded() ? 1 : 0);
  }
}

TEST(Target, is_equal_temperament_with_offset_and_beat) {
  box::Box box = example("bramble");
  box.scale.midi = {57, 69, 81};
  box::Comb comb = box.combs[0];
  EXPECT_DOUBLE_EQ(box::target_hz(box, comb, 69), 440.0);  // ISO 16
  comb.offset_cents = 1200.0;
  comb.beat_low_hz = 1.0;
  comb.beat_high_hz = 3.0;
  EXPECT_DOUBLE_EQ(box::target_hz(box, comb, 57), 441.0);
  EXPECT_DOUBLE_EQ(box::target_hz(box, comb, 69), 882.0);
  EXPECT_DOUBLE_EQ(box::target_hz(box, comb, 81), 1763.0);
}

TEST(Metal, of_the_steel_softens_as_it_warms) {
  const box::Steel steel{.modulus_pa = 205e9, .density_kg_m3 = 7850.0, .poisson_ratio = 0.29};
  EXPECT_EQ(metal(steel).modulus_pa, 205e9);
  // -2.5e-4 for each kelvin: D. Boettcher, "Nickel Steel Balance Spring" (see metal.h).
  EXPECT_DOUBLE_EQ(metal(steel, 30.0).modulus_pa, 205e9 * (1.0 - 2.5e-3));
  EXPECT_LT(metal(steel, 30.0).density_kg_m3, 7850.0);
}

}  // namespace
}  // namespace combwright::steel
