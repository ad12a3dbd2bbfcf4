// SPDX-License-Identifier: Apache-2.0
#include "records/moment.h"

#include <chrono>
#include <optional>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"

namespace combwright::records {
namespace {

// Letters as the pattern has them, where 0 stands for any digit.
bool looks_like(std::string_view text, std::string_view pattern) {
  if (text.size() != pattern.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool digit = text[i] >= '0' && text[i] <= '9';
    if (pattern[i] == '0' ? !digit : text[i] != pattern[i]) return false;
  }
  return true;
}

unsigned number(std::string_view text, std::size_t at, std::size_t digits) {
  return parse_number<unsigned>(text.substr(at, digits)).value_or(0);
}

bool is_moment(std::string_view text) {
  const bool day_only = looks_like(text, "0000-00-00");
  if (!day_only && !looks_like(text, "0000-00-00T00:00:00Z")) return false;
  const std::chrono::year_month_day day{std::chrono::year(static_cast<int>(number(text, 0, 4))),
                                        std::chrono::month(number(text, 5, 2)),
                                        std::chrono::day(number(text, 8, 2))};
  if (!day.ok()) return false;
  return day_only ||
         (number(text, 11, 2) < 24 && number(text, 14, 2) < 60 && number(text, 17, 2) < 60);
}

}  // namespace

void check_moment(std::string_view text) {
  if (is_moment(text)) return;
  throw Error({}, fmt::format("\"{}\" is no day or moment; write it as 2024-05-17 or, in UTC, "
                              "2024-05-17T09:30:00Z",
                              text.substr(0, 40)));
}

}  // namespace combwright::records
