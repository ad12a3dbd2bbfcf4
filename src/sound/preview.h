// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "base/watch.h"
#include "box/box.h"
#include "disc/disc.h"
#include "steel/comb.h"

namespace combwright::sound {

struct PreviewOptions {
  int sample_rate_hz = 48000;  // 8000 to 192000
  double tail_s = 3.0;         // after the end of the turn, 0 to 60; fades out at its end
  double peak_dbfs = -1.0;     // the loudest sample after scaling, -60 to 0
  unsigned threads = 0;        // 0: one for each core; the samples don't depend on it
};

struct Preview {
  int sample_rate_hz = 48000;
  std::vector<float> left, right;
  double peak_dbfs = 0.0;  // minus infinity if nothing sounds
};

// How a damper works in the model: from its touch on, the tooth loses a factor e every so often.
inline constexpr double damper_decay_s = 0.003;

// A partial is left out once it is so far below the lowest partial of the loudest tooth at its
// start, and altogether where it lies above 0.45 of the sample rate or this frequency.
inline constexpr double floor_db = -100.0;
inline constexpr double highest_partial_hz = 20000.0;

// The last so much of the sound fades out on a straight line.
inline constexpr double fade_s = 0.25;

// Innermost and outermost track sound from so far to the left and right, as angles of the
// equal-power law: left gain cos(pi/4 + angle), right gain sin(pi/4 + angle).
inline constexpr double widest_pan_rad = 0.35;

// One turn of the disc as modal synthesis: each tooth of each comb, as it is in tune, rings from
// the moment in Projection::time_s on with the partials of sound/partials.h until it has died away
// or its damper touches (Damper::lead_time_s before it is plucked again). What is heard is the
// force at the roots; neither soundboard nor changes of speed are in it: a preview for the ear, no
// prediction. `combs` are those of the box, each with a tooth for every track. Throws Error if an
// option is out of bounds, a projection's track is not of the box, its time is not within the turn,
// or the turn lasts longer than longest_turn_s; Cancelled if stopped.
Preview preview(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                const disc::Disc& disc, const PreviewOptions& options = {},
                const Watch& watch = {});

inline constexpr double longest_turn_s = 3600.0;

// Largest difference of a sample from the model evaluated in double precision without the floor,
// in terms of full scale.
inline constexpr double preview_error = 3e-5;

}  // namespace combwright::sound
