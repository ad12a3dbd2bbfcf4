// SPDX-License-Identifier: Apache-2.0
#include "box/stroke.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <system_error>

#include <fmt/format.h>

#include "base/text.h"

namespace combwright::box {
namespace {

struct Word {
  char letter = 0;
  double number = 0.0;
  std::string text;  // as written, without blanks, in capitals
};

struct Block {
  std::vector<Word> words;
  std::string problem;
};

// Blanks and tabs mean nothing in RS-274, small letters the same as capitals, and comments are
// taken out (NISTIR 6556, 3.3). A problem goes into `problem`.
std::string without_comments(std::string_view line, std::string& problem) {
  std::string code;
  bool in_comment = false;
  for (const char c : line) {
    if (static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) > 0x7e) {
      problem = "holds a letter that is not ASCII";
    } else if (in_comment) {
      if (c == '(') problem = "has a comment inside a comment";
      in_comment = c != ')';
    } else if (c == '(') {
      in_comment = true;
    } else if (c != ' ') {
      code += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    }
  }
  if (in_comment) problem = "has a comment without its end; close it with )";
  return code;
}

// How many letters of the text are a plain number: a sign, digits, a point.
std::size_t number_size(std::string_view text) {
  std::size_t size = !text.empty() && (text[0] == '+' || text[0] == '-') ? 1 : 0;
  std::size_t digits = 0;
  bool point = false;
  for (; size < text.size() && (is_digit(text[size]) || (text[size] == '.' && !point)); ++size) {
    if (is_digit(text[size]))
      ++digits;
    else
      point = true;
  }
  return digits > 0 ? size : 0;
}

double number_of(std::string_view text) {
  if (text.starts_with('+')) text.remove_prefix(1);
  double number = 0.0;
  const auto result = std::from_chars(text.data(), text.data() + text.size(), number);
  // Too large or too small for a double, and so for any code.
  return result.ec == std::errc{} ? number : std::numeric_limits<double>::infinity();
}

Block parse(std::string_view line) {
  constexpr std::string_view letters = "ABCDFGHIJKLMNPQRSTXYZ";  // table 3
  Block result;
  const std::string code = without_comments(line, result.problem);
  std::string_view rest = code;
  while (!rest.empty() && result.problem.empty()) {
    if (letters.find(rest[0]) == std::string_view::npos) {
      result.problem = fmt::format(
          "holds \"{}\", which is no word of RS-274; write words as G4 P0.1", rest.substr(0, 20));
      break;
    }
    const std::size_t size = number_size(rest.substr(1));
    if (size == 0) {
      result.problem = fmt::format("has {} without a plain number", rest[0]);
      break;
    }
    result.words.push_back({.letter = rest[0],
                            .number = number_of(rest.substr(1, size)),
                            .text = std::string(rest.substr(0, size + 1))});
    rest.remove_prefix(size + 1);
  }
  return result;
}

// A G code of NISTIR 6556, table 5, in tenths, with its modal group (table 4), of which one may
// stand on a line, and what it would do to the program; nothing if it may stand in a stroke.
struct GCode {
  int tenths = 0;
  int group = 0;
  std::string_view harm;
};

constexpr std::string_view sideways = "moves the slide";
constexpr std::string_view plane = "chooses another plane";
constexpr std::string_view zero = "moves the zero";
constexpr std::string_view home = "goes to a place of the machine's own";
constexpr std::string_view offset = "changes the tool's offset";

constexpr std::array<GCode, 52> g_codes = {{
    {0, 1, ""},
    {10, 1, ""},
    {20, 1, sideways},
    {30, 1, sideways},
    {40, 0, ""},
    {100, 0, zero},
    {170, 2, ""},
    {180, 2, plane},
    {190, 2, plane},
    {200, 6, "changes millimetres to inches"},
    {210, 6, ""},
    {280, 0, home},
    {300, 0, home},
    {382, 1, ""},
    {400, 7, ""},
    {410, 7, offset},
    {420, 7, offset},
    {430, 8, offset},
    {490, 8, offset},
    {530, 0, ""},
    {540, 12, zero},
    {550, 12, zero},
    {560, 12, zero},
    {570, 12, zero},
    {580, 12, zero},
    {590, 12, zero},
    {591, 12, zero},
    {592, 12, zero},
    {593, 12, zero},
    {610, 13, ""},
    {611, 13, ""},
    {640, 13, ""},
    {800, 1, ""},
    {810, 1, ""},
    {820, 1, ""},
    {830, 1, ""},
    {840, 1, ""},
    {850, 1, ""},
    {860, 1, ""},
    {870, 1, sideways},
    {880, 1, ""},
    {890, 1, ""},
    {900, 3, ""},
    {910, 3, "counts from where the tool is"},
    {920, 0, zero},
    {921, 0, zero},
    {922, 0, zero},
    {923, 0, zero},
    {930, 5, "changes what F means"},
    {940, 5, ""},
    {980, 10, ""},
    {990, 10, ""},
}};

std::optional<GCode> find_g_code(const Word& word) {
  const double tenths = word.number * 10.0;
  constexpr double as_good_as_whole = 1e-3;  // 0.0001 of a code, as the standard has it
  if (!(std::fabs(tenths) < 1e4)) return std::nullopt;
  const int nearest = static_cast<int>(std::lround(tenths));
  if (std::fabs(tenths - nearest) > as_good_as_whole) return std::nullopt;
  const auto* const found = std::find_if(g_codes.begin(), g_codes.end(),
                                         [&](const GCode& code) { return code.tenths == nearest; });
  if (found == g_codes.end()) return std::nullopt;
  return *found;
}

std::string_view harm_of_m(int code) {
  switch (code) {
    case 2:
    case 30:
      return "ends the program";
    case 6:
      return "changes the tool";
    case 47:
    case 98:
    case 99:
      return "goes on elsewhere in the program";
    default:
      return "";
  }
}

std::string harms(const Word& word, std::string_view harm) {
  return fmt::format("has {}, which {}; a stroke must leave that to the program", word.text, harm);
}

std::string letter_problem(const Word& word) {
  switch (word.letter) {
    case 'X':
    case 'Y':
      return harms(word, sideways);
    case 'A':
    case 'B':
    case 'C':
      return harms(word, "turns the table");
    case 'N':
      return harms(word, "numbers the line, as the program numbers its hits");
    default:
      return "";
  }
}

std::string m_problem(const Word& word) {
  constexpr double greatest = 999.0;
  if (!(word.number >= 0.0 && word.number <= greatest) || word.number != std::floor(word.number))
    return fmt::format("has {}, which is no M word", word.text);
  const std::string_view harm = harm_of_m(static_cast<int>(word.number));
  return harm.empty() ? "" : harms(word, harm);
}

}  // namespace

