// SPDX-License-Identifier: Apache-2.0
#include "app/arrange_options.h"

#include <charconv>
#include <optional>
#include <string_view>
#include <system_error>

#include <fmt/format.h>

#include "base/error.h"
#include "base/quantity.h"

namespace combwright::app {
namespace {

std::optional<int> whole_number(std::string_view text) {
  if (text.size() > 1 && text[0] == '+' && text[1] != '-') text.remove_prefix(1);
  int value = 0;
  const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (problem != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

arrange::BarRange bar_range(const std::string& text) {
  const std::size_t dash = text.find('-');
  if (dash != std::string::npos) {
    const auto first = whole_number(std::string_view(text).substr(0, dash));
    const auto last = whole_number(std::string_view(text).substr(dash + 1));
    if (first && last && *first >= 1 && *last >= *first) return {*first, *last};
  }
  throw Error({}, fmt::format("--bars {} is no range of bars; write FIRST-LAST counted from 1 as "
                              "played, such as --bars 1-16",
                              text));
}

int transposition(const std::string& text) {
  const auto semitones = whole_number(text);
  if (semitones && *semitones >= -127 && *semitones <= 127) return *semitones;
  throw Error({}, fmt::format("--transpose {} is no number of semitones; write a whole number such "
                              "as --transpose -3",
                              text));
}

double tempo_factor(const std::string& text) {
  const ParsedQuantity tempo = parse_quantity(text, Dimension::ratio);
  if (!tempo.ok()) throw Error({}, fmt::format("--tempo: {}", tempo.problem));
  if (tempo.si > 0.0) return tempo.si;
  throw Error({}, fmt::format("--tempo \"{}\" is no speed; write a share of the written tempo such "
                              "as --tempo \"96 %\"",
                              text));
}

}  // namespace

void add_arrange_options(CLI::App& command, ArrangeTexts& texts) {
  command
      .add_option("--bars", texts.bars,
                  "first and last bar of the excerpt, counted from 1 as played "
                  "(default: chosen to fill the turn)")
      ->type_name("A-B");
  command.add_option("--transpose", texts.transpose, "semitones up (default: the best of all)")
      ->type_name("N");
  command
      .add_option("--tempo", texts.tempo,
                  "share of the written tempo, such as \"96 %\" (default: the best the box "
                  "allows)")
      ->type_name("F");
}

arrange::Options parsed(const ArrangeTexts& texts) {
  arrange::Options options;
  if (!texts.bars.empty()) options.bars = bar_range(texts.bars);
  if (!texts.transpose.empty()) options.transpose_semitones = transposition(texts.transpose);
  if (!texts.tempo.empty()) options.tempo_factor = tempo_factor(texts.tempo);
  return options;
}

}  // namespace combwright::app
