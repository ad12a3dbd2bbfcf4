// SPDX-License-Identifier: Apache-2.0
//
// Teeth of every shape, drawn from a named random stream, against Boost.Odeint (shooting.h).
#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include <gtest/gtest.h>

#include "sample_tooth.h"
#include "shooting.h"
#include "steel/modes.h"

namespace combwright::steel {
namespace {

class Draw {
 public:
  explicit Draw(std::uint64_t seed) : random_(seed) {}

  double between(double low, double high) { return low + (high - low) * unit(); }
  double log_between(double low, double high) { return low * std::pow(high / low, unit()); }
  bool one_in(int n) { return unit() * n < 1.0; }

 private:
  double unit() { return static_cast<double>(random_() >> 11) * 0x1p-53; }

  std::mt19937_64 random_;
};

Tooth any_tooth(Draw& draw) {
  const double length = draw.log_between(0.01, 0.1);
  const double thickness = length / draw.log_between(5.0, 500.0);
  Tooth tooth = plain_tooth(length, draw.log_between(0.5, 3.0) * thickness, thickness,
                            thickness * (draw.one_in(4) ? 1.0 : draw.log_between(0.1, 10.0)));
  tooth.theory = draw.one_in(2) ? Theory::thin : Theory::thick;
  if (draw.one_in(2)) {
    Section outer = tooth.sections[0];
    tooth.sections.push_back(outer);
    const double share = draw.between(0.1, 0.9);
    tooth.sections[0].length_m *= share;
    tooth.sections[1].length_m *= 1.0 - share;
    tooth.sections[1].root_thickness_m *= draw.log_between(0.3, 3.0);
    tooth.sections[1].tip_width_m *= draw.log_between(0.4, 2.0);
  }
  if (!draw.one_in(3)) {
    const double mass = draw.log_between(0.01, 50.0) * steel_mass_kg(tooth);
    const double block = draw.one_in(2) ? 0.0 : draw.between(0.05, 0.4) * length;
    const double center =
        draw.one_in(2) ? length - 0.5 * block : draw.between(0.5 * block, length - 0.5 * block);
    tooth.leads = {lead_block(tooth, mass, std::max(center, 0.01 * length), block)};
    // A heavy block of a short length: a heavier metal, not a tower.
    Lead& lead = tooth.leads[0];
    lead.height_m = std::min({lead.height_m, 10.0 * thickness, 0.5 * length});
    lead.offset_m = 0.5 * (thickness + lead.height_m);
    if (draw.one_in(3)) lead.modulus_pa = 0.0;
  }
  if (draw.one_in(2)) tooth.root.turning_n_m = draw.log_between(1.0, 1e6) * root_unit_n_m(tooth);
  if (draw.one_in(4)) {
    tooth.root.shifting_n_m = draw.log_between(1.0, 1e6) * root_unit_n_m(tooth) / (length * length);
  }
  return tooth;
}

// Within what modes_relative_error is claimed for: drawn again while some of it is too stout.
Tooth drawn_tooth(Draw& draw) {
  for (;;) {
    Tooth tooth = any_tooth(draw);
    double thickest = 0.0;
    for (const Section& s : tooth.sections)
      thickest = std::max({thickest, s.root_thickness_m, s.tip_thickness_m});
    if (5.0 * thickest <= length_m(tooth)) return tooth;
  }
}

TEST(AnyTooth, HasItsModesWhereAnIntegratorHasThem) {
  for (int seed = 1; seed <= 200; ++seed) {
    Draw draw(static_cast<std::uint64_t>(seed));
    const Tooth tooth = drawn_tooth(draw);
    ASSERT_EQ(problem(tooth), "") << "seed " << seed;
    for (const Mode& mode : modes(tooth)) {
      const long double f = mode.frequency_hz;
      const long double below = tip_determinant(tooth, f * (1.0L - modes_relative_error), 1e-17L);
      const long double above = tip_determinant(tooth, f * (1.0L + modes_relative_error), 1e-17L);
      EXPECT_LT(below * above, 0.0L) << "seed " << seed << ", " << mode.frequency_hz << " Hz";
    }
  }
}

TEST(AnyTooth, MissesNoMode) {
  for (int seed = 1; seed <= 40; ++seed) {
    Draw draw(static_cast<std::uint64_t>(1000 + seed));
    const Tooth tooth = drawn_tooth(draw);
    const double last = modes(tooth).back().frequency_hz;
    int signs = 0;
    long double before = 1.0L;
    // Steps even in the phase of the bending waves.
    constexpr int steps = 400;
    for (int i = 1; i <= steps; ++i) {
      const double share = static_cast<double>(i) / steps;
      const long double now = tip_determinant(tooth, last * (1.0 + 1e-6) * share * share, 1e-9L);
      if (now * before < 0.0L) ++signs;
      before = now;
    }
    EXPECT_EQ(signs, 4) << "seed " << seed;
  }
}

// A point mass of m at the tip changes the frequency of each mode by -m / (2 modal mass).
TEST(AnyTooth, HasModalMassesThatTellWhatAMassAtTheTipDoes) {
  for (int seed = 1; seed <= 100; ++seed) {
    Draw draw(static_cast<std::uint64_t>(2000 + seed));
    const Tooth tooth = drawn_tooth(draw);
    const Mode first = modes(tooth, 1)[0];
    const auto with = [&](double share) {
      Tooth heavier = tooth;
      heavier.leads.push_back(
          {.mass_kg = share * first.modal_mass_kg, .center_m = length_m(tooth)});
      return std::log(first_mode_hz(heavier) / first.frequency_hz);
    };
    // Forward differences up to the third order.
    const double h = 1e-3;
    const double slope = (18.0 * with(h) - 9.0 * with(2.0 * h) + 2.0 * with(3.0 * h)) / (6.0 * h);
    EXPECT_NEAR(slope, -0.5, 0.5 * modal_mass_relative_error) << "seed " << seed;
  }
}

TEST(AnyTooth, RingsWithSharesOfTheLiftThatAddUpToLittleLessThanAllOfIt) {
  for (int seed = 1; seed <= 100; ++seed) {
    Draw draw(static_cast<std::uint64_t>(3000 + seed));
    double sum = 0.0;
    for (const Mode& mode : modes(drawn_tooth(draw), most_modes)) {
      EXPECT_GT(mode.release_share, 0.0);
      sum += mode.release_share;
    }
    EXPECT_LT(sum, 1.0 + modal_mass_relative_error) << "seed " << seed;
    EXPECT_GT(sum, 0.98) << "seed " << seed;
  }
}

// Two leads a hair apart, down to less than rounding can tell, against one lead that has the mass
// of both and their rotary inertia about their common centre. The steel between them still shears:
// that changes a frequency by less than ten times the hair's share of the length.
TEST(TwoLeadsAHairApart, AreOneLead) {
  for (int seed = 1; seed <= 2000; ++seed) {
    Draw draw(static_cast<std::uint64_t>(6000 + seed));
    Tooth pair = drawn_tooth(draw);
    const double length = length_m(pair);
    const double hair = draw.log_between(1e-13, 1e-6) * length;
    const double a = draw.log_between(0.01, 25.0) * steel_mass_kg(pair);
    const double b = draw.log_between(0.01, 25.0) * steel_mass_kg(pair);
    const double place = draw.between(0.02, 0.99) * length;
    pair.leads = {{.mass_kg = a, .center_m = place}, {.mass_kg = b, .center_m = place + hair}};
    Tooth one = pair;
    one.leads = {{.mass_kg = a + b,
                  .center_m = place + hair * b / (a + b),
                  .height_m = hair * std::sqrt(12.0 * a * b) / (a + b)}};
    const std::vector<Mode> found = modes(pair);
    const std::vector<Mode> wanted = modes(one);
    for (std::size_t k = 0; k < 4; ++k) {
      EXPECT_NEAR(found[k].frequency_hz, wanted[k].frequency_hz,
                  (2.0 * modes_relative_error + 10.0 * hair / length) * wanted[k].frequency_hz)
          << "seed " << seed << ", mode " << k + 1;
    }
  }
}

TEST(FirstModeAlone, IsTheFirstOfSeveral) {
  for (int seed = 1; seed <= 200; ++seed) {
    Draw draw(static_cast<std::uint64_t>(4000 + seed));
    const Tooth tooth = drawn_tooth(draw);
    const double several = modes(tooth)[0].frequency_hz;
    EXPECT_NEAR(first_mode_hz(tooth), several, modes_relative_error * several) << "seed " << seed;
  }
}

TEST(ThickTheory, IsNeverSharperThanTheThinOne) {
  for (int seed = 1; seed <= 50; ++seed) {
    Draw draw(static_cast<std::uint64_t>(5000 + seed));
    Tooth tooth = drawn_tooth(draw);
    tooth.theory = Theory::thin;
    const std::vector<Mode> thin = modes(tooth);
    tooth.theory = Theory::thick;
    const std::vector<Mode> thick = modes(tooth);
    for (std::size_t k = 0; k < 4; ++k)
      EXPECT_LT(thick[k].frequency_hz, thin[k].frequency_hz) << "seed " << seed;
  }
}

}  // namespace
}  // namespace combwright::steel
