// SPDX-License-Identifier: Apache-2.0
#include "steel/readings_reader.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "box/target.h"
#include "music/pitch.h"

namespace combwright::steel {
namespace {

constexpr std::size_t most_cells = 100;

using Cells = std::vector<std::string>;

// The cells of one line: quoted ones keep their commas, and two quotes in them are one.
Cells cells_of(std::string_view line, const Place& place) {
  Cells cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char letter = line[i];
    if (letter == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back() += letter;
      ++i;
    } else if (letter == '"') {
      quoted = !quoted;
    } else if (letter == ',' && !quoted) {
      if (cells.size() == most_cells) throw Error(place, "has over 100 columns");
      cells.emplace_back();
    } else {
      cells.back() += letter;
    }
  }
  if (quoted) throw Error(place, "a quote is opened and not closed");
  for (std::string& cell : cells) cell = std::string(trimmed(cell));
  return cells;
}

struct Columns {
  std::size_t comb = 0;
  std::size_t track = 0;
  std::size_t frequency = 0;
  std::optional<std::size_t> error;
};

Columns columns_of(const Cells& heads, const Place& place) {
  const auto find = [&](const char* name) -> std::optional<std::size_t> {
    const auto found = std::find(heads.begin(), heads.end(), name);
    if (found == heads.end()) return std::nullopt;
    return static_cast<std::size_t>(found - heads.begin());
  };
  const auto need = [&](const char* name) {
    const auto found = find(name);
    if (!found)
      throw Error(place, fmt::format("has no column {}; the first line must name the columns: comb,"
                                     "track,frequency_hz",
                                     name));
    return *found;
  };
  return {need("comb"), need("track"), need("frequency_hz"), find("stderr_hz")};
}

template <typename Number>
Number number_of(const std::string& cell, const char* column, const Place& place) {
  Number value{};
  const auto [end, problem] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (problem != std::errc{} || end != cell.data() + cell.size())
    throw Error(place, fmt::format("{} is \"{}\"; write a number", column, cell.substr(0, 40)));
  return value;
}

std::size_t comb_of(const box::Box& box, const std::string& cell, const Place& place) {
  std::string names;
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    if (box.combs[i].name == cell) return i;
    names += (names.empty() ? "\"" : "\" or \"") + box.combs[i].name;
  }
  throw Error(place, fmt::format("comb is \"{}\"; the box has {}\"", cell.substr(0, 40), names));
}

void check_pitch(const box::Box& box, const PitchReading& reading, const Place& place) {
  const double target =
      box::target_hz(box, box.combs[reading.comb], box::tracks(box)[reading.tooth].midi);
  const double hz = reading.frequency_hz;
  if (!(hz > 0.5 * target && hz < 2.0 * target))
    throw Error(place, fmt::format("frequency_hz is {:.6g}, over an octave from the tooth's {:.6g}",
                                   hz, target));
  if (!(reading.stderr_hz >= 0.0 && reading.stderr_hz < hz))
    throw Error(place, fmt::format("stderr_hz is {:.6g}; it must be 0 or more, and less than "
                                   "frequency_hz",
                                   reading.stderr_hz));
}

PitchReading reading_of(const box::Box& box, const Cells& cells, const Columns& columns,
                        const Place& place) {
  PitchReading reading;
  reading.comb = comb_of(box, cells[columns.comb], place);
  const int track = number_of<int>(cells[columns.track], "track", place);
  if (track < 1 || track > box.tracks.count)
    throw Error(place, fmt::format("track is {}; the box has 1 to {}", track, box.tracks.count));
  reading.tooth = static_cast<std::size_t>(track - 1);
  reading.frequency_hz = number_of<double>(cells[columns.frequency], "frequency_hz", place);
  if (columns.error && !cells[*columns.error].empty())
    reading.stderr_hz = number_of<double>(cells[*columns.error], "stderr_hz", place);
  check_pitch(box, reading, place);
  return reading;
}

}  // namespace

std::vector<PitchReading> read_pitches(std::string_view text, const std::string& name,
                                       const box::Box& box) {
  std::vector<PitchReading> readings;
  std::vector<std::vector<bool>> seen(
      box.combs.size(), std::vector<bool>(static_cast<std::size_t>(box.tracks.count)));
  std::optional<Columns> columns;
  std::size_t width = 0;
  for (Place place{.file = name, .line = 1}; !text.empty(); ++*place.line) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    if (line.empty()) continue;
    const Cells cells = cells_of(line, place);
    if (!columns) {
      columns = columns_of(cells, place);
      width = cells.size();
      continue;
    }
    if (cells.size() != width)
      throw Error(place, fmt::format("has {} cells; the first line has {}", cells.size(), width));
    const PitchReading reading = reading_of(box, cells, *columns, place);
    if (seen[reading.comb][reading.tooth])
      throw Error(place, fmt::format("track {} stands here a second time", reading.tooth + 1));
    seen[reading.comb][reading.tooth] = true;
    readings.push_back(reading);
  }
  if (readings.empty())
    throw Error({.file = name},
                "holds no reading; write a line comb,track,frequency_hz, then one "
                "for each tooth");
  return readings;
}

}  // namespace combwright::steel
