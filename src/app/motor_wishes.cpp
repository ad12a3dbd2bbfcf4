// SPDX-License-Identifier: Apache-2.0
#include "app/motor_wishes.h"

#include <algorithm>
#include <cassert>
#include <optional>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "app/option_quantity.h"
#include "base/error.h"
#include "box/box_keys.h"
#include "box/key_value.h"

namespace combwright::app {
namespace {

// The value of an option within the bounds of the box file's key, else one line that says them.
double bounded(const std::string& name, double value, std::string_view section,
               std::string_view key) {
  const std::vector<box::Key<box::Box>>& keys = box::box_schema().keys;
  const auto found = std::find_if(keys.begin(), keys.end(), [&](const box::Key<box::Box>& each) {
    return each.info.section == section && each.info.name == key;
  });
  assert(found != keys.end());
  if (const std::string problem = box::bounds_problem(found->info, value); !problem.empty())
    throw Error({}, fmt::format("{} {}", name, problem));
  return value;
}

}  // namespace

motor::Wishes wishes_of(const WishTexts& texts, const MotorJob& work) {
  motor::Wishes wishes;
  wishes.plays = texts.plays > 0 ? texts.plays : std::max(1, work.prediction.plays);
  wishes.turn_time_s = work.prediction.turn_time_s;
  if (const auto value = option_quantity("--turn-time", texts.turn_time, Dimension::time))
    wishes.turn_time_s = bounded("--turn-time", *value, "motor", "turn_time");
  wishes.tempo_drop = work.box.motor.tempo_drop;
  if (const auto value = option_quantity("--tempo-drop", texts.tempo_drop, Dimension::ratio))
    wishes.tempo_drop = bounded("--tempo-drop", *value, "motor", "tempo_drop");
  wishes.barrel_radius_m = work.box.spring.barrel_radius_m;
  if (const auto value = option_quantity("--barrel", texts.barrel, Dimension::length))
    wishes.barrel_radius_m = bounded("half of --barrel", 0.5 * *value, "spring", "barrel_radius");
  return wishes;
}

}  // namespace combwright::app
