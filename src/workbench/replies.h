// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

#include "app/json.h"
#include "base/error.h"
#include "workbench/message.h"

namespace combwright::workbench {

// The answer as one line of JSON.
Reply json_reply(const app::Json& json, int status = 200);

// {"error", "place"}: why there is no answer.
app::Json problem_json(std::string_view what);

// The same with the place in a file, without the folder that it lies in.
app::Json problem_json(const Error& error);

// The answer with such a status.
Reply problem(int status, std::string_view what);

// The same with status 400, or 500 where this machine would not let us.
Reply problem(const Error& error);

}  // namespace combwright::workbench
