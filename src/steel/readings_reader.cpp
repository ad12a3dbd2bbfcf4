// SPDX-License-Identifier: Apache-2.0
#include "steel/readings_reader.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/csv.h"
#include "base/error.h"
#include "box/target.h"

namespace combwright::steel {
namespace {

struct Columns {
  std::size_t comb = 0;
  std::size_t track = 0;
  std::size_t frequency = 0;
  std::optional<std::size_t> error;
  std::optional<std::size_t> box;
};

Columns columns_of(const CsvRow& heads) {
  if (heads.cells.size() == 1 && heads.cells[0].find_first_of(";\t") != std::string::npos)
    throw Error(heads.place,
                "has no commas; commas are wanted between the columns, not semicolons "
                "or tabs, and a point in a number");
  const auto find = [&](const char* name) -> std::optional<std::size_t> {
    const auto found = std::find(heads.cells.begin(), heads.cells.end(), name);
    if (found == heads.cells.end()) return std::nullopt;
    return static_cast<std::size_t>(found - heads.cells.begin());
  };
  const auto need = [&](const char* name) {
    const auto found = find(name);
    if (!found)
      throw Error(heads.place,
                  fmt::format("has no column {}; the first line must name the columns: "
                              "comb,track,frequency_hz",
                              name));
    return *found;
  };
  return {need("comb"), need("track"), need("frequency_hz"), find("stderr_hz"), find("box")};
}

template <typename Number>
Number number_of(const std::string& cell, const char* column, const char* due, const Place& place) {
  Number value{};
  const auto [end, problem] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (problem != std::errc{} || end != cell.data() + cell.size())
    throw Error(place, fmt::format("{} is \"{}\"; write a {}", column, cell.substr(0, 40), due));
  return value;
}

double hertz_of(const std::string& cell, const char* column, const Place& place) {
  return number_of<double>(cell, column, "number of Hz, without the unit", place);
}

// What the readings are held against.
class Teeth {
 public:
  explicit Teeth(const box::Box& box)
      : box_(box),
        tracks_(box::tracks(box)),
        seen_(box.combs.size(), std::vector<bool>(tracks_.size())) {}

  std::size_t comb(const std::string& cell, const Place& place) const {
    std::string names;
    for (std::size_t i = 0; i < box_.combs.size(); ++i) {
      if (box_.combs[i].name == cell) return i;
      names += (names.empty() ? "\"" : "\" or \"") + box_.combs[i].name;
    }
    throw Error(place, fmt::format("comb is \"{}\"; the box has {}\"", cell.substr(0, 40), names));
  }

  std::size_t tooth(const std::string& cell, const Place& place) const {
    const int track = number_of<int>(cell, "track", "whole number", place);
    if (track < 1 || track > box_.tracks.count)
      throw Error(place, fmt::format("track is {}; the box has 1 to {}", track, tracks_.size()));
    return static_cast<std::size_t>(track - 1);
  }

  double target_hz(const PitchReading& reading) const {
    return box::target_hz(box_, box_.combs[reading.comb], tracks_[reading.tooth].midi);
  }

  void check_first(const PitchReading& reading, const Place& place) {
    if (seen_[reading.comb][reading.tooth])
      throw Error(place, fmt::format("track {} stands here a second time; keep one reading of each "
                                     "tooth",
                                     reading.tooth + 1));
    seen_[reading.comb][reading.tooth] = true;
  }

 private:
  const box::Box& box_;
  std::vector<box::Track> tracks_;
  std::vector<std::vector<bool>> seen_;
};

void check_pitch(const PitchReading& reading, double target_hz, const Place& place) {
  const double hz = reading.frequency_hz;
  if (!(hz > 0.0))
    throw Error(place, fmt::format("frequency_hz is {:.6g} Hz; write a frequency above 0 Hz", hz));
  if (!(hz > 0.5 * target_hz && hz < 2.0 * target_hz))
    throw Error(place,
                fmt::format("frequency_hz is {:.6g} Hz, over an octave from the tooth's {:.6g} Hz; "
                            "look at its track",
                            hz, target_hz));
  if (!(reading.stderr_hz >= 0.0 && reading.stderr_hz < hz))
    throw Error(place, fmt::format("stderr_hz is {:.6g} Hz; it must be 0 Hz or more, and less than "
                                   "frequency_hz, {:.6g} Hz",
                                   reading.stderr_hz, hz));
}

// In small letters; empty if the cell is.
std::string checksum_of(const std::string& cell, const Place& place) {
  constexpr std::size_t sha256_letters = 64;
  std::string letters = cell;
  for (char& letter : letters)
    if (letter >= 'A' && letter <= 'F') letter = static_cast<char>(letter - 'A' + 'a');
  const bool good = letters.find_first_not_of("0123456789abcdef") == std::string::npos &&
                    letters.size() >= least_checksum_letters && letters.size() <= sha256_letters;
  if (!good && !cell.empty())
    throw Error(place,
                fmt::format("box is \"{}\"; write the first {} letters or more of the checksum "
                            "that the comb's sheet shows behind \"box file\"",
                            cell.substr(0, 40), least_checksum_letters));
  return letters;
}

PitchReading reading_of(const Teeth& teeth, const CsvRow& row, const Columns& columns) {
  const std::vector<std::string>& cells = row.cells;
  PitchReading reading;
  reading.comb = teeth.comb(cells[columns.comb], row.place);
  reading.tooth = teeth.tooth(cells[columns.track], row.place);
  reading.frequency_hz = hertz_of(cells[columns.frequency], "frequency_hz", row.place);
  if (columns.error && !cells[*columns.error].empty())
    reading.stderr_hz = hertz_of(cells[*columns.error], "stderr_hz", row.place);
  if (columns.box) reading.box = checksum_of(cells[*columns.box], row.place);
  check_pitch(reading, teeth.target_hz(reading), row.place);
  return reading;
}

}  // namespace

std::vector<PitchReading> read_pitches(std::string_view text, const std::string& name,
                                       const box::Box& box) {
  const std::vector<CsvRow> rows = read_csv(text, name);
  std::vector<PitchReading> readings;
  Teeth teeth(box);
  std::optional<Columns> columns;
  for (const CsvRow& row : rows) {
    if (!columns) {
      columns = columns_of(row);
      continue;
    }
    if (const std::size_t width = rows.front().cells.size(); row.cells.size() != width)
      throw Error(row.place,
                  fmt::format("has {} cells; the first line has {}", row.cells.size(), width));
    PitchReading reading = reading_of(teeth, row, *columns);
    teeth.check_first(reading, row.place);
    readings.push_back(std::move(reading));
  }
  if (readings.empty())
    throw Error({.file = name},
                "holds no reading; write a line comb,track,frequency_hz, then one "
                "for each tooth");
  return readings;
}

}  // namespace combwright::steel
