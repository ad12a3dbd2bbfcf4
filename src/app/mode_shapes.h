// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "app/json.h"
#include "steel/comb.h"

namespace combwright::app {

// How every tooth of a comb in tune bends in its first four modes: `track`, `positions_m` from the
// root to the tip, `modes` with `frequency_hz` and `deflections` there, 1 at the tip; and
// `lifted_stress_pa` there, of the steel just before it is let go.
Json mode_shapes_json(const steel::CombDesign& design);

}  // namespace combwright::app
