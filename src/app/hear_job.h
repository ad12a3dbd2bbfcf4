// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "app/disc_job.h"
#include "base/watch.h"
#include "disc/disc.h"
#include "motor/motor.h"
#include "sound/preview.h"

namespace combwright::app {

// The title that the sound of a tune bears.
std::string heard_title(const TuneInputs& inputs);

// What is heard, and the disc as it turned.
struct Heard {
  disc::Disc disc;
  sound::Preview sound;
};

// A tune's job, with its combs designed, at the even speed of its turn or as the motor turns it in
// that state of the wind. Throws as sound::preview does.
Heard heard_at(const TuneJob& job, std::optional<motor::WindState> wind, const Watch& watch = {});

// The notes alone that the disc leaves out.
sound::Preview left_out(const TuneJob& job, const Watch& watch = {});

}  // namespace combwright::app
