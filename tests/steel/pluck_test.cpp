// SPDX-License-Identifier: Apache-2.0
//
// A bar of 30 x 2 x 1 mm lifted by 0.6 mm at the tip and let go; closed forms in 30-digit
// arithmetic, the sum over time in double precision.
#include "steel/pluck.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "sample_tooth.h"
#include "steel/strength.h"

namespace combwright::steel {
namespace {

constexpr double lifted_m = 0.6e-3;

Tooth with_tip_mass(double ratio) {
  Tooth tooth = sample_tooth();
  if (ratio > 0.0) tooth.leads = {{.mass_kg = ratio * sample_mass_kg, .center_m = 0.03}};
  return tooth;
}

// F = 3 E I d / L^3, sigma = 1.5 E h d / L^2 (text-book cantilever).
TEST(StaticLift, PullsLikeACantilever) {
  const Pluck found = pluck(sample_tooth(), lifted_m);
  EXPECT_NEAR(tip_stiffness_n_m(sample_tooth()), 3796.296296, 1e-6);
  EXPECT_NEAR(found.force_n, 2.277777778, 1e-9);
  EXPECT_NEAR(found.energy_j, 0.6833333333e-3, 1e-13);
  EXPECT_NEAR(found.root_stress_pa, 205e6, 1.0);
}

// Shear adds F L / (k G A) to the deflection, a soft root F L^2 / K and F / k (text-book).
TEST(StaticLift, CountsShearAndTheRoot) {
  Tooth tooth = sample_tooth(Theory::thick);
  tooth.root = {.turning_n_m = 40.0, .shifting_n_m = 5e6};
  const double shear = 5.0 / 6.0 * 205e9 / (2.0 * 1.29) * 2e-6;
  const double compliance = 1.0 / 3796.2962962963 + 0.03 / shear + 0.03 * 0.03 / 40.0 + 1.0 / 5e6;
  EXPECT_NEAR(tip_stiffness_n_m(tooth), 1.0 / compliance, 1e-6);
}

// h = h0 (1 - q x / L), force at the tip: the integral of (L - x)^2 / E I is
// L^3 / (E I0 q^3) [q - ln ... ] in closed form; here q = 1/2 gives 8 ln 2 - 5.
TEST(StaticLift, OfATaperedToothFollowsItsIntegral) {
  Tooth tooth = sample_tooth();
  tooth.sections[0].tip_thickness_m = 0.0005;
  const double compliance = (8.0 * std::numbers::ln2 - 5.0) / (3796.2962962963 / 3.0);
  EXPECT_NEAR(tip_stiffness_n_m(tooth), 1.0 / compliance, 1e-6);
}

// Modal amplitudes over the lift, 3 / (l^4 M / m).
TEST(Release, SharesTheLiftAmongTheModes) {
  const std::array<double, 5> bare{0.97068818, 0.024715829, 0.003152464, 0.00082094654,
                                   0.00030042185};
  const std::array<double, 5> half{0.99696482, 0.0028832733, 0.00013021095, 1.6455021e-5,
                                   3.5231061e-6};
  const std::array<double, 5> whole{0.99893238, 0.0010222252, 3.9320554e-5, 4.6551677e-6,
                                    9.6465529e-7};
  for (const auto& [ratio, shares] : {std::pair{0.0, bare}, {0.5, half}, {1.0, whole}}) {
    const Pluck found = pluck(with_tip_mass(ratio), lifted_m, 5);
    for (std::size_t n = 0; n < 5; ++n)
      EXPECT_NEAR(found.modes[n].amplitude_m / lifted_m, shares[n], 1e-8 * shares[0])
          << ratio << " " << n;
  }
}

// Root moment and shear force of each mode of a bare bar, over E I d / L^2 and E I d / L^3.
TEST(Release, GivesEachModeItsMomentAndShearAtTheRoot) {
  const std::array<double, 5> moments{3.4129545, -0.54460072, 0.19449825, -0.09925401, 0.060042171};
  const std::array<double, 5> forces{-4.6979505, 2.6036154, -1.5265518, 1.0913881, -0.84882505};
  const Pluck found = pluck(sample_tooth(), lifted_m);
  const std::vector<Mode> modes = steel::modes(sample_tooth(), 5);
  const double static_stress = found.root_stress_pa / 3.0;
  const double unit = 205e9 * 2e-6 * 1e-6 / 12.0 / std::pow(0.03, 3.0);
  for (std::size_t n = 0; n < 5; ++n) {
    EXPECT_NEAR(found.modes[n].root_stress_pa / static_stress, moments[n], 1e-7);
    EXPECT_NEAR(modes[n].root_force_n_m * modes[n].release_share / unit, -forces[n], 1e-7);
  }
}

// Ten undamped modes over 50 swings of the first: 1.425, 1.129 and 1.074 times the static moment
// for a mass at the tip of 0, 0.5 and 1 times the bar's.
TEST(Release, StressesTheRootMoreThanTheLiftDid) {
  for (const auto& [ratio, peak, reached] :
       {std::array{0.0, 1.425, 0.96}, {0.5, 1.129, 0.99}, {1.0, 1.074, 0.99}}) {
    const Pluck found = pluck(with_tip_mass(ratio), lifted_m);
    const double period = 1.0 / found.modes[0].frequency_hz;
    const int steps = static_cast<int>(50.0 * 16.0 * found.modes[9].frequency_hz * period);
    std::vector<std::complex<double>> swing;
    std::vector<std::complex<double>> turn;
    for (const PluckedMode& mode : found.modes) {
      swing.emplace_back(mode.root_stress_pa);
      turn.push_back(
          std::polar(1.0, 2.0 * std::numbers::pi * mode.frequency_hz * 50.0 * period / steps));
    }
    double greatest = 0.0;
    for (int i = 0; i < steps; ++i) {
      double sum = 0.0;
      for (std::size_t n = 0; n < swing.size(); ++n) {
        sum += swing[n].real();
        swing[n] *= turn[n];
      }
      greatest = std::max(greatest, std::abs(sum));
    }
    EXPECT_NEAR(greatest / found.root_stress_pa, peak, 2e-3);
    EXPECT_LE(greatest, found.peak_root_stress_pa);
    EXPECT_GT(greatest, reached * found.peak_root_stress_pa);
  }
}

// Steel of 1700 MPa with an endurance limit of 700 MPa: a pull of 0 to 307.5 MPa, and ringing
// between -307.5 and 307.5 MPa.
TEST(Goodman, WeighsSwingAndMeanStress) {
  EXPECT_NEAR(goodman_factor(0.0, 307.5e6, 700e6, 1700e6), 3.224932, 1e-6);
  EXPECT_NEAR(goodman_factor(-307.5e6, 307.5e6, 700e6, 1700e6), 2.276423, 1e-6);
  EXPECT_NEAR(goodman_factor(-615e6, 0.0, 700e6, 1700e6), 2.276423, 1e-6);
}

// Shigley, ch. 6: Se' = 0.5 Rm up to 700 MPa; ka = 1.58 Rm^-0.085 ground, 4.51 Rm^-0.265 machined.
TEST(EnduranceLimit, FollowsShigley) {
  EXPECT_NEAR(endurance_limit_pa(1340e6, Finish::ground),
              0.5 * 1340e6 * 1.58 * std::pow(1340.0, -0.085), 1.0);
  EXPECT_NEAR(endurance_limit_pa(2000e6, Finish::machined), 700e6 * 4.51 * std::pow(2000.0, -0.265),
              1.0);
  EXPECT_NEAR(endurance_limit_pa(100e6, Finish::ground), 50e6, 1.0);
}

}  // namespace
}  // namespace combwright::steel
