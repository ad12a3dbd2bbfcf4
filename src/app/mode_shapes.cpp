// SPDX-License-Identifier: Apache-2.0
#include "app/mode_shapes.h"

#include <vector>

#include "base/parallel.h"
#include "steel/lifted.h"
#include "steel/modes.h"
#include "steel/tooth.h"

namespace combwright::app {
namespace {

constexpr int places = 61;

Json shapes_of(const steel::CombTooth& tooth) {
  const double length_m = steel::length_m(tooth.in_tune);
  std::vector<double> positions_m;
  for (int i = 0; i < places; ++i) positions_m.push_back(length_m * i / (places - 1));
  Json modes = Json::array();
  for (const steel::Mode& mode : steel::modes(tooth.in_tune))
    modes.push_back({{"frequency_hz", mode.frequency_hz},
                     {"deflections", steel::shape(tooth.in_tune, mode, positions_m)}});
  Json stress = steel::lifted_stress_pa(tooth.in_tune, tooth.pluck_force_n, positions_m);
  return {{"track", tooth.track},
          {"positions_m", positions_m},
          {"modes", std::move(modes)},
          {"lifted_stress_pa", std::move(stress)}};
}

}  // namespace

Json mode_shapes_json(const steel::CombDesign& design) {
  std::vector<Json> teeth(design.teeth.size());
  parallel_for(teeth.size(), 0, [&](std::size_t i) { teeth[i] = shapes_of(design.teeth[i]); });
  return {{"comb", design.name}, {"teeth", std::move(teeth)}};
}

}  // namespace combwright::app
