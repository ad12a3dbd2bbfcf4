// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "app/action_job.h"
#include "app/json.h"
#include "box/box.h"
#include "box/shop.h"

namespace combwright::app {

// The two answers of `action`.
Json to_json(const box::Box& box, const box::Shop& shop, const ActionJob& job);
std::string action_text(const box::Box& box, const box::Shop& shop, const ActionJob& job);

}  // namespace combwright::app
