// SPDX-License-Identifier: Apache-2.0
#include "music/midi_reader.h"
