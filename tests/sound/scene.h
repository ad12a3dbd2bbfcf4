// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "box/box.h"
#include "disc/disc.h"

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
