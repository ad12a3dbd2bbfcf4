// SPDX-License-Identifier: Apache-2.0
// Any bytes are a shop with every value in its bounds, the same on a second reading, or an Error
// with one line of text.
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/error.h"
#include "box/document.h"
#include "box/shop_reader.h"

namespace {

using namespace combwright;

void require(bool condition) {
  if (!condition) std::abort();
}

// Written so that a NaN is outside.
bool within(double value, double least, double greatest) {
  return value >= least && value <= greatest;
}

// The bounds of docs/shop.md.
void check_shop(const box::Shop& shop) {
  require(!shop.name.empty() && shop.name.size() <= 80);
  const box::Punch& punch = shop.punch;
  require(within(punch.radial_speed_m_s, 1e-4, 10.0) && within(punch.feed_m_s, 1e-4, 10.0));
  require(within(punch.radial_acceleration_m_s2, 1e-3, 100.0));
  require(punch.rotary_speed_rad_s > 0.0 && punch.rotary_acceleration_rad_s2 > 0.0);
  require(within(punch.stroke_time_s, 1e-3, 60.0));
  require(within(punch.up_m, 1e-4, 0.2) && within(punch.down_m, -0.02, 0.0));
  require(punch.hit.size() <= box::max_items);
  for (const std::string& line : punch.hit)
    require(!line.empty() && line.find('\n') == std::string::npos);
  require(shop.paper.width_m > 2.0 * shop.paper.margin_m);
  require(shop.paper.height_m > 2.0 * shop.paper.margin_m);
  require(shop.sheets.size() <= 40);
  for (const box::SheetStock& sheet : shop.sheets) require(within(sheet.thickness_m, 1e-4, 3e-3));
  for (const double plate : shop.steel.plate_thickness_m) require(within(plate, 3e-4, 0.02));
}

std::string outcome(std::string_view text) {
  try {
    const box::Shop shop = box::read_shop(text, "s.toml");
    check_shop(shop);
    return shop.name;
  } catch (const Error& error) {
    const std::string_view told = error.what();
    require(told.starts_with("s.toml") && told.find('\n') == std::string_view::npos);
    return std::string(told);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  require(outcome(text) == outcome(text));
  return 0;
}