std::string stroke_line_problem(std::string_view line) {
  const Block parsed = parse(line);
  std::map<int, const Word*> g_by_group;
  std::map<char, const Word*> by_letter;
  for (const Word& word : parsed.words) {
    if (std::string problem = letter_problem(word); !problem.empty()) return problem;
    if (word.letter == 'M') {
      if (std::string problem = m_problem(word); !problem.empty()) return problem;
    } else if (word.letter == 'G') {
      const auto code = find_g_code(word);
      if (!code) return fmt::format("has {}, which is no G word of RS-274", word.text);
      if (!code->harm.empty()) return harms(word, code->harm);
      const auto [other, is_first] = g_by_group.emplace(code->group, &word);
      if (!is_first && code->group != 0)
        return fmt::format("has {} and {} on one line; write them on two", other->second->text,
                           word.text);
    } else if (!by_letter.emplace(word.letter, &word).second) {
      return fmt::format("has two {} words; write them on two lines", word.letter);
    }
  }
  return parsed.problem;
}

std::string stroke_end_problem(const std::vector<std::string>& lines) {
  int motion = 0;  // the program comes with G0
  std::optional<double> z;
  for (const std::string& text : lines) {
    const Block line = parse(text);
    assert(line.problem.empty());
    bool machine_height = false;
    std::optional<double> to;
    std::optional<double> back_to;
    for (const Word& word : line.words) {
      if (word.letter == 'Z') to = word.number;
      if (word.letter == 'R') back_to = word.number;
      if (word.letter != 'G') continue;
      const GCode code = find_g_code(word).value_or(GCode{});
      if (code.group == 1) motion = code.tenths;
      machine_height = machine_height || code.tenths == 530;
    }
    if (!to) continue;
    // The cycles from G81 on lift the tool themselves, at least to R.
    const bool is_cycle = motion > 800;
    if (machine_height) to = std::nullopt;
    z = is_cycle ? back_to : to;
  }
  if (!z || *z > 0.0) return "";
  return fmt::format(
      "leaves the tool at Z{:g}, not above the sheet; end it with a line that lifts the tool", *z);
}

}  // namespace combwright::box
