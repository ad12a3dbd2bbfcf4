// SPDX-License-Identifier: Apache-2.0
#include "tuner/reading_reader.h"

#include <algorithm>
#include <limits>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/error.h"
#include "base/reference.h"
#include "base/suggest.h"
#include "music/pitch.h"

namespace combwright::tuner {
namespace {

using Json = nlohmann::json;

constexpr int deepest = 8;
constexpr std::size_t most_values = 100 * most_readings;
constexpr double lowest_hz = 1.0;
constexpr double highest_hz = 100'000.0;
constexpr double longest_m = 1.0;
constexpr double longest_decay_s = 1'000.0;

constexpr const char* shape =
    "write a list such as [{\"frequency_hz\": 431.2}, {\"frequency_hz\": 436.9, "
    "\"clipped_length_m\": 0.0005}]";

Place place_of(std::string_view text, std::size_t bytes_read, const std::string& name) {
  const std::string_view before = text.substr(0, bytes_read == 0 ? 0 : bytes_read - 1);
  const auto lines = static_cast<std::size_t>(std::count(before.begin(), before.end(), '\n'));
  const std::size_t line_start = lines == 0 ? 0 : before.rfind('\n') + 1;
  return {.file = name, .line = lines + 1, .column = before.size() - line_start + 1};
}

Json parsed(std::string_view text, const std::string& name) {
  if (text.size() > most_readings_bytes) {
    throw Error({name}, fmt::format("{} bytes are too many for readings of one tooth; up to {} "
                                    "would do",
                                    text.size(), most_readings_bytes));
  }
  std::size_t values = 0;
  const auto within_limits = [&](int depth, Json::parse_event_t, const Json&) {
    if (depth > deepest || ++values > most_values)
      throw Error({name},
                  fmt::format("too deep or too large for readings of one tooth; {}", shape));
    return true;
  };
  try {
    return Json::parse(text, within_limits);
  } catch (const Json::parse_error& error) {
    throw Error(place_of(text, error.byte, name), fmt::format("this is not JSON; {}", shape));
  } catch (const Json::exception&) {
    throw Error({name}, "a number is too large; numbers in SI units would do");
  }
}

// One reading with its place for errors: "reading 2".
class Row {
 public:
  Row(const Json& json, std::size_t index, const std::string& name)
      : json_(json), index_(index), name_(name) {
    if (!json.is_object()) fail(fmt::format("is not an object; {}", shape));
  }

  [[noreturn]] void fail(const std::string& problem) const {
    throw Error({name_}, fmt::format("reading {} {}", index_ + 1, problem));
  }

  std::optional<double> number(const char* key, double least, double most) const {
    const auto at = json_.find(key);
    if (at == json_.end() || at->is_null()) return std::nullopt;
    return checked(*at, key, least, most);
  }

  // A key that is mistyped would be taken for one that is not given; other keys are another's.
  void check_keys() const {
    static const std::vector<std::string> keys{"frequency_hz", "stderr_hz",    "clipped_length_m",
                                               "filed_tip_m",  "filed_root_m", "decay_s",
                                               "partials_hz",  "common_cents"};
    for (const auto& [key, value] : json_.items()) {
      if (key.size() > 40 || std::find(keys.begin(), keys.end(), key) != keys.end()) continue;
      const std::string meant = nearest_word(key, keys);
      if (!meant.empty()) fail(fmt::format("has a key \"{}\"; did you mean \"{}\"?", key, meant));
    }
  }

  std::vector<double> numbers(const char* key, double least, double most) const {
    std::vector<double> result;
    const auto at = json_.find(key);
    if (at == json_.end() || at->is_null()) return result;
    if (!at->is_array() || at->size() > most_partials)
      fail(fmt::format("has a {} that is no list of up to {} numbers", key, most_partials));
    for (const Json& item : *at) result.push_back(checked(item, key, least, most));
    return result;
  }

 private:
  double checked(const Json& value, const char* key, double least, double most) const {
    const double number =
        value.is_number() ? value.get<double>() : std::numeric_limits<double>::quiet_NaN();
    if (!(number >= least && number <= most))
      fail(fmt::format("has a {} that is no number from {:g} to {:g}", key, least, most));
    return number;
  }

  const Json& json_;
  std::size_t index_;
  const std::string& name_;
};

Reading reading_of(const Row& row) {
  row.check_keys();
  Reading reading;
  const auto frequency = row.number("frequency_hz", lowest_hz, highest_hz);
  if (!frequency) row.fail("has no frequency_hz; every reading needs its pitch");
  reading.frequency_hz = *frequency;
  reading.stderr_hz = row.number("stderr_hz", 0.0, 0.1 * *frequency).value_or(0.0);
  reading.common_cents = row.number("common_cents", 0.0, 100.0).value_or(0.0);
  reading.since = {.clip_m = row.number("clipped_length_m", 0.0, longest_m).value_or(0.0),
                   .file_tip_m = row.number("filed_tip_m", 0.0, longest_m).value_or(0.0),
                   .file_root_m = row.number("filed_root_m", 0.0, longest_m).value_or(0.0)};
  reading.decay_s = row.number("decay_s", 0.0, longest_decay_s);
  reading.partials_hz = row.numbers("partials_hz", lowest_hz, 1e6);
  return reading;
}

}  // namespace

double spread_cents(const Reading& reading) {
  if (reading.stderr_hz == 0.0) return good_reading_cents;
  return std::max(best_reading_cents, music::cents(1.0 + reading.stderr_hz / reading.frequency_hz));
}

std::vector<Reading> read_readings(std::string_view json, const std::string& name) {
  const Json list = parsed(json, name);
  if (!list.is_array()) throw Error({name}, fmt::format("this is not a list; {}", shape));
  if (list.empty()) throw Error({name}, fmt::format("holds no reading; {}", shape));
  if (list.size() > most_readings)
    throw Error({name}, fmt::format("has {} readings of one tooth; up to {} would do", list.size(),
                                    most_readings));
  std::vector<Reading> readings;
  for (const Json& item : list) readings.push_back(reading_of(Row(item, readings.size(), name)));
  return readings;
}

}  // namespace combwright::tuner
