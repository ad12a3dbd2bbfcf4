// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "arrange/arrangement.h"
#include "box/box.h"
#include "box/shop.h"
#include "disc/disc.h"
#include "draw/stamp.h"
#include "motor/motor.h"
#include "steel/comb.h"

namespace combwright::draw {

// The sheets a maker pins to the wall for one disc: cover with a true picture of the disc and how
// good the arrangement is, the notes over time by their fate, what was left out and why, the table
// of tracks, the set-up of the punch, findings and cautions, the motor (null: no such page), and
// the combs with the tables for saw and bench. On the shop's paper; every page bears box, tune,
// date, checksum and its number. The same input gives the same bytes. Throws Error if the paper is
// smaller than A5.
std::string write_pack_pdf(const box::Box& box, const box::Shop& shop,
                           const std::vector<steel::CombDesign>& combs,
                           const motor::Prediction* motor, const arrange::Arrangement& arrangement,
                           const disc::Disc& disc, const Stamp& stamp);

}  // namespace combwright::draw
