// SPDX-License-Identifier: Apache-2.0
#include "steel/design/bench.h"

#include <algorithm>
#include <cassert>

#include "box/target.h"
#include "steel/strength.h"

namespace combwright::steel {

Bench bench(const box::Box& box, std::size_t comb, const box::Shop& shop) {
  assert(comb < box.combs.size() && !shop.lead.bar_m.empty());
  Bench bench{.comb = box.combs[comb],
              .lead = box.lead,
              .steel = metal(box.steel, box.scale.temperature_c),
              .weight = metal(box.lead),
              .endurance_pa = endurance_limit_pa(box.steel.strength_pa, Finish::ground),
              .strength_pa = box.steel.strength_pa,
              .tooth_overlap_m = box.star_wheel.tooth_overlap_m,
              .bar_m = shop.lead.bar_m,
              .plate_m = shop.steel.plate_thickness_m};
  std::sort(bench.bar_m.begin(), bench.bar_m.end());
  return bench;
}

std::vector<Order> orders(const box::Box& box, std::size_t comb,
                          const std::vector<double>& lift_m) {
  const std::vector<box::Track> tracks = box::tracks(box);
  assert(lift_m.size() == tracks.size());
  const double last = tracks.size() > 1 ? static_cast<double>(tracks.size() - 1) : 1.0;
  std::vector<Order> result;
  result.reserve(tracks.size());
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    const double outwards = static_cast<double>(i) / last;
    result.push_back(
        {.track = tracks[i].number,
         .midi = tracks[i].midi,
         .target_hz = box::target_hz(box, box.combs[comb], tracks[i].midi),
         .lift_m = lift_m[i],
         .share = box.tracks.bass == box::BassSide::inner ? 1.0 - outwards : outwards});
  }
  return result;
}

}  // namespace combwright::steel
