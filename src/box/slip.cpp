// SPDX-License-Identifier: Apache-2.0
#include "box/slip.h"

#include <algorithm>
#include <cctype>
#include <vector>

#include <fmt/format.h>

#include "base/text.h"

namespace combwright::box {
namespace {

constexpr auto none = std::string_view::npos;
constexpr const char* comment_mark = "a comment begins with #, not with //";
constexpr const char* straight_quotes = "quotes must be straight ones: \"";

bool is_word(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-';
}

std::string_view leading_word(std::string_view text) {
  const auto* const end = std::find_if_not(text.begin(), text.end(), is_word);
  return text.substr(0, static_cast<std::size_t>(end - text.begin()));
}

// One line as far as quotes and brackets tell: `code` ends before the comment.
struct TomlLine {
  std::string_view code;
  std::size_t equals = none;       // the first outside quotes
  std::size_t open_quote = none;   // of a text that does not end on the line
  std::vector<std::size_t> opens;  // brackets not closed on the line
  std::size_t closes = 0;          // brackets that close others from lines before
};

TomlLine scan(std::string_view text) {
  TomlLine line{.code = text};
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (line.open_quote != none) {
      if (c == '\\' && text[line.open_quote] == '"') ++i;
      if (c == text[line.open_quote]) line.open_quote = none;
    } else if (c == '#') {
      line.code = text.substr(0, i);
      break;
    } else if (c == '"' || c == '\'') {
      line.open_quote = i;
    } else if (c == '=' && line.equals == none) {
      line.equals = i;
    } else if (c == '[') {
      line.opens.push_back(i);
    } else if (c == ']' && !line.opens.empty()) {
      line.opens.pop_back();
    } else if (c == ']') {
      ++line.closes;
    }
  }
  return line;
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    lines.push_back(text.substr(start, end - start));
    start = end + 1;
  }
  return lines;
}

std::size_t column_of(std::string_view line, std::size_t byte) {
  return 1 + letters(line.substr(0, byte));
}

bool can_be_shown(std::string_view value) {
  constexpr std::size_t longest = 60;
  return value.size() <= longest &&
         std::all_of(value.begin(), value.end(), [](char c) { return c >= ' ' && c <= '~'; });
}

// "; write pitch = "2 mm"", or nothing if the value is not fit to be shown.
std::string write(std::string_view key, std::string_view value) {
  if (!can_be_shown(value)) return {};
  return fmt::format("; write {} = {}", key, value);
}

std::string in_quotes(std::string_view value) {
  std::string text(value);
  std::erase(text, '"');
  std::erase(text, '\'');
  return fmt::format("\"{}\"", text);
}

bool has_curly_quote(std::string_view code) {
  for (const char* quote : {"\u201c", "\u201d", "\u201e", "\u2018", "\u2019", "\u00ab", "\u00bb"})
    if (code.find(quote) != none) return true;
  return false;
}

// Where the digits of "-12.5 mm" end.
std::size_t end_of_number(std::string_view value) {
  std::size_t at = !value.empty() && (value[0] == '-' || value[0] == '+') ? 1 : 0;
  while (at < value.size() && (is_digit(value[at]) || value[at] == '.')) ++at;
  return at;
}

std::string slip_of_number(std::string_view key, std::string_view value) {
  std::string text(value);
  const std::size_t end = end_of_number(value);
  std::string_view unit = trimmed(value.substr(end));
  if (end < value.size() && value[end] == ',' && end + 1 < value.size() &&
      is_digit(value[end + 1])) {
    text[end] = '.';
    unit = trimmed(std::string_view(text).substr(end_of_number(text)));
    return "a decimal comma stands here; it must be a point" +
           write(key, unit.empty() ? text : in_quotes(text));
  }
  if (unit == "\"") return "a unit is missing" + write(key, in_quotes(text.substr(0, end) + " in"));
  if (unit.starts_with("//")) return comment_mark;
  if (!unit.empty() && std::all_of(unit.begin(), unit.end(),
                                   [](char c) { return is_digit(c) || c == ' ' || c == '_'; })) {
    std::erase(text, ' ');
    return "a number is written without blanks" + write(key, text);
  }
  if (!unit.empty()) return "a number with its unit stands in quotes" + write(key, in_quotes(text));
  if (text.front() == '.') return "a digit is missing before the point" + write(key, "0" + text);
  if (text.back() == '.') return "a digit is missing after the point" + write(key, text + "0");
  return {};
}

// Of the items of a list, on one of its lines.
std::string slip_of_items(const TomlLine& line) {
  if (line.open_quote != none) return "a quote is missing here; every text has two";
  if (std::none_of(line.code.begin(), line.code.end(), is_word)) return {};
  if (line.code.find_first_of("\"'") == none)
    return "what stands in a list needs quotes, unless it is a plain number";
  return "a comma is missing between two items of a list";
}

std::string slip_of_value(std::string_view key, std::string_view value) {
  if (value.empty()) return fmt::format("{} has no value; write one after the =", key);
  const TomlLine line = scan(value);
  if (value.front() == '[') {
    return slip_of_items(line);
  }
  if (line.equals != none)
    return "two keys stand on one line; begin a new line for the second, or a quote is missing";
  if (is_digit(value.front()) || value.front() == '-' || value.front() == '+' ||
      value.front() == '.')
    if (std::string slip = slip_of_number(key, value); !slip.empty()) return slip;
  if (line.open_quote != none) return "a quote is missing" + write(key, in_quotes(value));
  if (std::isalpha(static_cast<unsigned char>(value.front())) != 0)
    return "text stands in quotes" + write(key, in_quotes(value));
  if (value.front() == '"' && value.find('\\') != none)
    return "a backslash can't stand in double quotes; write the text in single quotes";
  if (value.front() == '"' || value.front() == '\'')
    return "only a comment, beginning with #, can follow the closing quote";
  return {};
}

