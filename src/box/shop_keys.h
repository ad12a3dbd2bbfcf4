// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/keys.h"
#include "box/shop.h"

namespace combwright::box {

// Every key of a shop file. Its defaults are those of struct Shop.
const Schema<Shop>& shop_schema();

}  // namespace combwright::box
