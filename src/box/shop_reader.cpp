// SPDX-License-Identifier: Apache-2.0
#include "box/shop_reader.h"

#include "box/key_reader.h"
#include "box/shop_keys.h"

namespace combwright::box {

Shop read_shop(std::string_view text, const std::string& name) {
  KeyReading<Shop> reading = read_keys(shop_schema(), text, name);
  return std::move(reading.value);
}

}  // namespace combwright::box
