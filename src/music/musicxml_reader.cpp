// SPDX-License-Identifier: Apache-2.0
#include "music/musicxml_reader.h"
