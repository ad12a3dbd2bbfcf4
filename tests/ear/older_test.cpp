// SPDX-License-Identifier: Apache-2.0
#include "ear/older.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "ear/stretch.h"
#include "signals.h"

namespace combwright::ear {
namespace {

using namespace test;

constexpr double onset_s = 0.25;
constexpr double from_s = 0.28;

// Which of two tones, the first let go at the onset, the other this long before the recording, are
// found to be older, told from that much of the recording before the onset.
std::vector<std::optional<bool>> older_of(double hz, double other_hz, double noise,
                                          double heard_s = onset_s) {
  Scene scene;
  scene.plucks = {{onset_s, {{hz, 2.0, 1.0, 0.3}}}, {-0.4, {{other_hz, 2.0, 1.0, 0.7}}}};
  scene.noise = noise;
  const std::vector<double> samples = sound(scene, 5);
  const auto place = [&](double s) { return static_cast<std::size_t>(s * scene.rate_hz); };
  std::vector<Ring> rings;
  for (const Plucked& pluck : scene.plucks)
    rings.push_back(later(pluck.rings[0], from_s - pluck.onset_s));
  const RingFit fit =
      fit_rings(stretch_of(std::span(samples).subspan(place(from_s)), 48000.0), rings);
  return find_older(samples, scene.rate_hz, fit, place(from_s), place(onset_s - heard_s),
                    place(onset_s - 0.015));
}

TEST(Older, ToldOfTonesTooCloseToBeToldApartBefore) {
  // In 0.235 s two tones 3 Hz apart are one.
  for (const double apart_hz : {3.0, 6.0, 25.0, 200.0}) {
    const auto older = older_of(200.0, 200.0 + apart_hz, 0.01);
    EXPECT_EQ(older[0], false) << apart_hz;
    EXPECT_EQ(older[1], true) << apart_hz;
  }
}

TEST(Older, NotToldFromWhatIsLostInNoiseOrTooShort) {
  EXPECT_FALSE(older_of(200.0, 300.0, 8.0, 0.05)[0].has_value());
  EXPECT_FALSE(older_of(200.0, 300.0, 0.01, 0.02)[0].has_value());
}

TEST(Older, WhatDiesAtOnceIsNew) {
  Scene scene;
  scene.plucks = {{onset_s, {{900.0, 150.0, 1.0, 0.0}}}};
  scene.noise = 1e-4;
  const std::vector<double> samples = sound(scene, 1);
  const RingFit fit = fit_rings(stretch_of(std::span(samples).subspan(12000, 24000), 48000.0),
                                {{900.0, 150.0, 1.0, 0.0}});
  EXPECT_EQ(find_older(samples, 48000.0, fit, 12000, 0, 11280)[0], false);
}

}  // namespace
}  // namespace combwright::ear
