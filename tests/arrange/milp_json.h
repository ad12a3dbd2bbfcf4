// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>

#include "arrange/problem.h"

namespace combwright::arrange {

// A problem or solution as JSON, with the keys of the structs' members; throws nlohmann's errors.
Problem problem_from(const nlohmann::json& json);
nlohmann::json json_of(const Problem& problem);
nlohmann::json json_of(const Solution& solution);

}  // namespace combwright::arrange