std::string slip_of_section(std::string_view code) {
  const std::string_view brackets = code.starts_with("[[") ? "[[" : "[";
  const std::string_view rest = trimmed(code.substr(brackets.size()));
  std::string_view name = leading_word(rest);
  if (name.empty()) name = "disc";
  const bool twice = brackets == "[[";
  return fmt::format("a section stands in brackets on a line of its own; write {}{}{}", brackets,
                     name, twice ? "]]" : "]");
}

std::string slip_without_equals(std::string_view code, const TomlLine& line) {
  if (line.open_quote != none) return "a quote is missing; every text has two";
  const std::string_view key = leading_word(code);
  std::string_view value = trimmed(code.substr(key.size()));
  const bool colon = value.starts_with(':');
  if (colon) value = trimmed(value.substr(1));
  const std::string_view what = colon ? "a colon stands where = is due" : "the = is missing";
  if (key.empty()) return {};
  if (value.empty())
    return fmt::format("\"{}\" has no = and no value; write [{}] if it is a section", key, key);
  const bool plain = value.front() == '"' || value.front() == '\'' || value.front() == '[' ||
                     end_of_number(value) == value.size();
  return std::string(what) + write(key, plain ? std::string(value) : in_quotes(value));
}

// Of a line that begins with a key, or should.
Slip slip_of_entry(const TomlLine& line, std::size_t number) {
  const std::size_t start = line.code.find_first_not_of(" \t\r");
  const std::string_view code = trimmed(line.code);
  const auto at = [&](std::size_t byte, std::string message) {
    return Slip{number, column_of(line.code, byte), std::move(message)};
  };
  if (code.starts_with("//")) return at(start, comment_mark);
  if (has_curly_quote(line.code)) return at(start, straight_quotes);
  if (code.front() == '[') return at(start, slip_of_section(code));
  if (line.equals == none) return at(start, slip_without_equals(code, line));
  const std::string_view key = trimmed(line.code.substr(0, line.equals));
  if (key.empty()) return at(start, "the key before the = is missing");
  if (leading_word(key) != key && can_be_shown(key) && key.find_first_of("\"'.") == none) {
    std::string joined(key);
    std::replace_if(
        joined.begin(), joined.end(), [](char c) { return !is_word(c); }, '_');
    return at(start, fmt::format("a key is one word; write {}", joined));
  }
  const std::string_view value = trimmed(line.code.substr(line.equals + 1));
  const std::size_t place =
      value.empty() ? line.equals : static_cast<std::size_t>(value.data() - line.code.data());
  return at(place, slip_of_value(key, value));
}

struct OpenList {
  std::size_t line = 0;
  std::size_t column = 0;
};

// The innermost list still open after the first `count` lines.
std::optional<OpenList> open_list(const std::vector<std::string_view>& lines, std::size_t count) {
  std::vector<OpenList> open;
  for (std::size_t i = 0; i < count; ++i) {
    const TomlLine line = scan(lines[i]);
    open.resize(open.size() - std::min(open.size(), line.closes));
    if (open.empty() && line.equals == none) continue;  // a section's brackets
    for (const std::size_t byte : line.opens) open.push_back({i + 1, column_of(lines[i], byte)});
  }
  if (open.empty()) return std::nullopt;
  return open.back();
}

bool begins_section_or_key(const TomlLine& line) {
  const std::string_view code = trimmed(line.code);
  if (line.equals != none) return true;
  const std::size_t start = code.find_first_not_of("[ ");
  if (!code.starts_with('[') || start == none) return false;
  const std::string_view name = code.substr(start);
  return !leading_word(name).empty() && !is_digit(name.front());
}

Slip slip_in_list(const OpenList& list, const TomlLine& line, std::size_t number, bool at_end) {
  const bool sound = line.open_quote == none && !has_curly_quote(line.code);
  if (begins_section_or_key(line) || (at_end && sound && line.closes == 0))
    return {list.line, list.column, "the list that begins here has no end; close it with ]"};
  const std::size_t start = std::min(line.code.find_first_not_of(" \t\r"), line.code.size());
  return {number, column_of(line.code, start),
          has_curly_quote(line.code) ? straight_quotes : slip_of_items(line)};
}

}  // namespace

std::optional<Slip> find_slip(std::string_view text, std::size_t number) {
  // A text of several lines hides what is in_quotes and what is not.
  if (text.find(R"(""")") != none || text.find("'''") != none) return std::nullopt;
  const std::vector<std::string_view> lines = lines_of(text);
  if (number < 1 || number > lines.size()) return std::nullopt;
  const TomlLine line = scan(lines[number - 1]);
  const bool at_end = std::all_of(lines.begin() + static_cast<std::ptrdiff_t>(number), lines.end(),
                                  [](std::string_view l) { return trimmed(scan(l).code).empty(); });
  Slip slip;
  if (const auto list = open_list(lines, number - 1)) {
    slip = slip_in_list(*list, line, number, at_end);
  } else if (!trimmed(line.code).empty()) {
    slip = slip_of_entry(line, number);
    const auto own = open_list(lines, number);
    if (own && at_end && line.open_quote == none && !has_curly_quote(line.code))
      slip = slip_in_list(*own, TomlLine{}, number, at_end);
  }
  if (slip.message.empty()) return std::nullopt;
  return slip;
}

}  // namespace combwright::box
