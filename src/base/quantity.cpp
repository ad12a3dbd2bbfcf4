// SPDX-License-Identifier: Apache-2.0
#include "base/quantity.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

namespace combwright {
namespace {

constexpr double pi = 3.141592653589793;
constexpr double never = -1.0;

// SI = number * numerator / denominator. Both are exact in a double, so that a conversion is
// rounded once or twice and "0.8 mm" is the double nearest to 0.0008.
struct Unit {
  Dimension dimension;
  std::string_view name;
  double numerator;
  double denominator;
  double shown_from;  // to_text uses the unit for magnitudes from this SI value on
};

// Factors for the inch, ounce (avoirdupois) and pound-force are the exact ones of NIST SP 811
// (2008), B.8. Within a dimension the units stand in the order in which a maker would try them.
constexpr std::array units = {
    Unit{Dimension::length, "mm", 1, 1e3, 1e-5},
    Unit{Dimension::length, "cm", 1, 1e2, never},
    Unit{Dimension::length, "m", 1, 1, 2.0},
    Unit{Dimension::length, "um", 1, 1e6, 0},
    Unit{Dimension::length, "in", 254, 1e4, never},
    Unit{Dimension::mass, "mg", 1, 1e6, 0},
    Unit{Dimension::mass, "g", 1, 1e3, 1e-3},
    Unit{Dimension::mass, "kg", 1, 1, 1},
    Unit{Dimension::mass, "oz", 28349523125, 1e12, never},
    Unit{Dimension::time, "s", 1, 1, 1},
    Unit{Dimension::time, "ms", 1, 1e3, 0},
    Unit{Dimension::time, "min", 60, 1, never},
    Unit{Dimension::frequency, "Hz", 1, 1, 0},
    Unit{Dimension::interval, "cent", 1, 1, 0},
    Unit{Dimension::angle, "deg", pi, 180, 0},
    Unit{Dimension::angle, "rad", 1, 1, never},
    Unit{Dimension::speed, "mm/s", 1, 1e3, 0},
    Unit{Dimension::speed, "m/s", 1, 1, 2},
    Unit{Dimension::acceleration, "mm/s2", 1, 1e3, 0},
    Unit{Dimension::acceleration, "m/s2", 1, 1, 1},
    Unit{Dimension::angular_speed, "deg/s", pi, 180, 0},
    Unit{Dimension::angular_speed, "rad/s", 1, 1, never},
    Unit{Dimension::angular_acceleration, "deg/s2", pi, 180, 0},
    Unit{Dimension::angular_acceleration, "rad/s2", 1, 1, never},
    Unit{Dimension::force, "N", 1, 1, 0.1},
    Unit{Dimension::force, "mN", 1, 1e3, 0},
    Unit{Dimension::force, "lbf", 44482216152605, 1e13, never},
    Unit{Dimension::stiffness, "N/m", 1, 1, 0},
    Unit{Dimension::torque, "N m", 1, 1, 0},
    Unit{Dimension::pressure, "MPa", 1e6, 1, 1e5},
    Unit{Dimension::pressure, "GPa", 1e9, 1, 1e10},
    Unit{Dimension::pressure, "Pa", 1, 1, 0},
    Unit{Dimension::density, "kg/m3", 1, 1, 0},
    Unit{Dimension::temperature, "C", 1, 1, 0},
    Unit{Dimension::ratio, "%", 1, 1e2, 0},
};

void skip_blanks(std::string_view& text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
}

void drop_trailing_blanks(std::string_view& text) {
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
}

template <typename Number>
std::optional<Number> take_number(std::string_view& text) {
  Number number{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{}) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return number;
}

// "1/32" of digits alone; leaves the text as it was if there is none.
std::optional<double> take_fraction(std::string_view& text) {
  std::string_view rest = text;
  const auto upper = take_number<unsigned>(rest);
  if (!upper || rest.empty() || rest.front() != '/') return std::nullopt;
  rest.remove_prefix(1);
  const auto lower = take_number<unsigned>(rest);
  if (!lower || *lower == 0) return std::nullopt;
  text = rest;
  return static_cast<double>(*upper) / *lower;
}

// "12", "-0.8", "1e-3", "1/32" or "1 1/2".
std::optional<double> take_value(std::string_view& text) {
  bool negative = false;
  if (!text.empty() && (text.front() == '-' || text.front() == '+')) {
    negative = text.front() == '-';
    text.remove_prefix(1);
    if (!text.empty() && text.front() == '-') return std::nullopt;
  }
  auto value = take_fraction(text);
  if (!value) {
    value = take_number<double>(text);
    std::string_view rest = text;
    skip_blanks(rest);
    if (const auto fraction = take_fraction(rest); value && fraction) {
      if (*value != std::floor(*value)) return std::nullopt;
      *value += *fraction;
      text = rest;
    }
  }
  if (value && negative) *value = -*value;
  return value;
}

// Other ways in which these units are written. Common practice, no source.
struct Spelling {
  std::string_view written;  // in small letters
  std::string_view unit;
};
constexpr std::array spellings = {
    Spelling{"\"", "in"},          Spelling{"''", "in"},
    Spelling{"inch", "in"},        Spelling{"inches", "in"},
    Spelling{"millimetre", "mm"},  Spelling{"millimeter", "mm"},
    Spelling{"\u00b5m", "um"},     Spelling{"\u03bcm", "um"},
    Spelling{"micron", "um"},      Spelling{"gram", "g"},
    Spelling{"gm", "g"},           Spelling{"sec", "s"},
    Spelling{"second", "s"},       Spelling{"msec", "ms"},
    Spelling{"minute", "min"},     Spelling{"hertz", "Hz"},
    Spelling{"cents", "cent"},     Spelling{"ct", "cent"},
    Spelling{"\u00b0", "deg"},     Spelling{"degree", "deg"},
    Spelling{"newton", "N"},       Spelling{"nm", "N m"},
    Spelling{"kg/m^3", "kg/m3"},   Spelling{"kg/m\u00b3", "kg/m3"},
    Spelling{"mm/s^2", "mm/s2"},   Spelling{"mm/s\u00b2", "mm/s2"},
    Spelling{"mm/sec", "mm/s"},    Spelling{"m/s^2", "m/s2"},
    Spelling{"m/s\u00b2", "m/s2"}, Spelling{"\u00b0c", "C"},
    Spelling{"percent", "%"},      Spelling{"per cent", "%"},
};

std::string in_small_letters(std::string_view text) {
  std::string small(text);
  for (char& c : small)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return small;
}

// The one unit of the dimension that may have been meant; empty if that can't be told.
std::string_view meant_unit(std::string_view written, Dimension dimension) {
  while (!written.empty() && written.back() == '.') written.remove_suffix(1);
  std::string small = in_small_letters(written);
  const auto spelled = [&](std::string_view word) {
    return std::find_if(spellings.begin(), spellings.end(),
                        [&](const Spelling& s) { return s.written == word; });
  };
  auto spelling = spelled(small);
  if (spelling == spellings.end() && small.ends_with('s')) {
    small.pop_back();
    spelling = spelled(small);
  }
  std::string_view meant;
  for (const Unit& unit : units) {
    if (unit.dimension != dimension) continue;
    const bool fits = spelling != spellings.end()
                          ? unit.name == spelling->unit
                          : in_small_letters(unit.name) == in_small_letters(written);
    if (!fits) continue;
    if (!meant.empty()) return {};
    meant = unit.name;
  }
  return meant;
}

ParsedQuantity problem(std::string text) {
  return {.si = 0.0, .problem = std::move(text)};
}

double four_figures(double value) {
  const std::string text = fmt::format("{:.3e}", value);
  double rounded = value;
  std::from_chars(text.data(), text.data() + text.size(), rounded);
  return rounded;
}

}  // namespace

std::string unit_list(Dimension dimension) {
  std::vector<std::string_view> names;
  for (const Unit& unit : units)
    if (unit.dimension == dimension) names.push_back(unit.name);
  const std::string_view last = names.back();
  names.pop_back();
  if (names.empty()) return std::string(last);
  return fmt::format("{} or {}", fmt::join(names, ", "), last);
}

ParsedQuantity parse_quantity(std::string_view text, Dimension dimension) {
  skip_blanks(text);
  drop_trailing_blanks(text);
  const std::string_view digits = text;
  const std::string whole(text.substr(0, 40));
  const auto value = take_value(text);
  if (!value)
    return problem(fmt::format("\"{}\" does not start with a number; write it as a number and {}",
                               whole, unit_list(dimension)));
  if (!std::isfinite(*value))
    return problem(fmt::format("\"{}\" is not a finite number; write a number of {}", whole,
                               unit_list(dimension)));
  skip_blanks(text);
  if (text.empty())
    return problem(
        fmt::format("{} is a bare number; write it with a unit: {}", whole, unit_list(dimension)));
  if (text.front() == ',')
    return problem(fmt::format("\"{}\" has a decimal comma; write a point", whole));
  for (const Unit& unit : units) {
    if (unit.dimension != dimension || unit.name != text) continue;
    const double si = *value * unit.numerator / unit.denominator;
    if (std::isfinite(si)) return {.si = si, .problem = {}};
    return problem(fmt::format("\"{}\" is too large; write a number that fits", whole));
  }
  if (const std::string_view meant = meant_unit(text, dimension); !meant.empty()) {
    const std::string_view number(digits.data(),
                                  static_cast<std::size_t>(text.data() - digits.data()));
    return problem(fmt::format(R"("{}" has a unit written another way; write "{} {}")", whole,
                               number.substr(0, number.find_last_not_of(" \t") + 1), meant));
  }
  return problem(
      fmt::format("\"{}\" has a unit that does not fit here; use {}", whole, unit_list(dimension)));
}

std::string to_text(double si, Dimension dimension) {
  const Unit* best = nullptr;
  const double magnitude = std::fabs(four_figures(si));
  for (const Unit& unit : units) {
    if (unit.dimension != dimension || unit.shown_from == never || unit.shown_from > magnitude)
      continue;
    if (best == nullptr || unit.shown_from > best->shown_from) best = &unit;
  }
  assert(best != nullptr);
  // Zero is written in the first unit of its dimension: "0 mm", not "0 um".
  if (si == 0.0)
    for (const Unit& unit : units)
      if (unit.dimension == dimension) return fmt::format("0 {}", unit.name);
  return fmt::format("{} {}", four_figures(si / best->numerator * best->denominator), best->name);
}

std::string interval_text(double seconds, int decimals) {
  // What would round to 1000 ms is a second.
  const double half_step_s = 5e-4 * std::pow(10.0, -decimals);
  if (std::fabs(seconds) >= 1.0 - half_step_s)
    return to_text(std::round(seconds * 1e3) / 1e3, Dimension::time);
  return fmt::format("{:.{}f} ms", seconds * 1e3, decimals);
}

}  // namespace combwright
