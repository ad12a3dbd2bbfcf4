// SPDX-License-Identifier: Apache-2.0
#include "box/box_reader.h"
