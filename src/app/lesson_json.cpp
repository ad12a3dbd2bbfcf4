// SPDX-License-Identifier: Apache-2.0
#include "app/lesson_answers.h"

namespace combwright::app {
namespace {

Json spread_json(const box::Box& box, const std::vector<steel::CutSpread>& spreads) {
  Json json = Json::array();
  for (std::size_t i = 0; i < spreads.size(); ++i) {
    json.push_back({{"comb", box.combs[i].name},
                    {"common_cents", spreads[i].common_cents},
                    {"all_cents", spreads[i].all_cents}});
  }
  return json;
}

}  // namespace

Json to_json(const box::Box& box, const std::vector<steel::CombDesign>& designs,
             const steel::Lesson& lesson) {
  Json json = {{"scatter_cents", lesson.scatter_cents},
               {"correlation", lesson.correlation},
               {"spread_before", spread_json(box, lesson.before)},
               {"spread_after", spread_json(box, lesson.after)},
               {"box_keys", lesson_keys(box, lesson)}};
  json["learnt"] = Json::array();
  for (const steel::Learnt& learnt : lesson.learnt) {
    json["learnt"].push_back({{"key", learnt.key},
                              {"comb", box.combs[learnt.comb].name},
                              {"before", learnt.before},
                              {"before_spread", learnt.before_spread},
                              {"value", learnt.value},
                              {"spread", learnt.spread}});
    if (learnt.key != "comb.root_yield") json["learnt"].back()["comb"] = nullptr;
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
