// SPDX-License-Identifier: Apache-2.0
#include "base/quantity.h"
