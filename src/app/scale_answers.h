// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/json.h"
#include "arrange/scale_plan.h"
#include "base/finding.h"

namespace combwright::app {

// The plan as the JSON that `--json` prints.
Json to_json(const arrange::ScalePlan& plan, const Findings& findings);

// The plan as a person reads it.
std::string scale_text(const arrange::ScalePlan& plan, const Findings& findings);

// What a file of the scale bears in its first line.
std::string scale_title(const std::string& box_name);

// The scale as it goes into the box file, with where it comes from in comments.
std::string scale_file(const arrange::ScalePlan& plan);

}  // namespace combwright::app
