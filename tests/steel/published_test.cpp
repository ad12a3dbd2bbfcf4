// SPDX-License-Identifier: Apache-2.0
//
// Closed forms and published tables. Where a source prints few digits, the further ones are roots
// of the same equation in 30-digit arithmetic.
#include <array>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "sample_tooth.h"
#include "steel/modes.h"
#include "steel/solver/mode_search.h"

namespace combwright::steel {
namespace {

constexpr double ten_digits = 1e-9;  // the sources' last digit

void expect_lambdas(const Tooth& tooth, const std::vector<double>& expected,
                    double relative_error = ten_digits) {
  const std::vector<double> found = lambdas(tooth, static_cast<int>(expected.size()));
  for (std::size_t k = 0; k < expected.size(); ++k)
    EXPECT_NEAR(found[k], expected[k], relative_error * expected[k]) << "mode " << k + 1;
}

// 1 + cos l cosh l = 0: W. T. Thomson, Theory of Vibration with Applications, appendix D: 1.8751,
// 4.6941, 7.8548. A strain-gauge maker's guide prints 10.99557 for the fourth: that is 3.5 pi,
// which the roots only tend to.
TEST(PlainBar, HasThePublishedModes) {
  expect_lambdas(sample_tooth(),
                 {1.875104068711961, 4.694091132974175, 7.854757438237613, 10.99554073487547,
                  14.13716839104647},
                 modes_relative_error);
  EXPECT_GT(std::abs(lambdas(sample_tooth())[3] - 3.5 * 3.141592653589793), 3e-5);
}

TEST(PlainBar, HasTheSameModesAsAShortOrALongOne) {
  for (const double slenderness : {5.0, 50.0, 500.0}) {
    Tooth tooth = plain_tooth(0.03, 0.002, 0.03 / slenderness, 0.03 / slenderness);
    tooth.theory = Theory::thin;
    expect_lambdas(tooth,
                   {1.875104068711961, 4.694091132974175, 7.854757438237613, 10.99554073487547},
                   modes_relative_error);
  }
}

struct TipMassRow {
  double ratio;
  std::array<double, 5> lambda;
  double modal_mass;  // over the bar's
};

// 1 + c ch - mu l (s ch - c sh) = 0: Swaminadham & Michael, J. Sound Vib. 66 (1979) 144; a 2017
// paper (Math. Problems in Eng., 1568019) prints l^2 = 1.557298, 16.25009, 50.89584, 105.1983,
// 179.2320 for mu = 1.
constexpr std::array<TipMassRow, 7> tip_mass_rows{
    {{0.01, {1.856786977, 4.649726483, 7.782671240, 10.89758843, 14.01486056}, 0.24940742 + 0.01},
     {0.1, {1.722741521, 4.399522816, 7.451056673, 10.52178476, 13.61418766}, 0.24566179 + 0.1},
     {0.5, {1.419964430, 4.111133386, 7.190335242, 10.29844544, 13.42100155}, 0.24017014 + 0.5},
     {1.0, {1.247917410, 4.031139437, 7.134132241, 10.25662107, 13.38775633}, 0.23834539 + 1.0},
     {2.0, {1.076195664, 3.982573288, 7.102650186, 10.23401501, 13.37012199}, 0.23715991 + 2.0},
     {5.0, {0.8700214589, 3.949980491, 7.082537603, 10.21986487, 13.35919854}, 0.23632884 + 5.0},
     {10.0,
      {0.7357819194, 3.938465833, 7.075616367, 10.21504648, 13.35549859},
      0.23602811 + 10.0}}};

TEST(MassAtTheTip, GivesThePublishedModes) {
  for (const TipMassRow& row : tip_mass_rows) {
    Tooth tooth = sample_tooth();
    tooth.leads = {{.mass_kg = row.ratio * sample_mass_kg, .center_m = 0.03}};
    expect_lambdas(tooth, {row.lambda.begin(), row.lambda.end()});
    EXPECT_NEAR(modes(tooth, 1)[0].modal_mass_kg / sample_mass_kg, row.modal_mass, 1e-8);
  }
  Tooth tooth = sample_tooth();
  tooth.leads = {{.mass_kg = sample_mass_kg, .center_m = 0.03}};
  const std::vector<double> printed{1.557298, 16.25009, 50.89584, 105.1983, 179.2320};
  const std::vector<double> found = lambdas(tooth, 5);
  for (std::size_t k = 0; k < 5; ++k)
    EXPECT_NEAR(found[k] * found[k], printed[k], 6e-7 * printed[k]);
}

// The equation kappa (1 + c ch) - l (s ch - c sh) = 0 of a root that turns is the one above with
// mu = 1 / kappa.
TEST(SoftRoot, SoundsLikeAMassAtTheTip) {
  for (const TipMassRow& row : tip_mass_rows) {
    Tooth tooth = sample_tooth();
    tooth.root.turning_n_m = root_unit_n_m(tooth) / row.ratio;
    expect_lambdas(tooth, {row.lambda.begin(), row.lambda.end()});
  }
}

TEST(SoftRoot, StiffensIntoARigidOne) {
  Tooth tooth = sample_tooth();
  tooth.root.turning_n_m = 1e4 * root_unit_n_m(tooth);
  expect_lambdas(tooth, {1.874916603});
  tooth.root.turning_n_m = 1e12 * root_unit_n_m(tooth);
  tooth.root.shifting_n_m = 1e12 * root_unit_n_m(tooth) / (0.03 * 0.03);
  expect_lambdas(tooth, {1.875104068711961}, 1e-9);
}

// A bar on a spring of the given stiffness against shifting, in E I / L^3: as the spring softens
// the first mode tends to the bar as one mass on it, l^4 = stiffness, and the second to the first
// of a bar that slides at one end: tan l + tanh l = 0 (text-book).
TEST(ShiftingRoot, SoftensIntoASlidingOne) {
  Tooth tooth = sample_tooth();
  tooth.root.shifting_n_m = 1e-4 * root_unit_n_m(tooth) / (0.03 * 0.03);
  expect_lambdas(tooth, {0.1, 2.365020372431352}, 2e-5);
}

struct OffsetRow {
  double mass;
  double inertia;
  double reach;
  std::array<double, 3> lambda;
};

// A body whose centre lies off the tip, with rotary inertia: bending moment w^2 [(J + M e^2) w' +
// M e w] and shear force -w^2 M (w + e w') at the tip; derived for a 30-digit solution and agreed
// with Hermite finite elements.
constexpr std::array<OffsetRow, 10> offset_rows{
    {{1.0, 0.001, 0.0, {1.247368280, 3.990077943, 6.915229312}},
     {1.0, 0.01, 0.0, {1.242447908, 3.638624542, 5.663001043}},
     {1.0, 0.1, 0.0, {1.195669831, 2.505060019, 4.975098438}},
     {1.0, 1.0, 0.0, {0.9316113841, 1.841350633, 4.900873154}},
     {0.5, 0.01, 0.0, {1.409796289, 3.661071146, 5.687271481}},
     {1.0, 0.0, -0.1, {1.325906144, 4.413261681, 7.759163658}},
     {1.0, 0.0, 0.1, {1.177338612, 3.680732386, 6.542275104}},
     {1.0, 0.01, 0.05, {1.206740353, 3.539800315, 5.763045723}},
     {1.0, 0.01, -0.05, {1.279998824, 3.726664597, 5.494759449}},
     {0.5, 0.002, -0.1, {1.489228091, 4.332006849, 6.631564285}}}};

TEST(BodyOffTheTip, GivesTheModesOfItsFrequencyEquation) {
  for (const OffsetRow& row : offset_rows) {
    Beam chain = beam(sample_tooth());
    chain.elements.emplace_back(Body{row.mass, row.inertia, row.reach});
    const std::vector<BeamMode> found = find_modes(chain, 3).modes;
    for (std::size_t k = 0; k < 3; ++k)
      EXPECT_NEAR(std::sqrt(found[k].angular_frequency), row.lambda[k], ten_digits * 10.0);
  }
}

// The 2017 paper named above tabulates l^2 = 1.55867, 1.571098, 1.70226 and 2.55044 for mu = 1 and
// j = 0.001, 0.01, 0.1 and 1: rising with rotary inertia, which no frequency can. Those digits come
// out with -j for j. Right are 1.55592763, 1.54367680, 1.42962634, 0.867899771.
TEST(RotaryInertia, NeverRaisesAFrequency) {
  const std::array<double, 4> wrong{1.55867, 1.571098, 1.70226, 2.55044};
  const std::array<double, 4> right{1.55592763, 1.54367680, 1.42962634, 0.867899771};
  std::vector<double> before = lambdas(sample_tooth());
  for (std::size_t i = 0; i < 4; ++i) {
    Tooth tooth = sample_tooth();
    const double inertia = std::pow(10.0, static_cast<double>(i) - 3.0);
    tooth.leads = {{.mass_kg = sample_mass_kg,
                    .center_m = 0.03,
                    .height_m = 0.03 * std::sqrt(12.0 * inertia)}};
    const std::vector<double> found = lambdas(tooth);
    EXPECT_NEAR(found[0] * found[0], right[i], 5e-9);
    EXPECT_LT(found[0] * found[0], wrong[i] - 2e-3);
    for (std::size_t k = 0; k < found.size(); ++k) EXPECT_LT(found[k], before[k]);
    before = found;
  }
}

struct InnerMassRow {
  double mass;
  double place;
  std::array<double, 3> lambda;
};

// A point mass inside the span: 4 x 4 transfer matrix in 30 digits, and Hermite finite elements.
constexpr std::array<InnerMassRow, 9> inner_mass_rows{
    {{0.1, 0.5, {1.853982282, 4.488857570, 7.854502874}},
     {0.1, 0.75, {1.801710852, 4.686690990, 7.634926654}},
     {0.1, 0.9, {1.756677618, 4.600046204, 7.825904691}},
     {0.5, 0.5, {1.778433642, 4.032716149, 7.853988635}},
     {0.5, 0.75, {1.604104837, 4.670082870, 7.222245059}},
     {0.5, 0.9, {1.491770546, 4.468115794, 7.788835705}},
     {1.0, 0.5, {1.700364195, 3.771661214, 7.853728976}},
     {1.0, 0.75, {1.458019431, 4.660748051, 7.035499234}},
     {1.0, 0.9, {1.326155588, 4.420163287, 7.776245158}}}};

TEST(MassInsideTheSpan, GivesTheModesOfTheTransferMatrix) {
  for (const InnerMassRow& row : inner_mass_rows) {
    Tooth tooth = sample_tooth();
    tooth.leads = {{.mass_kg = row.mass * sample_mass_kg, .center_m = row.place * 0.03}};
    expect_lambdas(tooth, {row.lambda.begin(), row.lambda.end()});
  }
}

struct StepRow {
  double thickness;              // of the root part over the tip part's
  double share;                  // of the length
  std::array<double, 3> lambda;  // for the tip part's section
};

// Stepped bars: transfer matrix in 30 digits, and Hermite finite elements.
constexpr std::array<StepRow, 5> step_rows{{{2.0, 0.25, {2.359926412, 5.590172390, 8.716520710}},
                                            {2.0, 0.5, {2.891762461, 5.453062561, 9.391008325}},
                                            {1.5, 0.3, {2.277655319, 5.163497989, 8.284389648}},
                                            {0.8, 0.1, {1.745166907, 4.509632936, 7.658928584}},
                                            {0.5, 0.1, {1.374349740, 4.229307713, 7.364044437}}}};

TEST(Step, GivesTheModesOfTheTransferMatrix) {
  for (const StepRow& row : step_rows) {
    Tooth tooth = sample_tooth();
    Section root = tooth.sections[0];
    Section tip = root;
    root.length_m *= row.share;
    tip.length_m *= 1.0 - row.share;
    root.root_thickness_m = root.tip_thickness_m = 0.001 * row.thickness;
    tooth.sections = {root, tip};
    const double from_root = std::sqrt(row.thickness);
    expect_lambdas(
        tooth, {row.lambda[0] / from_root, row.lambda[1] / from_root, row.lambda[2] / from_root});
  }
}

// Timoshenko's beam, clamped and free: eigenvalues of the exact equations by numerical integration,
// with k = 5/6, with Cowper's k for a Poisson's ratio of 0.29, and with rotary inertia alone.
TEST(ThickTheory, GivesThePublishedLossOfPitch) {
  const auto expect = [](const Tooth& tooth, const std::array<double, 3>& hz) {
    const std::vector<Mode> found = modes(tooth, 3);
    for (std::size_t k = 0; k < 3; ++k) EXPECT_NEAR(found[k].frequency_hz, hz[k], 1e-9 * hz[k]);
  };
  Tooth tooth = sample_tooth(Theory::thick);
  expect(tooth, {916.426247, 5713.211045, 15865.013568});
  tooth.shear_coefficient = 10.0 * 1.29 / (12.0 + 11.0 * 0.29);
  expect(tooth, {916.437661, 5713.702128, 15868.200535});
  Tooth stout = plain_tooth(0.012, 0.002, 0.0012, 0.0012);
  expect(stout, {6825.443254, 40917.270911, 107651.544243});
  stout.theory = Theory::thin;
  expect(stout, {6879.250389, 43111.526287, 120713.521942});
}

// One 3-D solution (20-node bricks, two meshes): lead 6 mm long and 4 mm high under the end of the
// sample tooth, first mode 429.93 Hz with the root's face held, which by itself is worth +4 cents.
TEST(LeadBlock, IsWithinThreeCentsOfA3dSolution) {
  Tooth tooth = sample_tooth();
  tooth.leads = {lead_block(tooth, 544.32e-6, 0.027, 0.006)};
  EXPECT_NEAR(tooth.leads[0].height_m, 0.004, 1e-12);
  EXPECT_NEAR(tooth.leads[0].offset_m, 0.0025, 1e-12);
  const auto cents_off = [](const Tooth& t) {
    return 1200.0 * std::log2(first_mode_hz(t) / 429.93);
  };
  EXPECT_NEAR(cents_off(tooth), -3.2, 0.1);
  EXPECT_NEAR(first_mode_hz(tooth), 429.1251, 1e-3);  // composite section, Hermite finite elements
  tooth.leads[0].modulus_pa = rigid;
  EXPECT_NEAR(first_mode_hz(tooth), 429.1355, 1e-4);  // rigid end, frequency equation
  tooth.leads[0].modulus_pa = 0.0;
  EXPECT_LT(cents_off(tooth), -4.5);
  tooth.leads = {{.mass_kg = 544.32e-6, .center_m = 0.03}};
  EXPECT_NEAR(cents_off(tooth), -200.6, 0.1);
}

}  // namespace
}  // namespace combwright::steel
