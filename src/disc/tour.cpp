// SPDX-License-Identifier: Apache-2.0
#include "disc/tour.h"
