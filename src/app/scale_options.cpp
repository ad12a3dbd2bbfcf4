// SPDX-License-Identifier: Apache-2.0
#include "app/scale_options.h"

#include <optional>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

std::optional<int> count_option(const char* name, const std::string& text) {
  if (text.empty()) return std::nullopt;
  const std::optional<int> count = parse_number<int>(text);
  if (!count)
    throw Error({}, fmt::format("{} {} is no count; write a whole number, such as {} 40", name,
                                text, name));
  return count;
}

std::optional<int> note_option(const char* name, const std::string& text) {
  if (text.empty()) return std::nullopt;
  const std::optional<int> midi = music::parse_note(text);
  if (!midi)
    throw Error({}, fmt::format("{} {} is no note; write it as C4, F#5 or Eb3", name, text));
  return midi;
}

}  // namespace

arrange::ScaleOptions parsed(const ScaleTexts& texts) {
  return {.teeth = count_option("--teeth", texts.teeth),
          .lowest_midi = note_option("--lowest", texts.lowest),
          .highest_midi = note_option("--highest", texts.highest)};
}

}  // namespace combwright::app
