// SPDX-License-Identifier: Apache-2.0
#include "ear/listener.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "base/file.h"
#include "ear/recording_reader.h"
#include "signals.h"

namespace combwright::ear {
namespace {

using namespace test;

struct Live {
  std::vector<PluckSound> plucks;
  std::vector<double> told_s;  // when each was handed out
};

// Everything that a listener hears in a recording that comes block by block.
Live listen(const std::vector<double>& samples, double rate_hz, std::optional<double> near_hz = {},
            std::size_t block = 1000) {
  Listener listener(rate_hz);
  Live live;
  for (std::size_t n = 0; n < samples.size(); n += block) {
    const auto part = std::span(samples).subspan(n, std::min(block, samples.size() - n));
    for (PluckSound& pluck : listener.take(part, near_hz)) {
      live.plucks.push_back(std::move(pluck));
      live.told_s.push_back(static_cast<double>(n + part.size()) / rate_hz);
    }
  }
  return live;
}

const HeardPluck* best(const PluckSound& pluck) {
  const auto place = surest(pluck.heard.plucks);
  return place ? &pluck.heard.plucks[*place] : nullptr;
}

// What the stretch gives to the function behind `pitch`.
void expect_as_pitch(const PluckSound& pluck, double rate_hz, std::optional<double> near_hz) {
  const Heard again = hear(pluck.samples, rate_hz, {near_hz});
  ASSERT_EQ(again.plucks.size(), pluck.heard.plucks.size());
  for (std::size_t i = 0; i < again.plucks.size(); ++i) {
    EXPECT_EQ(again.plucks[i].own[0].frequency_hz, pluck.heard.plucks[i].own[0].frequency_hz);
    EXPECT_EQ(again.plucks[i].own[0].stderr_hz, pluck.heard.plucks[i].own[0].stderr_hz);
    EXPECT_EQ(again.plucks[i].sure, pluck.heard.plucks[i].sure);
  }
}

Scene scene_of(double hz, double onset_s, double seconds, double until_s = HUGE_VAL) {
  Scene scene;
  scene.seconds = seconds;
  scene.plucks = {{onset_s, tooth_rings(hz), until_s}};
  scene.noise = noise_of(40.0);
  scene.click = 1.0;
  scene.level = 0.3;
  return scene;
}

Recording example(const std::string& name) {
  const std::string path = std::string(COMBWRIGHT_SOURCE_DIR) + "/examples/recordings/" + name;
  return read_recording(read_file(path, max_recording_bytes), name);
}

TEST(Listener, APluckIsHandedOutOnceAndReadAsItsStretchWouldBe) {
  for (const double hz : {66.0, 261.0, 1046.0, 3900.0}) {
    const Scene scene = scene_of(hz, 0.8, 5.0);
    const Live live = listen(sound(scene, 1), scene.rate_hz);
    ASSERT_EQ(live.plucks.size(), 1U) << hz;
    const HeardPluck* pluck = best(live.plucks[0]);
    ASSERT_TRUE(pluck) << hz;
    EXPECT_TRUE(pluck->sure) << hz;
    EXPECT_NEAR(cents(pluck->own[0].frequency_hz, hz), 0.0, 0.1) << hz;
    EXPECT_NEAR(live.plucks[0].begin_s + pluck->onset_s, 0.8, 0.002) << hz;
    expect_as_pitch(live.plucks[0], scene.rate_hz, {});
    EXPECT_LE(live.told_s[0], 0.8 + Listener::most_listen_s + 0.2) << hz;
  }
}

TEST(Listener, TheExampleRecordings) {
  const Recording tooth = example("tooth.flac");
  std::vector<double> samples = tooth.channels[0];
  const Live live = listen(samples, tooth.rate_hz, 425.0);
  ASSERT_EQ(live.plucks.size(), 1U);
  ASSERT_TRUE(best(live.plucks[0]));
  const OwnMode& own = best(live.plucks[0])->own[0];
  EXPECT_TRUE(best(live.plucks[0])->sure);
  EXPECT_NEAR(cents(own.frequency_hz, 425.0), 0.0, 0.1);
  expect_as_pitch(live.plucks[0], tooth.rate_hz, 425.0);
  const Heard whole = hear(samples, tooth.rate_hz, {425.0});
  const OwnMode& all = whole.plucks[*surest(whole.plucks)].own[0];
  EXPECT_NEAR(own.frequency_hz, all.frequency_hz, 4.0 * std::hypot(own.stderr_hz, all.stderr_hz));
}

TEST(Listener, ToothAfterToothOfACombThatRingsOn) {
  const Recording comb = example("comb.flac");
  const Heard whole = hear(comb.channels[0], comb.rate_hz, {.take = true});
  const Live live = listen(comb.channels[0], comb.rate_hz);
  std::size_t sure = 0;
  for (const PluckSound& pluck : live.plucks) {
    expect_as_pitch(pluck, comb.rate_hz, {});
    if (!best(pluck) || !best(pluck)->sure) continue;
    ++sure;
    EXPECT_TRUE(std::any_of(whole.plucks.begin(), whole.plucks.end(), [&](const HeardPluck& one) {
      return std::abs(one.onset_s - pluck.onset_s) < 0.05 &&
             std::abs(cents(one.own[0].frequency_hz, best(pluck)->own[0].frequency_hz)) < 0.3;
    })) << pluck.onset_s;
  }
  EXPECT_EQ(live.plucks.size(), whole.plucks.size());
  EXPECT_GE(sure + 1, whole.plucks.size());
}

TEST(Listener, HowSoundIsCutIntoBlocksChangesNothing) {
  const Scene scene = scene_of(440.0, 0.5, 3.0, 1.4);
  const std::vector<double> samples = sound(scene, 2);
  const Live live = listen(samples, scene.rate_hz);
  ASSERT_EQ(live.plucks.size(), 1U);
  for (const std::size_t block : {1U, 4801U, 200000U}) {
    const Live other = listen(samples, scene.rate_hz, {}, block);
    ASSERT_EQ(other.plucks.size(), 1U) << block;
    EXPECT_EQ(other.plucks[0].samples, live.plucks[0].samples) << block;
  }
}

TEST(Listener, AToothThatIsHeldIsReadAtOnceByWhatItRang) {
  for (const double held_after_s : {0.3, 0.5, 1.0}) {
    const Scene scene = scene_of(440.0, 0.8, 4.0, 0.8 + held_after_s);
    const Live live = listen(sound(scene, 3), scene.rate_hz);
    ASSERT_EQ(live.plucks.size(), 1U) << held_after_s;
    ASSERT_TRUE(best(live.plucks[0])) << held_after_s;
    EXPECT_NEAR(cents(best(live.plucks[0])->own[0].frequency_hz, 440.0), 0.0, 0.3) << held_after_s;
    EXPECT_LE(live.told_s[0], std::max(0.8 + Listener::least_listen_s, 0.8 + held_after_s) + 0.45)
        << held_after_s;
  }
}

TEST(Listener, InNoiseItListensLongerButNotForEver) {
  Scene scene = scene_of(440.0, 0.8, 5.0);
  scene.noise = noise_of(0.0);
  scene.click = 0.0;
  const Live live = listen(sound(scene, 4), scene.rate_hz, 440.0);
  ASSERT_EQ(live.plucks.size(), 1U);
  ASSERT_TRUE(best(live.plucks[0]));
  EXPECT_NEAR(cents(best(live.plucks[0])->own[0].frequency_hz, 440.0), 0.0, 2.0);
  EXPECT_LE(live.told_s[0], 0.8 + Listener::most_listen_s + 0.2);
}

TEST(Listener, TwoPlucksInQuickTurnAreTwo) {
  for (const double apart_s : {0.4, 0.6, 1.0}) {
    Scene scene = scene_of(440.0, 0.8, 5.0);
    scene.plucks.push_back({0.8 + apart_s, tooth_rings(554.37), HUGE_VAL});
    const Live live = listen(sound(scene, 5), scene.rate_hz);
    ASSERT_EQ(live.plucks.size(), 2U) << apart_s;
    ASSERT_TRUE(best(live.plucks[0]) && best(live.plucks[1])) << apart_s;
    EXPECT_NEAR(cents(best(live.plucks[0])->own[0].frequency_hz, 440.0), 0.0, 0.3) << apart_s;
    EXPECT_NEAR(cents(best(live.plucks[1])->own[0].frequency_hz, 554.37), 0.0, 0.3) << apart_s;
  }
}

TEST(Listener, AToothTouchedTwiceIsOnePluck) {
  Scene scene = scene_of(440.0, 0.8, 5.0, 0.95);
  scene.plucks.push_back({0.95, tooth_rings(440.0), HUGE_VAL});
  const Live live = listen(sound(scene, 6), scene.rate_hz);
  ASSERT_EQ(live.plucks.size(), 1U);
  ASSERT_TRUE(best(live.plucks[0]));
  EXPECT_NEAR(cents(best(live.plucks[0])->own[0].frequency_hz, 440.0), 0.0, 0.3);
}

TEST(Listener, TheSameToothAgainAndAgainWhileItRings) {
  Scene scene = scene_of(261.6, 0.8, 9.0, 2.3);
  scene.plucks.push_back({2.3, tooth_rings(261.6), 5.0});
  scene.plucks.push_back({5.0, tooth_rings(261.6), HUGE_VAL});
  const Live live = listen(sound(scene, 7), scene.rate_hz, 261.6);
  ASSERT_EQ(live.plucks.size(), 3U);
  for (const PluckSound& pluck : live.plucks) {
    ASSERT_TRUE(best(pluck));
    EXPECT_NEAR(cents(best(pluck)->own[0].frequency_hz, 261.6), 0.0, 0.1);
  }
}

TEST(Listener, SilenceNoiseAndHumAreNoPlucks) {
  Scene scene;
  scene.seconds = 8.0;
  EXPECT_TRUE(listen(sound(scene, 8), scene.rate_hz).plucks.empty());
  scene.noise = 0.01;
  EXPECT_TRUE(listen(sound(scene, 9), scene.rate_hz).plucks.empty());
  scene.hum = 0.05;
  EXPECT_TRUE(listen(sound(scene, 10), scene.rate_hz).plucks.empty());
}

TEST(Listener, ABeatIsNoOnset) {
  Scene scene = scene_of(440.0, 0.8, 9.0);
  scene.plucks.push_back({0.8, tooth_rings(441.2), HUGE_VAL});
  EXPECT_EQ(listen(sound(scene, 11), scene.rate_hz).plucks.size(), 1U);
}

TEST(Listener, AKnockHasNoPlucks) {
  Scene scene = scene_of(440.0, 0.8, 4.0);
  scene.plucks[0].rings.clear();
  scene.click = 1.0;
  for (const PluckSound& pluck : listen(sound(scene, 12), scene.rate_hz, 440.0).plucks)
    EXPECT_FALSE(best(pluck));
}

TEST(Listener, SaysThatSomethingRings) {
  const Scene scene = scene_of(440.0, 0.5, 2.0);
  const std::vector<double> samples = sound(scene, 13);
  Listener listener(scene.rate_hz);
  listener.take(std::span(samples).first(20000), {});
  EXPECT_FALSE(listener.ringing_s());
  listener.take(std::span(samples).subspan(20000, 18400), {});
  ASSERT_TRUE(listener.ringing_s());
  EXPECT_NEAR(*listener.ringing_s(), 0.3, 0.02);
}

}  // namespace
}  // namespace combwright::ear
