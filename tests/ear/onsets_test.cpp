// SPDX-License-Identifier: Apache-2.0
#include "ear/onsets.h"

#include <cmath>

#include <gtest/gtest.h>

#include "signals.h"

namespace combwright::ear {
namespace {

using namespace test;

TEST(Onsets, EveryPluckAtEveryRateWithinTheErrorTold) {
  for (const double rate_hz : {22050.0, 44100.0, 96000.0, 192000.0}) {
    Scene scene;
    scene.rate_hz = rate_hz;
    scene.seconds = 3.0;
    scene.plucks = {
        {0.3, tooth_rings(120.0)}, {1.1, tooth_rings(900.0)}, {2.2, tooth_rings(3900.0)}};
    scene.noise = noise_of(40.0);
    scene.click = 0.5;
    const std::vector<std::size_t> onsets = find_onsets(sound(scene, 1), rate_hz);
    ASSERT_EQ(onsets.size(), 3U) << rate_hz;
    for (std::size_t i = 0; i < 3; ++i)
      EXPECT_NEAR(static_cast<double>(onsets[i]) / rate_hz, scene.plucks[i].onset_s, onset_error_s)
          << rate_hz;
  }
}

TEST(Onsets, ABeatIsNone) {
  Scene scene;
  scene.seconds = 4.0;
  scene.plucks = {{0.3, {{440.0, 1.0, 1.0, 0.0}, {441.5, 1.0, 1.0, 0.0}}}};
  scene.noise = noise_of(50.0);
  EXPECT_EQ(find_onsets(sound(scene, 1), scene.rate_hz).size(), 1U);
}

TEST(Onsets, NoneInNoiseAlone) {
  Scene scene;
  scene.seconds = 10.0;
  scene.noise = 0.1;
  EXPECT_TRUE(find_onsets(sound(scene, 1), scene.rate_hz).empty());
}

}  // namespace
}  // namespace combwright::ear
