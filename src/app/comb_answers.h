// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/json.h"
#include "base/finding.h"
#include "box/box.h"
#include "steel/comb.h"

// The two answers of `comb`.
namespace combwright::app {

Json to_json(const box::Box& box, const std::vector<steel::CombDesign>& designs,
             const Findings& findings);

// Findings first, then limits, teeth, saw and leads.
std::string comb_text(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                      const Findings& findings);

}  // namespace combwright::app
