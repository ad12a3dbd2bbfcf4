// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/box.h"
#include "box/shop.h"
#include "steel/comb.h"

// What can hurt someone, one sentence or two each. Papers and answers take their words from here.
namespace combwright::draw {

// For the person at the punch.
std::vector<std::string> punch_cautions(const box::Box& box, const box::Shop& shop);

// For who saws, grinds, hardens and tunes the combs. Weights are named if a tooth has one and their
// metal does harm.
std::vector<std::string> comb_cautions(const box::Box& box,
                                       const std::vector<steel::CombDesign>& designs);

// For whoever handles the weights only; empty if they do no harm.
std::string weight_caution_words(const box::Box& box);

// For who plucks, clips and files one tooth of them; its weight is named if it has one.
std::vector<std::string> tuning_cautions(const box::Box& box, const steel::CombTooth& tooth);

// For work on the motor.
std::string spring_caution();

// For who sets star wheels and dampers.
std::vector<std::string> setting_cautions();

// For who builds, winds and mends the motor.
std::vector<std::string> motor_cautions();

// For all work after these papers: estimates, and the rules that come first.
std::vector<std::string> general_cautions();

// All that a disc asks for: punch, motor, and the general ones.
std::vector<std::string> disc_cautions(const box::Box& box, const box::Shop& shop);

// The same with the combs'.
std::vector<std::string> pack_cautions(const box::Box& box, const box::Shop& shop,
                                       const std::vector<steel::CombDesign>& designs);

// All that combs ask for: theirs, and the general ones.
std::vector<std::string> comb_sheet_cautions(const box::Box& box,
                                             const std::vector<steel::CombDesign>& designs);

// What goes with the papers of a tuned comb: its weights, and the general ones.
std::vector<std::string> certificate_cautions(const box::Box& box);

}  // namespace combwright::draw
