// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include <nlohmann/json.hpp>

#include "base/finding.h"
#include "box/box.h"
#include "disc/plan.h"

// Parts of a plan as JSON, for the plan itself and for every answer that shows the same: SI units,
// the unit in the key's name, keys in the order of the structs.
namespace combwright::disc {

using Json = nlohmann::ordered_json;

Json to_json(const Findings& findings);
Json to_json(const std::vector<PlanFile>& files);
Json to_json(const box::Disc& disc);
Json to_json(const box::Projection& projection);
Json to_json(const box::Tracks& tracks);
Json to_json(const box::StarWheel& wheel);
Json to_json(const box::Damper& damper);
Json to_json(const box::HoldDownBar& bar);

// The whole plan, as write_plan writes it.
Json to_json(const Plan& plan);

// SHA-256 over what the plan cuts: names, turn time, geometry and projections, in whatever order
// they are punched. Findings, tour and files are left out; they follow from the rest and the shop.
std::string contents_sha256(const Plan& plan);

}  // namespace combwright::disc
