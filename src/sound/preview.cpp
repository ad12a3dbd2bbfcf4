// SPDX-License-Identifier: Apache-2.0
#include "sound/preview.h"
