// SPDX-License-Identifier: Apache-2.0
#include "box/target.h"

#include <algorithm>
#include <cmath>

#include "music/temperament.h"

namespace combwright::box {
namespace {

double beat_hz(const Box& box, const Comb& comb, int midi) {
  const auto [lowest, highest] = std::minmax_element(box.scale.midi.begin(), box.scale.midi.end());
  if (*lowest == *highest) return comb.beat_low_hz;
  return std::lerp(comb.beat_low_hz, comb.beat_high_hz,
                   static_cast<double>(midi - *lowest) / (*highest - *lowest));
}

}  // namespace

double target_hz(const Box& box, int midi) {
  return music::tempered_hz(midi, temperament(box.scale), box.scale.a4_hz);
}

double target_hz(const Box& box, const Comb& comb, int midi) {
  return target_hz(box, midi) * std::exp2(comb.offset_cents / 1200.0) + beat_hz(box, comb, midi);
}

}  // namespace combwright::box
