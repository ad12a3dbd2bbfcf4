// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>

#include "box/box.h"

namespace combwright::app {

// The comb that --comb names, by its place in the box; the only one need not be named. Throws Error
// that lists the box's combs.
std::size_t comb_place(const box::Box& box, const std::string& name);

}  // namespace combwright::app
