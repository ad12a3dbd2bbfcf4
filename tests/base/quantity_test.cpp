// SPDX-License-Identifier: Apache-2.0
#include "base/quantity.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "base/property.h"

namespace combwright {
namespace {

using D = Dimension;

double si(std::string_view text, Dimension dimension) {
  const ParsedQuantity quantity = parse_quantity(text, dimension);
  EXPECT_EQ(quantity.problem, "") << text;
  return quantity.si;
}

std::string problem(std::string_view text, Dimension dimension) {
  return parse_quantity(text, dimension).problem;
}

// NIST SP 811 (2008), appendix B.8. Bold factors there are exact: inch, pound-force, ounce
// (avoirdupois), minute. The ounce is 1/16 of the pound of 4.535 923 7 E-01 kg (exact); SP 811
// prints it rounded, 2.834 952 E-02.
TEST(Quantity, inch_ounce_pound_force_and_minute_have_the_factors_of_nist_sp_811) {
  EXPECT_EQ(si("1 in", D::length), 0.0254);
  EXPECT_EQ(si("1 oz", D::mass), 0.45359237 / 16.0);
  EXPECT_NEAR(si("1 oz", D::mass), 2.834952e-2, 0.5e-8);
  EXPECT_EQ(si("1 lbf", D::force), 4.4482216152605);
  EXPECT_NEAR(si("1 lbf", D::force), 4.448222, 0.5e-6);
  EXPECT_EQ(si("1 min", D::time), 60.0);
}

// NIST SP 811, B.8: degree (angle) 1.745 329 E-02 rad.
TEST(Quantity, degree_has_the_factor_of_nist_sp_811) {
  EXPECT_NEAR(si("1 deg", D::angle), 1.745329e-2, 0.5e-8);
  EXPECT_EQ(si("180 deg", D::angle), std::acos(-1.0));
  EXPECT_EQ(si("180 deg/s", D::angular_speed), std::acos(-1.0));
  EXPECT_EQ(si("180 deg/s2", D::angular_acceleration), std::acos(-1.0));
}

// SI prefixes (the SI Brochure, 9th edition, table 7).
TEST(Quantity, prefixed_units_are_the_nearest_double) {
  EXPECT_EQ(si("0.8 mm", D::length), 0.0008);
  EXPECT_EQ(si("4.2 cm", D::length), 0.042);
  EXPECT_EQ(si("6.1 m", D::length), 6.1);
  EXPECT_EQ(si("7 um", D::length), 7e-6);
  EXPECT_EQ(si("3 mg", D::mass), 3e-6);
  EXPECT_EQ(si("1.5 g", D::mass), 0.0015);
  EXPECT_EQ(si("2 kg", D::mass), 2.0);
  EXPECT_EQ(si("80 ms", D::time), 0.08);
  EXPECT_EQ(si("70 s", D::time), 70.0);
  EXPECT_EQ(si("12 mN", D::force), 0.012);
  EXPECT_EQ(si("0.9 N", D::force), 0.9);
  EXPECT_EQ(si("1400 MPa", D::pressure), 1.4e9);
  EXPECT_EQ(si("205 GPa", D::pressure), 2.05e11);
  EXPECT_EQ(si("5 Pa", D::pressure), 5.0);
  EXPECT_EQ(si("50 mm/s", D::speed), 0.05);
  EXPECT_EQ(si("500 mm/s2", D::acceleration), 0.5);
  EXPECT_EQ(si("88 %", D::ratio), 0.88);
}

TEST(Quantity, units_that_are_si_already_stay_as_they_are) {
  EXPECT_EQ(si("440 Hz", D::frequency), 440.0);
  EXPECT_EQ(si("-3 cent", D::interval), -3.0);
  EXPECT_EQ(si("0.1 rad", D::angle), 0.1);
  EXPECT_EQ(si("2 m/s", D::speed), 2.0);
  EXPECT_EQ(si("2 m/s2", D::acceleration), 2.0);
  EXPECT_EQ(si("2 rad/s", D::angular_speed), 2.0);
  EXPECT_EQ(si("2 rad/s2", D::angular_acceleration), 2.0);
  EXPECT_EQ(si("3796 N/m", D::stiffness), 3796.0);
  EXPECT_EQ(si("1.75 N m", D::torque), 1.75);
  EXPECT_EQ(si("7850 kg/m3", D::density), 7850.0);
  EXPECT_EQ(si("-5 C", D::temperature), -5.0);
}

TEST(Quantity, fractions_are_read_as_on_a_rule) {
  EXPECT_EQ(si("1/32 in", D::length), 0.00079375);
  EXPECT_EQ(si("1 1/2 in", D::length), 0.0381);
  EXPECT_EQ(si("-1 1/2 in", D::length), -0.0381);
  EXPECT_NE(problem("1.5 1/2 in", D::length), "");
  EXPECT_NE(problem("1/0 in", D::length), "");
  EXPECT_NE(problem("1/-2 in", D::length), "");
}

TEST(Quantity, blanks_and_signs_do_not_matter) {
  EXPECT_EQ(si("  0.8mm ", D::length), 0.0008);
  EXPECT_EQ(si("+12 deg", D::angle), si("12 deg", D::angle));
  EXPECT_EQ(si("1.2e-3 m", D::length), 0.0012);
}

TEST(Quantity, a_bare_number_is_told_which_units_would_do) {
  EXPECT_EQ(problem("0.8", D::length),
            "0.8 is a bare number; write it with a unit: mm, cm, m, um or in");
  EXPECT_EQ(problem("440", D::frequency), "440 is a bare number; write it with a unit: Hz");
}

TEST(Quantity, a_foreign_unit_is_told_which_units_would_do) {
  EXPECT_EQ(problem("3 kg", D::length),
            "\"3 kg\" has a unit that does not fit here; use mm, cm, m, um or in");
  EXPECT_EQ(problem("3 mm long", D::length),
            "\"3 mm long\" has a unit that does not fit here; use mm, cm, m, um or in");
  EXPECT_EQ(problem("0,8 s", D::time), "\"0,8 s\" has a decimal comma; write a point");
}

TEST(Quantity, a_unit_written_another_way_is_shown_as_it_is_written_here) {
  const auto hint = [](std::string_view text, Dimension dimension) {
    const std::string told = problem(text, dimension);
    return told.substr(std::min(told.find("; ") + 2, told.size()));
  };
  EXPECT_EQ(problem("70 sec", D::time),
            "\"70 sec\" has a unit written another way; write \"70 s\"");
  EXPECT_EQ(hint("1 1/2\"", D::length), "write \"1 1/2 in\"");
  EXPECT_EQ(hint("2 inch", D::length), "write \"2 in\"");
  EXPECT_EQ(hint("2 Inches", D::length), "write \"2 in\"");
  EXPECT_EQ(hint("3 mm.", D::length), "write \"3 mm\"");
  EXPECT_EQ(hint("3 MM", D::length), "write \"3 mm\"");
  EXPECT_EQ(hint("3 millimetres", D::length), "write \"3 mm\"");
  EXPECT_EQ(hint("7 \u00b5m", D::length), "write \"7 um\"");
  EXPECT_EQ(hint("12 \u00b0", D::angle), "write \"12 deg\"");
  EXPECT_EQ(hint("12 degrees", D::angle), "write \"12 deg\"");
  EXPECT_EQ(hint("440 hz", D::frequency), "write \"440 Hz\"");
  EXPECT_EQ(hint("3 cents", D::interval), "write \"3 cent\"");
  EXPECT_EQ(hint("95 percent", D::ratio), "write \"95 %\"");
  EXPECT_EQ(hint("7850 kg/m\u00b3", D::density), "write \"7850 kg/m3\"");
  EXPECT_EQ(hint("1400 mpa", D::pressure), "write \"1400 MPa\"");
  // Not of this dimension, or nothing that can be told.
  EXPECT_EQ(hint("70 sec", D::length), "use mm, cm, m, um or in");
  EXPECT_EQ(hint("70 .", D::time), "use s, ms or min");
}

TEST(Quantity, what_is_no_number_is_refused) {
  EXPECT_EQ(problem("", D::angle),
            "\"\" does not start with a number; write it as a number and deg or rad");
  for (const char* text : {"mm", "--1 mm", "+-1 mm", "- 1 mm", ".", "e5 mm", "0x10 mm."})
    EXPECT_NE(problem(text, D::length), "") << text;
}

TEST(Quantity, numbers_that_are_not_finite_are_refused) {
  EXPECT_EQ(problem("nan mm", D::length),
            "\"nan mm\" is not a finite number; write a number of mm, cm, m, um or in");
  for (const char* text : {"inf mm", "-inf m", "infinity m", "1e999 m", "1e400 mm"})
    EXPECT_NE(problem(text, D::length), "") << text;
  EXPECT_EQ(problem("1e308 GPa", D::pressure),
            "\"1e308 GPa\" is too large; write a number that fits");
}

TEST(Quantity, is_shown_in_the_unit_of_the_trade) {
  EXPECT_EQ(to_text(0.0008, D::length), "0.8 mm");
  EXPECT_EQ(to_text(0.42, D::length), "420 mm");
  EXPECT_EQ(to_text(6.1, D::length), "6.1 m");
  EXPECT_EQ(to_text(2e-6, D::length), "2 um");
  EXPECT_EQ(to_text(0.0, D::length), "0 mm");
  EXPECT_EQ(to_text(0.0000015, D::mass), "1.5 mg");
  EXPECT_EQ(to_text(0.0015, D::mass), "1.5 g");
  EXPECT_EQ(to_text(70.0, D::time), "70 s");
  EXPECT_EQ(to_text(0.08, D::time), "80 ms");
  EXPECT_EQ(to_text(0.20943951023931953, D::angle), "12 deg");
  EXPECT_EQ(to_text(2.05e11, D::pressure), "205 GPa");
  EXPECT_EQ(to_text(1.4e9, D::pressure), "1400 MPa");
  EXPECT_EQ(to_text(7850.0, D::density), "7850 kg/m3");
  EXPECT_EQ(to_text(12345.6, D::stiffness), "12350 N/m");
  EXPECT_EQ(to_text(-0.03, D::force), "-30 mN");
  EXPECT_EQ(to_text(1.75, D::torque), "1.75 N m");
  EXPECT_EQ(to_text(0.88, D::ratio), "88 %");
}

TEST(Quantity, shown_text_is_read_back_to_four_figures) {
  const bool good = holds([] {
    const auto dimension =
        static_cast<Dimension>(*rc::gen::inRange(0, static_cast<int>(D::ratio) + 1));
    const double mantissa = *rc::gen::inRange(10000, 100000) / 10000.0;
    const double value = mantissa * std::pow(10.0, *rc::gen::inRange(-12, 13)) *
                         (*rc::gen::arbitrary<bool>() ? 1.0 : -1.0);
    const std::string text = to_text(value, dimension);
    const ParsedQuantity back = parse_quantity(text, dimension);
    RC_LOG() << text << ": " << back.problem;
    RC_ASSERT(back.ok());
    // Four figures: at most half a unit of the fourth, 5e-4 of the value where it begins with 1.
    RC_ASSERT(std::fabs(back.si - value) <= 5.001e-4 * std::fabs(value));
    RC_ASSERT(to_text(back.si, dimension) == text);
  });
  EXPECT_TRUE(good);
}

TEST(Quantity, any_text_is_a_finite_quantity_or_a_problem) {
  const bool good = holds([](const std::string& text) {
    for (int d = 0; d <= static_cast<int>(D::ratio); ++d) {
      const ParsedQuantity quantity = parse_quantity(text, static_cast<Dimension>(d));
      RC_ASSERT((quantity.ok() ? std::isfinite(quantity.si) : quantity.si == 0.0));
    }
  });
  EXPECT_TRUE(good);
}

TEST(Intervals, AreSaidInSecondsFromASecondOn) {
  EXPECT_EQ(interval_text(0.3904), "390 ms");
  EXPECT_EQ(interval_text(0.19714, 1), "197.1 ms");
  EXPECT_EQ(interval_text(0.9994), "999 ms");
  EXPECT_EQ(interval_text(0.9996), "1 s");
  EXPECT_EQ(interval_text(1.25), "1.25 s");
  EXPECT_EQ(interval_text(34.00004), "34 s");
}

}  // namespace
}  // namespace combwright
