// SPDX-License-Identifier: Apache-2.0
#include "action/action.h"
