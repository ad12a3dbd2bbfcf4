// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/box.h"
#include "draw/pack_document.h"
#include "steel/comb.h"

// The parts of the combs' sheets.
namespace combwright::draw {

// "Comb front".
std::string comb_heading(const steel::CombDesign& design);

// Every cut of the saw.
void add_saw(PackDocument& document, const box::Box& box, const box::Comb& comb,
             const steel::CombDesign& design);

// Every tooth as it is cut and tuned.
void add_teeth(PackDocument& document, const box::Box& box, const steel::CombDesign& design);

// The weights to cut for all combs together; nothing if there are none.
void add_weights(PackDocument& document, const box::Box& box,
                 const std::vector<steel::CombDesign>& designs);

}  // namespace combwright::draw
