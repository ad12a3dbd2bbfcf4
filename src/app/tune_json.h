// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "app/json.h"
#include "music/tune.h"

namespace combwright::app {

// What was read of a tune: `title`, `composer`, `length_s`, `parts` with their `name` and how many
// `notes`, their `lowest_midi` and `highest_midi` (null without notes), how many `bars` as played,
// the `tempos` (`start_s`, `quarters_per_minute`), the `meters` (`bar` from 1, `beats`,
// `beat_unit`) where they change, `percussion_notes` left out, `findings`.
Json to_json(const music::Tune& tune);

}  // namespace combwright::app
