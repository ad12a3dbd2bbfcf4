// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"
#include "box/keys.h"

namespace combwright::box {

// Every key of a box file.
const Schema<Box>& box_schema();

}  // namespace combwright::box
