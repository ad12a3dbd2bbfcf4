// SPDX-License-Identifier: Apache-2.0
#include "box/shop_reader.h"
