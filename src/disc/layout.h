// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "arrange/arrangement.h"
#include "box/box.h"
#include "box/shop.h"
#include "disc/disc.h"
#include "disc/tour.h"

namespace combwright::disc {

// The disc that plays the arrangement: one projection for each pluck, placed so that its leading
// edge meets the star wheel release_delay_s (action.h) before the pluck, in the order of a short
// punch tour. The findings are those of check_disc. Tracks of the plucks must be those of the box.
Disc lay_out(const box::Box& box, const arrange::Arrangement& arrangement, const box::Punch& punch,
             const TourOptions& options = {});

// The same disc with its hits in the order of a short punch tour and the findings of check_disc,
// whatever its order, tour and findings were. Requires tracks of the box and a turn time above 0.
Disc finish(const box::Box& box, Disc disc, const box::Punch& punch,
            const TourOptions& options = {});

}  // namespace combwright::disc
