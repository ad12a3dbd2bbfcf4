// SPDX-License-Identifier: Apache-2.0
#include "draw/shape.h"
