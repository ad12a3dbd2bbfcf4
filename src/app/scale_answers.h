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

// "C4", "F#5 (beside one)": the teeth that the chosen scale has beyond the box's own; "F#5 (one of
// two)": those of the box's own that it does without. Low to high.
std::vector<std::string> added_teeth(const arrange::ScalePlan& plan);
std::vector<std::string> teeth_given_up(const arrange::ScalePlan& plan);

// The keys of the box file that make the scale its own.
std::string scale_keys(const arrange::ScalePlan& plan);

// The plan as a person reads it.
std::string scale_text(const arrange::ScalePlan& plan, const Findings& findings);

// What a file of the scale bears in its first line.
std::string scale_title(const std::string& box_name);

// The scale as it goes into the box file, with where it comes from in comments.
std::string scale_file(const arrange::ScalePlan& plan);

}  // namespace combwright::app
