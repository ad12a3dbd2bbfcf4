// SPDX-License-Identifier: Apache-2.0
#include "arrange/arrange.h"
