// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/json.h"
#include "box/box.h"
#include "steel/comb.h"
#include "steel/learn.h"

// The two answers of `comb --learn`, without findings; `next` are the combs as they will be
// designed with what was learnt.
namespace combwright::app {

Json to_json(const box::Box& box, const std::vector<steel::CombDesign>& designs,
             const std::vector<steel::CombDesign>& next, const steel::Lesson& lesson);

std::string lesson_text(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                        const std::vector<steel::CombDesign>& next, const steel::Lesson& lesson);

// The keys with their new values as they stand in a box file, section by section; a [[comb]] for
// each comb, in order.
std::string lesson_keys(const box::Box& box, const steel::Lesson& lesson);

}  // namespace combwright::app
