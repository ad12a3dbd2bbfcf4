// SPDX-License-Identifier: Apache-2.0
#include "music/scl_reader.h"

#include <cmath>
#include <cstdint>
#include <optional>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "music/pitch.h"

namespace combwright::music {
namespace {

constexpr int notes = notes_in_octave;
constexpr double octave_error_cents = 0.001;

// The lines that are no comments, with their places.
class Lines {
 public:
  Lines(std::string_view text, const std::string& name) : left_(text), place_{.file = name} {
    place_.line = 0;
  }

  // The next line without the blanks around it; place() is then where it begins.
  std::optional<std::string_view> next() {
    while (!ended_) {
      const std::size_t end = left_.find('\n');
      const std::string_view line = left_.substr(0, end);
      ended_ = end == std::string_view::npos;
      left_.remove_prefix(ended_ ? left_.size() : end + 1);
      ++*place_.line;
      if (line.starts_with('!') || (ended_ && line.empty())) continue;
      const std::size_t first = line.find_first_not_of(" \t\r");
      place_.column = first == std::string_view::npos ? 1 : first + 1;
      return trimmed(line);
    }
    place_.column = std::nullopt;
    return std::nullopt;
  }

  const Place& place() const { return place_; }

 private:
  std::string_view left_;
  Place place_;
  bool ended_ = false;
};

// What stands before the first blank.
std::string_view first_word(std::string_view line) {
  return line.substr(0, line.find_first_of(" \t"));
}

std::optional<double> cents_of_ratio(std::string_view word) {
  const std::size_t bar = word.find('/');
  const auto above = parse_number<std::uint32_t>(word.substr(0, bar));
  const auto below = bar == std::string_view::npos
                         ? std::optional<std::uint32_t>(1)
                         : parse_number<std::uint32_t>(word.substr(bar + 1));
  if (!above || !below || *above == 0 || *below == 0) return std::nullopt;
  return cents(static_cast<double>(*above) / *below);
}

std::optional<double> cents_of(std::string_view word) {
  if (word.find('.') == std::string_view::npos) return cents_of_ratio(word);
  const auto value = parse_number<double>(word);
  if (!value || !std::isfinite(*value)) return std::nullopt;
  return value;
}

std::string shown(std::string_view text) {
  return std::string(text.substr(0, 40));
}

}  // namespace

Temperament read_scl(std::string_view text, const std::string& name) {
  if (text.size() > max_scl_bytes)
    throw Error({.file = name},
                fmt::format("has {} bytes; a scale of twelve notes has far fewer", text.size()));
  Lines lines(text, name);
  if (!lines.next())
    throw Error({.file = name},
                "is empty; a scale file has a line of words, the number of notes, "
                "then the notes");
  const auto count_line = lines.next();
  const auto count = count_line ? parse_number<int>(first_word(*count_line)) : std::nullopt;
  if (!count)
    throw Error(lines.place(), "the number of notes should stand here; is this a scale file?");
  if (*count != notes)
    throw Error(lines.place(),
                fmt::format("has {} notes; a comb needs the twelve of an octave", *count));
  Temperament temperament{};
  double before = 0.0;
  for (int note = 1; note <= notes; ++note) {
    const auto line = lines.next();
    if (!line)
      throw Error(lines.place(), fmt::format("ends after {} of {} notes", note - 1, notes));
    const auto found = cents_of(first_word(*line));
    if (!found)
      throw Error(lines.place(),
                  fmt::format("\"{}\" is no note; write cents with a point, such as 701.955, or a "
                              "ratio, such as 3/2",
                              shown(*line)));
    if (*found <= before)
      throw Error(lines.place(), fmt::format("note {} is not above the one before it", note));
    before = *found;
    if (note < notes) temperament[static_cast<std::size_t>(note)] = *found;
  }
  if (std::abs(before - octave_cents) > octave_error_cents)
    throw Error(lines.place(), fmt::format("the last note is at {:.3f} cents; it must be the "
                                           "octave, 2/1",
                                           before));
  return temperament;
}

}  // namespace combwright::music
