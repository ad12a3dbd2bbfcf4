// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "draw/pack_document.h"

namespace combwright::draw {

// Cautions in a frame of their own, kept together on one page.
void add_caution_box(PackDocument& document, const std::vector<std::string>& cautions);

}  // namespace combwright::draw
