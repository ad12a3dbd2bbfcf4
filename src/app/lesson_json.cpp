// SPDX-License-Identifier: Apache-2.0
#include "app/lesson_answers.h"

namespace combwright::app {
namespace {

Json spread_json(const std::vector<steel::CombDesign>& designs) {
  Json json = Json::array();
  for (const steel::CombDesign& design : designs) {
    json.push_back({{"comb", design.name},
                    {"common_cents", design.cut_spread.common_cents},
                    {"all_cents", design.cut_spread.all_cents}});
  }
  return json;
}

}  // namespace

Json to_json(const box::Box& box, const std::vector<steel::CombDesign>& designs,
             const std::vector<steel::CombDesign>& next, const steel::Lesson& lesson) {
  Json json = {{"scatter_cents", lesson.scatter_cents},
               {"correlation", lesson.correlation},
               {"spread_before", spread_json(designs)},
               {"spread_after", spread_json(next)},
               {"box_keys", lesson_keys(box, lesson)}};
  json["learnt"] = Json::array();
  for (const steel::LearntValue& learnt : lesson.learnt) {
    json["learnt"].push_back(
        {{"key", steel::key_of(learnt.unknown)},
         {"comb", learnt.comb ? Json(box.combs[*learnt.comb].name) : Json(nullptr)},
         {"before", learnt.before},
         {"before_spread", learnt.before_deviation()},
         {"value", learnt.value},
         {"spread", learnt.deviation()}});
  }
  json["readings"] = Json::array();
  for (const steel::LearntTooth& tooth : lesson.teeth) {
    json["readings"].push_back(
        {{"comb", box.combs[tooth.reading.comb].name},
         {"track", designs[tooth.reading.comb].teeth[tooth.reading.tooth].track},
         {"frequency_hz", tooth.reading.frequency_hz},
         {"expected_hz", tooth.expected_hz},
         {"off_cents", tooth.off_cents},
         {"left_cents", tooth.left_cents},
         {"weight", tooth.weight}});
  }
  return json;
}

}  // namespace combwright::app
