// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.h"

namespace combwright::arrange {

enum class Role { melody, bass, inner };
enum class Fate { kept, octave, moved, dropped };

std::string_view to_text(Role role);
std::string_view to_text(Fate fate);

// One written note and what became of it.
struct ArrangedNote {
  int index = 0;         // place in Arrangement::notes
  double onset_s = 0.0;  // on the disc's clock, which starts at the start line
  double duration_s = 0.0;
  int midi = 0;  // as written, before the transposition
  double weight = 0.0;
  Role role = Role::inner;
  Fate fate = Fate::dropped;
  std::string why;    // for all but kept
  int bar = 0;        // as played, from 1
  double beat = 0.0;  // within the bar, from 1
  int part = 0;       // index into Tune::parts
  bool locked = false;
};

// One tooth (or pair) let go.
struct Pluck {
  double time_s = 0.0;  // of letting go, on the disc's clock
  int track = 0;        // from 1
  int note = 0;         // index into Arrangement::notes
};

struct TrackUse {
  int track = 0;
  int midi = 0;
  double radius_m = 0.0;
  double min_interval_s = 0.0;
};

// One transposition and tempo that the search looked at. The fidelity stands only where the bound
// did not already rule it out.
struct Trial {
  int transpose_semitones = 0;
  double tempo_factor = 1.0;
  double bound = 0.0;
  std::optional<double> fidelity;
};

// A tune as the box can play it. All times are on the disc's clock.
struct Arrangement {
  std::string box_name;
  std::string title;
  int transpose_semitones = 0;
  double tempo_factor = 1.0;  // above 1 is faster than written
  double turn_time_s = 0.0;
  int first_bar = 1;  // of the excerpt, as played, from 1
  int last_bar = 1;
  std::vector<TrackUse> tracks;
  std::vector<ArrangedNote> notes;  // by onset, then midi
  std::vector<Pluck> plucks;        // by time, then track
  double fidelity = 0.0;            // earned weight / all weight
  double fidelity_bound = 0.0;      // no arrangement under the same rules exceeds it
  std::vector<Trial> trials;
  Findings findings;
};

// The notes of the melody that are left out, as indices into Arrangement::notes.
std::vector<std::size_t> lost_melody(const Arrangement& arrangement);

}  // namespace combwright::arrange
