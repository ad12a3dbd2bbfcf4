// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/box.h"
#include "box/shop.h"
#include "draw/stamp.h"
#include "steel/comb.h"

namespace combwright::draw {

// The sheets of the pack that are about the combs, by themselves. On the shop's paper; every page
// bears box, date, checksum and its number. The same input gives the same bytes. Throws Error if
// the paper is smaller than A5.
std::string write_comb_pdf(const box::Box& box, const box::Shop& shop,
                           const std::vector<steel::CombDesign>& designs, const Stamp& stamp);

}  // namespace combwright::draw
