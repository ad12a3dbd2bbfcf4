// SPDX-License-Identifier: Apache-2.0
#include "app/clip_answers.h"

namespace combwright::app {
namespace {

const char* do_word(const std::optional<tuner::Work>& work) {
  if (!work) return "stop";
  switch (*work) {
    case tuner::Work::clip:
      return "clip";
    case tuner::Work::file_tip:
      return "file_tip";
    case tuner::Work::file_root:
      break;
  }
  return "file_root";
}

Json advice_json(const tuner::Advice& advice) {
  const bool filed = advice.work && *advice.work != tuner::Work::clip;
  return {{"do", do_word(advice.work)},
          {"mass_kg", advice.mass_kg},
          {"length_m", advice.amount_m},
          {"from_m", filed ? Json(advice.place.from_m) : Json(nullptr)},
          {"to_m", filed ? Json(advice.place.to_m) : Json(nullptr)},
          {"expect_cents", advice.expect_cents},
          {"overshoot_probability", advice.overshoot_probability},
          {"safety_factor", filed ? Json(advice.safety_factor) : Json(nullptr)},
          {"cuts_to_expect", advice.more_cuts}};
}

Json reading_json(const tuner::Reading& reading) {
  return {{"frequency_hz", reading.frequency_hz},    {"stderr_hz", reading.stderr_hz},
          {"common_cents", reading.common_cents},    {"clipped_length_m", reading.since.clip_m},
          {"filed_tip_m", reading.since.file_tip_m}, {"filed_root_m", reading.since.file_root_m},
          {"decay_s", or_null(reading.decay_s)},     {"partials_hz", reading.partials_hz}};
}

Json known_json(const tuner::Known& known) {
  return {{"value", known.value}, {"spread", known.spread}};
}

}  // namespace

Json to_json(const tuner::ToothOf& tooth, const tuner::Tuning& tuning,
             const std::vector<tuner::Reading>& readings) {
  const bool leaded = tooth.designs[tooth.comb].teeth[tooth.tooth].leaded();
  Json list = Json::array();
  for (const tuner::Reading& reading : readings) list.push_back(reading_json(reading));
  return {{"measured_hz", tuning.measured_hz},
          {"target_hz", tuning.target_hz},
          {"offset_cents", tuning.offset_cents},
          {"beat_hz", or_null(tuning.beat_hz)},
          {"target_beat_hz", or_null(tuning.target_beat_hz)},
          {"advice", advice_json(tuning.advice)},
          {"known_cents", known_json(tuning.known_cents)},
          {"weight", leaded ? known_json(tuning.weight) : Json(nullptr)},
          {"hand", leaded ? known_json(tuning.hand) : Json(nullptr)},
          {"weight_left_m", leaded ? Json(tuning.weight_left_m) : Json(nullptr)},
          {"readings", list}};
}

}  // namespace combwright::app
