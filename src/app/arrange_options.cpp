// SPDX-License-Identifier: Apache-2.0
#include "app/arrange_options.h"

#include <cmath>
#include <optional>
#include <sstream>
#include <string_view>

#include <fmt/format.h>

#include "base/error.h"
#include "base/quantity.h"
#include "base/text.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

std::optional<int> whole_number(std::string_view text) {
  if (text.size() > 1 && text[0] == '+' && text[1] != '-') text.remove_prefix(1);
  return parse_number<int>(text);
}

[[noreturn]] void refuse_bars(const std::string& text, const std::string& problem,
                              const std::string& remedy) {
  throw Error({}, fmt::format("--bars {} {}; write {}", text, problem, remedy));
}

arrange::BarRange bar_range(const std::string& text) {
  const std::string_view all = text;
  const std::size_t dash = text.find('-');
  const auto first = whole_number(all.substr(0, dash));
  if (first && dash == std::string::npos)
    refuse_bars(text, "names one bar", fmt::format("--bars {0}-{0} for that bar alone", *first));
  if (first && dash + 1 == text.size()) {
    refuse_bars(text, "has no last bar",
                fmt::format("the last bar too, such as --bars {}-{}", *first,
                            static_cast<long long>(*first) + 15));
  }
  const auto last = first ? whole_number(all.substr(dash + 1)) : std::nullopt;
  if (!first || !last)
    refuse_bars(text, "is no range of bars",
                "FIRST-LAST counted from 1 as played, such as --bars 1-16");
  if (*first < 1 || *last < 1)
    refuse_bars(text, "begins before the first bar",
                "FIRST-LAST counted from 1 as played, such as --bars 1-16");
  if (*last < *first)
    refuse_bars(text, "ends before it begins", fmt::format("--bars {}-{}", *last, *first));
  return {*first, *last};
}

int transposition(const std::string& text) {
  constexpr int reach = arrange::transpose_reach_semitones;
  const auto semitones = whole_number(text);
  if (semitones && std::abs(static_cast<double>(*semitones)) <= reach) return *semitones;
  throw Error(
      {},
      fmt::format("--transpose {} {}; write a whole number of semitones from -{} to {}, "
                  "such as --transpose -3",
                  text, semitones ? "is out of reach" : "is no number of semitones", reach, reach));
}

double tempo_factor(const std::string& text) {
  const ParsedQuantity tempo = parse_quantity(text, Dimension::ratio);
  if (!tempo.ok()) throw Error({}, fmt::format("--tempo: {}", tempo.problem));
  if (tempo.si > 0.0) return tempo.si;
  throw Error({}, fmt::format("--tempo \"{}\" is no speed; write a share of the written tempo such "
                              "as --tempo \"96 %\"",
                              text));
}

int part_of(const std::string& text) {
  const auto part = whole_number(text);
  if (!part || *part < 1)
    throw Error({}, fmt::format("--melody {} is no part; write its number, from 1", text));
  return *part - 1;
}

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words;
  std::istringstream stream(text);
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

arrange::Lock lock_of(const std::string& text) {
  const auto refuse = [&](const char* why) -> Error {
    return {{},
            fmt::format("--lock \"{}\" {}; write bar, beat, note as written and kept, octave or "
                        "dropped, such as \"12 3.5 F#4 dropped\"",
                        text, why)};
  };
  const std::vector<std::string> words = words_of(text);
  if (words.size() != 4) throw refuse("is no lock");
  const auto bar = whole_number(words[0]);
  const auto beat = parse_number<double>(words[1]);
  const auto midi = music::parse_note(words[2]);
  if (!bar || !beat) throw refuse("begins with no bar and beat");
  if (!midi) throw refuse("names no note");
  for (const arrange::Fate fate :
       {arrange::Fate::kept, arrange::Fate::octave, arrange::Fate::dropped})
    if (words[3] == arrange::to_text(fate)) return {*bar, *beat, *midi, fate};
  throw refuse("says no fate");
}

}  // namespace

void add_arrange_options(CLI::App& command, ArrangeTexts& texts) {
  command
      .add_option("--bars", texts.bars,
                  "first and last bar of the excerpt, counted from 1 as played "
                  "(default: chosen to fill the turn)")
      ->type_name("A-B");
  command
      .add_option("--transpose", texts.transpose,
                  "semitones up, -24 to 24 (default: the best of all)")
      ->type_name("N");
  command
      .add_option("--tempo", texts.tempo,
                  "share of the written tempo, such as \"96 %\" (default: the best the box "
                  "allows)")
      ->type_name("F");
  command
      .add_option("--melody", texts.melody,
                  "number of the part that has the melody (default: the one that lies on top)")
      ->type_name("PART");
  command
      .add_option("--lock", texts.locks,
                  "a note's fate: bar, beat, note as written and kept, octave or dropped, such as "
                  "\"12 3.5 F#4 dropped\"; may be given again")
      ->type_name("NOTE")
      ->allow_extra_args(false);
}

arrange::Options parsed(const ArrangeTexts& texts) {
  arrange::Options options;
  if (!texts.bars.empty()) options.bars = bar_range(texts.bars);
  if (!texts.transpose.empty()) options.transpose_semitones = transposition(texts.transpose);
  if (!texts.tempo.empty()) options.tempo_factor = tempo_factor(texts.tempo);
  if (!texts.melody.empty()) options.melody_part = part_of(texts.melody);
  for (const std::string& lock : texts.locks) options.locks.push_back(lock_of(lock));
  return options;
}

}  // namespace combwright::app
