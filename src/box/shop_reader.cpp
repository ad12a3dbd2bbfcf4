// SPDX-License-Identifier: Apache-2.0
#include "box/shop_reader.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "box/key_reader.h"
#include "box/measures.h"
#include "box/paper_size.h"
#include "box/shop_keys.h"

namespace combwright::box {
namespace {

bool is_given(const KeyReading<Shop>& reading, std::string_view key) {
  return std::any_of(reading.settings.begin(), reading.settings.end(), [&](const Setting& setting) {
    return setting.key == key && setting.source == Source::given;
  });
}

[[noreturn]] void refuse_side(const Place& place, const char* key, double given_m,
                              const PaperSize& size) {
  throw Error(place, fmt::format("{} is {}, but {} is {} by {}; correct it or leave it out", key,
                                 mm(given_m), size.name, mm(size.width_m), mm(size.height_m)));
}

// Name and sides of the paper must go together, whichever of them are given.
void settle_paper(KeyReading<Shop>& reading) {
  constexpr double same_side_m = 0.001;  // 216 mm is Letter too
  Paper& paper = reading.value.paper;
  const bool width_given = is_given(reading, "paper.width");
  const bool height_given = is_given(reading, "paper.height");
  if (!is_given(reading, "paper.name")) {
    if (width_given || height_given)
      paper.name = fmt::format("{} x {}", mm(paper.width_m), mm(paper.height_m));
    return;
  }
  const auto size = paper_size(paper.name);
  if (!size) {
    if (width_given && height_given) return;
    throw Error(
        reading.places.of("paper", "name"),
        fmt::format("paper.name is \"{}\", whose size is not known; write {}, or give width "
                    "and height too",
                    paper.name, paper_names()));
  }
  if (std::fabs(paper.width_m - size->width_m) > same_side_m)
    refuse_side(reading.places.of("paper", "width"), "paper.width", paper.width_m, *size);
  if (std::fabs(paper.height_m - size->height_m) > same_side_m)
    refuse_side(reading.places.of("paper", "height"), "paper.height", paper.height_m, *size);
}

}  // namespace

Shop read_shop(std::string_view text, const std::string& name) {
  KeyReading<Shop> reading = read_keys(shop_schema(), text, name);
  settle_paper(reading);
  return std::move(reading.value);
}

}  // namespace combwright::box
