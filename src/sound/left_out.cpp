// SPDX-License-Identifier: Apache-2.0
#include "sound/left_out.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdlib>

#include "disc/disc.h"

namespace combwright::sound {
namespace {

// The place of the track whose note is nearest, the innermost of several.
std::size_t nearest(const std::vector<box::Track>& tracks, int midi) {
  const auto found =
      std::min_element(tracks.begin(), tracks.end(), [&](const box::Track& a, const box::Track& b) {
        return std::abs(a.midi - midi) < std::abs(b.midi - midi);
      });
  return static_cast<std::size_t>(found - tracks.begin());
}

// Every mode goes with the root of the stiffness, the force of a lift with the stiffness itself.
steel::CombTooth moved(steel::CombTooth tooth, int semitones) {
  const double stiffer = std::exp2(semitones / 6.0);
  tooth.in_tune.steel.modulus_pa *= stiffer;
  tooth.in_tune.root.turning_n_m *= stiffer;
  tooth.in_tune.root.shifting_n_m *= stiffer;
  for (steel::Lead& lead : tooth.in_tune.leads) lead.modulus_pa *= stiffer;
  tooth.lift_m /= stiffer;
  return tooth;
}

}  // namespace

Preview left_out(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                 const arrange::Arrangement& arrangement, const PreviewOptions& options,
                 const Watch& watch) {
  std::vector<int> pitches;
  for (const arrange::ArrangedNote& note : arrangement.notes)
    if (note.fate == arrange::Fate::dropped)
      pitches.push_back(note.midi + arrangement.transpose_semitones);
  disc::Disc disc;
  disc.turn_time_s = arrangement.turn_time_s;
  if (pitches.empty()) return preview(box, combs, disc, options, watch);
  std::sort(pitches.begin(), pitches.end());
  pitches.erase(std::unique(pitches.begin(), pitches.end()), pitches.end());

  box::Box heard = box;
  heard.scale.midi = pitches;
  heard.tracks.count = static_cast<int>(pitches.size());
  heard.tracks.bass = box::BassSide::inner;
  const std::vector<box::Track> tracks = box::tracks(box);
  std::vector<steel::CombDesign> heard_combs = combs;
  for (std::size_t c = 0; c < combs.size(); ++c) {
    heard_combs[c].teeth.clear();
    for (const int pitch : pitches) {
      const std::size_t track = nearest(tracks, pitch);
      heard_combs[c].teeth.push_back(moved(combs[c].teeth[track], pitch - tracks[track].midi));
    }
  }
  for (const arrange::ArrangedNote& note : arrangement.notes) {
    if (note.fate != arrange::Fate::dropped) continue;
    const int pitch = note.midi + arrangement.transpose_semitones;
    const auto place = std::lower_bound(pitches.begin(), pitches.end(), pitch) - pitches.begin();
    disc.projections.push_back({.track = static_cast<int>(place) + 1,
                                .midi = pitch,
                                .time_s = std::clamp(note.onset_s, 0.0, disc.turn_time_s),
                                .note = note.index});
  }
  return preview(heard, heard_combs, disc, options, watch);
}

}  // namespace combwright::sound
