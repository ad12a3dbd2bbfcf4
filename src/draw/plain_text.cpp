// SPDX-License-Identifier: Apache-2.0
#include "draw/plain_text.h"

#include <algorithm>
#include <memory>

#include <glib.h>

namespace combwright::draw {
namespace {

using GText = std::unique_ptr<char, decltype(&g_free)>;

// A name is cut to its first kilobytes before anything walks over it.
constexpr std::size_t most_bytes = 4096;

void append_letter(std::string& to, gunichar letter) {
  char bytes[6];
  to.append(bytes, static_cast<std::size_t>(g_unichar_to_utf8(letter, bytes)));
}

bool is_space(gunichar letter) {
  return g_unichar_isspace(letter) != 0 || g_unichar_type(letter) == G_UNICODE_CONTROL ||
         g_unichar_type(letter) == G_UNICODE_LINE_SEPARATOR ||
         g_unichar_type(letter) == G_UNICODE_PARAGRAPH_SEPARATOR;
}

bool is_invisible(gunichar letter) {
  const auto type = g_unichar_type(letter);
  return type == G_UNICODE_FORMAT || type == G_UNICODE_UNASSIGNED ||
         type == G_UNICODE_PRIVATE_USE || type == G_UNICODE_SURROGATE;
}

}  // namespace

std::u32string code_points(std::string_view utf8) {
  std::u32string letters;
  const char* end = utf8.data() + utf8.size();
  for (const char* at = utf8.data(); at < end; at = g_utf8_next_char(at)) {
    letters.push_back(g_utf8_get_char(at));
  }
  return letters;
}

std::string label(std::string_view text, std::size_t most_letters) {
  text = text.substr(0, most_bytes);
  const GText valid(g_utf8_make_valid(text.data(), static_cast<gssize>(text.size())), g_free);
  std::u32string letters;
  bool gap = false;
  for (const char32_t letter : code_points(valid.get())) {
    if (is_space(letter)) {
      gap = !letters.empty();
    } else if (!is_invisible(letter)) {
      if (gap) letters.push_back(U' ');
      gap = false;
      letters.push_back(letter);
    }
  }
  if (letters.size() > most_letters) {
    letters.resize(most_letters - 1);
    letters.push_back(U'\u2026');
  }
  std::string out;
  for (const char32_t letter : letters) append_letter(out, letter);
  return out;
}

std::string dashed(std::string_view utf8) {
  std::string out;
  while (!utf8.empty()) {
    const auto hyphens = std::min(utf8.find_first_not_of('-'), utf8.size());
    out += hyphens == 2 ? "\u2013" : utf8.substr(0, hyphens);
    utf8.remove_prefix(hyphens);
    const auto others = std::min(utf8.find('-'), utf8.size());
    out += utf8.substr(0, others);
    utf8.remove_prefix(others);
  }
  return out;
}

std::string ascii(std::string_view text, std::size_t most_letters) {
  const auto line = label(text, most_letters);
  const GText plain(g_str_to_ascii(line.c_str(), "C"), g_free);
  return plain.get();
}

}  // namespace combwright::draw
