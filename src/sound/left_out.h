// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/arrangement.h"
#include "base/watch.h"
#include "box/box.h"
#include "sound/preview.h"
#include "steel/comb.h"

namespace combwright::sound {

// What the disc costs the tune, for the ear: the notes that were dropped, at their own times and
// pitches, as the comb would sound them if it had the teeth. Each is sounded by the teeth next to
// it in pitch with all partials moved by the same interval (steel of another stiffness), let go
// with the same force; nothing damps one note for the next of another pitch. Silent where nothing
// was dropped. `combs` are those of the box. Throws Error as preview() does.
Preview left_out(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                 const arrange::Arrangement& arrangement, const PreviewOptions& options = {},
                 const Watch& watch = {});

}  // namespace combwright::sound
