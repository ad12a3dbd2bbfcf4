// SPDX-License-Identifier: Apache-2.0
#include "arrange/milp_json.h"

#include <string>

namespace combwright::arrange {

using nlohmann::json;

namespace {

Hold hold_from(const std::string& word) {
  if (word == "none") return Hold::none;
  if (word == "kept") return Hold::kept;
  if (word == "octave") return Hold::octave;
  throw json::other_error::create(501, "hold is none, kept or octave", nullptr);
}

}  // namespace

Problem problem_from(const json& from) {
  Problem p;
  for (const json& tooth : from.at("teeth"))
    p.teeth.push_back({.midi = tooth.at("midi"), .interval_s = tooth.at("interval_s")});
  for (const json& limit : from.at("neighbours"))
    p.neighbours.push_back({.shift_s = limit.at("shift_s"), .reach_s = limit.at("reach_s")});
  for (const json& demand : from.at("demands"))
    p.demands.push_back({.onset_s = demand.at("onset_s"),
                         .midi = demand.at("midi"),
                         .weight = demand.at("weight"),
                         .melody = demand.at("melody"),
                         .hold = hold_from(demand.value("hold", "none"))});
  p.most_plucks = from.at("most_plucks");
  p.pluck_window_s = from.at("pluck_window_s");
  p.earliest_s = from.at("earliest_s");
  p.latest_s = from.at("latest_s");
  return p;
}

json json_of(const Problem& p) {
  json teeth = json::array();
  for (const Tooth& tooth : p.teeth)
    teeth.push_back({{"midi", tooth.midi}, {"interval_s", tooth.interval_s}});
  json neighbours = json::array();
  for (const NeighbourLimit& limit : p.neighbours)
    neighbours.push_back({{"shift_s", limit.shift_s}, {"reach_s", limit.reach_s}});
  json demands = json::array();
  for (const Demand& demand : p.demands)
    demands.push_back({{"onset_s", demand.onset_s},
                       {"midi", demand.midi},
                       {"weight", demand.weight},
                       {"melody", demand.melody}});
  return {{"teeth", teeth},
          {"neighbours", neighbours},
          {"demands", demands},
          {"most_plucks", p.most_plucks},
          {"pluck_window_s", p.pluck_window_s},
          {"earliest_s", p.earliest_s},
          {"latest_s", p.latest_s}};
}

json json_of(const Solution& solution) {
  json choices = json::array();
  for (const Choice& choice : solution.choices)
    choices.push_back(
        {{"fate", to_text(choice.fate)}, {"tooth", choice.tooth}, {"time_s", choice.time_s}});
  return {{"choices", choices}, {"earned", solution.earned}, {"bound", solution.bound}};
}

}  // namespace combwright::arrange
