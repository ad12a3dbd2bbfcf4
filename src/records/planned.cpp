// SPDX-License-Identifier: Apache-2.0
#include "records/planned.h"

#include "box/target.h"

namespace combwright::records {

PlannedComb planned_comb(const box::Box& box, std::size_t comb, const std::string& box_sha256) {
  PlannedComb planned{.box = box.name,
                      .box_sha256 = box_sha256,
                      .comb = box.combs[comb].name,
                      .in_tune_c = box.scale.temperature_c,
                      .teeth = {}};
  for (const box::Track& track : box::tracks(box))
    planned.teeth.push_back(
        {track.number, track.midi, box::target_hz(box, box.combs[comb], track.midi)});
  return planned;
}

}  // namespace combwright::records
