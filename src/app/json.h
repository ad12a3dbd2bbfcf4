// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>

namespace combwright::app {

// Keys keep the order in which they were put in.
using Json = nlohmann::ordered_json;

}  // namespace combwright::app
