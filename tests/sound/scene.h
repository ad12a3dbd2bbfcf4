// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <vector>

#include "box/box.h"
#include "disc/disc.h"
#include "music/pitch.h"
#include "sound/preview.h"
#include "steel/comb.h"
#include "steel/modes.h"

namespace combwright::sound::test {

// A box of which only what sounds is filled in; one comb without an offset.
inline box::Box box_with(std::vector<int> notes) {
  box::Box box;
  box.tracks.count = static_cast<int>(notes.size());
  box.scale.midi = std::move(notes);
  box.combs.push_back({.name = "first"});
  box.damper.lead_time_s = 0.02;
  return box;
}

// Two combs of 76 teeth from C2 to E6, a few cents apart.
inline box::Box large_box() {
  std::vector<int> notes;
  for (int track = 0; track < 76; ++track) notes.push_back(36 + track * 52 / 75);
  auto box = box_with(notes);
  box.combs.push_back({.name = "second", .offset_cents = 3.0});
  return box;
}

// A bar of 30 by 2 mm with a point mass of `mass_ratio` times its own at its tip, as thick as its
// pitch asks; by Euler and Bernoulli's theory, in which the pitch goes with the thickness.
inline steel::Tooth bar(double hz, double mass_ratio) {
  constexpr double length_m = 0.03;
  const auto of_thickness = [&](double thickness_m) {
    steel::Tooth tooth = steel::plain_tooth(length_m, 0.002, thickness_m, thickness_m);
    tooth.theory = steel::Theory::thin;
    if (mass_ratio > 0.0) {
      const double mass_kg = mass_ratio * steel::steel_mass_kg(tooth);
      tooth.leads = {steel::lead_block(tooth, mass_kg, length_m, 0.0)};
    }
    return tooth;
  };
  return of_thickness(0.001 * hz / steel::first_mode_hz(of_thickness(0.001)));
}

// Bars for all teeth of the box, each lifted so far that its first mode shakes its root with 1 N:
// the lowest note's with a point mass like its own at the tip, less with every higher note, none at
// the highest.
inline std::vector<steel::CombDesign> bars_for(const box::Box& box) {
  const auto [low, high] = std::minmax_element(box.scale.midi.begin(), box.scale.midi.end());
  std::vector<steel::CombDesign> combs;
  for (const box::Comb& comb : box.combs) {
    combs.emplace_back();
    for (const int midi : box.scale.midi) {
      const double hz =
          music::equal_tempered_hz(midi, box.scale.a4_hz) * std::exp2(comb.offset_cents / 1200.0);
      const double mass_ratio = *low < *high ? double(*high - midi) / (*high - *low) : 0.0;
      const steel::Tooth tooth = bar(hz, mass_ratio);
      const steel::Mode first = steel::modes(tooth, 1).front();
      const double force_n_m = std::abs(first.root_force_n_m) * first.release_share;
      combs.back().teeth.push_back({.midi = midi, .in_tune = tooth, .lift_m = 1.0 / force_n_m});
    }
  }
  return combs;
}

// What is heard of the box with those bars.
inline Preview heard(const box::Box& box, const disc::Disc& disc,
                     const PreviewOptions& options = {}) {
  return preview(box, bars_for(box), disc, options);
}

struct Strike {
  int track;
  double time_s;
};

inline disc::Disc disc_with(const std::vector<Strike>& strikes, double turn_time_s) {
  disc::Disc disc;
  disc.turn_time_s = turn_time_s;
  for (const auto& strike : strikes) {
    disc::Projection projection;
    projection.track = strike.track;
    projection.time_s = strike.time_s;
    disc.projections.push_back(projection);
  }
  return disc;
}

// Plucks at random on all tracks of the box.
inline disc::Disc random_disc(const box::Box& box, int plucks, double turn_time_s,
                              std::uint32_t seed) {
  std::mt19937 random(seed);
  const auto below = [&](double limit) {
    return limit * static_cast<double>(random()) / 4294967296.0;
  };
  std::vector<Strike> strikes;
  for (int i = 0; i < plucks; ++i)
    strikes.push_back({1 + static_cast<int>(below(box.tracks.count)), below(turn_time_s)});
  return disc_with(strikes, turn_time_s);
}

}  // namespace combwright::sound::test
