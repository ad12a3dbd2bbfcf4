// SPDX-License-Identifier: Apache-2.0
#include "box/box_reader.h"

#include "box/box_check.h"
#include "box/box_keys.h"
#include "box/key_reader.h"

namespace combwright::box {

BoxReading read_box(std::string_view text, const std::string& name) {
  KeyReading<Box> reading = read_keys(box_schema(), text, name);
  check_whole(reading.value, reading.places);
  return {.box = reading.value,
          .settings = std::move(reading.settings),
          .findings = find_doubts(reading.value)};
}

}  // namespace combwright::box
