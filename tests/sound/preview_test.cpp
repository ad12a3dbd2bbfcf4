// SPDX-License-Identifier: Apache-2.0
#include "sound/preview.h"

#include <cmath>
#include <functional>
#include <string>

#include <gtest/gtest.h>

#include "base/error.h"
#include "reference.h"
#include "scene.h"

namespace combwright::sound {
namespace {

using test::disc_with;
using test::heard;

std::string message_of(const std::function<void()>& call) {
  try {
    call();
  } catch (const Error& error) {
    return error.what();
  }
  return "";
}

// Root of the mean square of the left channel between two moments.
double level(const Preview& preview, double from_s, double to_s) {
  const auto first = static_cast<std::size_t>(from_s * preview.sample_rate_hz);
  const auto end = static_cast<std::size_t>(to_s * preview.sample_rate_hz);
  double sum = 0.0;
  for (std::size_t i = first; i < end; ++i) sum += std::pow(preview.left[i], 2);
  return std::sqrt(sum / static_cast<double>(end - first));
}

TEST(Preview, SamplesAreWithinTheClaimedErrorOfTheModel) {
  const auto box = test::large_box();
  const auto disc = test::random_disc(box, 60, 3.0, 7);  // stream "preview error"
  const PreviewOptions options{.tail_s = 1.0};
  const auto reference = test::reference(box, test::bars_for(box), disc, options);
  const double worst = test::largest_difference(heard(box, disc, options), reference);
  RecordProperty("worst", std::to_string(worst * 1e6) + "e-6");
  EXPECT_LE(worst, preview_error);
}

TEST(Preview, AFewTeethOverAndOverAreWithinTheClaimedErrorToo) {
  const auto box = test::box_with({40, 96});
  const auto disc = test::random_disc(box, 40, 2.0, 8);  // stream "preview error, few teeth"
  const PreviewOptions options{.sample_rate_hz = 44100, .tail_s = 0.5};
  const auto reference = test::reference(box, test::bars_for(box), disc, options);
  const double worst = test::largest_difference(heard(box, disc, options), reference);
  RecordProperty("worst", std::to_string(worst * 1e6) + "e-6");
  EXPECT_LE(worst, preview_error);
}

TEST(Preview, AnyNumberOfThreadsGivesTheSameSamples) {
  const auto box = test::large_box();
  const auto disc = test::random_disc(box, 200, 8.0, 9);  // stream "preview threads"
  const auto one = heard(box, disc, {.threads = 1});
  for (const unsigned threads : {2U, 3U, 8U}) {
    const auto many = heard(box, disc, {.threads = threads});
    EXPECT_EQ(many.left, one.left);
    EXPECT_EQ(many.right, one.right);
  }
}

TEST(Preview, LoudestSampleHasTheLevelAskedForAndAnswered) {
  const auto box = test::large_box();
  const auto result = heard(box, test::random_disc(box, 50, 2.0, 10), {.peak_dbfs = -6.0});
  float peak = 0.0F;
  for (const float sample : result.left) peak = std::max(peak, std::abs(sample));
  for (const float sample : result.right) peak = std::max(peak, std::abs(sample));
  EXPECT_NEAR(peak, std::pow(10.0, -6.0 / 20), 1e-6);
  EXPECT_NEAR(result.peak_dbfs, -6.0, 1e-5);
}

TEST(Preview, DamperSilencesAToothBeforeItIsPluckedAgain) {
  const auto box = test::box_with({60});
  const auto once = heard(box, disc_with({{1, 0.1}}, 2.0));
  const auto twice = heard(box, disc_with({{1, 0.1}, {1, 1.0}}, 2.0));
  // Untouched until 20 ms before; five times 3 ms later, 43 dB less.
  EXPECT_NEAR(level(twice, 0.90, 0.97) / level(once, 0.90, 0.97), 1.0, 0.01);
  EXPECT_LT(level(twice, 0.995, 0.9999), 0.01 * level(once, 0.995, 0.9999));
}

TEST(Preview, NothingSoundsBeforeTheFirstPluckNorAfterTheFade) {
  const auto result = heard(test::box_with({60}), disc_with({{1, 0.5}}, 1.0), {.tail_s = 1.0});
  EXPECT_EQ(level(result, 0.0, 0.4999), 0.0);
  EXPECT_EQ(result.left.size(), 96000U);
  EXPECT_EQ(result.left.back(), 0.0F);
}

TEST(Preview, InnermostTrackSoundsLeftAndOutermostRight) {
  const auto box = test::box_with({60, 64, 67});
  const auto louder_left = [&](int track) {
    const auto result = heard(box, disc_with({{track, 0.0}}, 1.0));
    double left = 0.0;
    double right = 0.0;
    for (std::size_t i = 0; i < result.left.size(); ++i)
      left += std::abs(result.left[i]), right += std::abs(result.right[i]);
    return left / right;
  };
  EXPECT_GT(louder_left(1), 1.5);
  EXPECT_NEAR(louder_left(2), 1.0, 1e-3);
  EXPECT_LT(louder_left(3), 0.67);
}

TEST(Preview, PairBeatsAtTheDifferenceOfItsCombs) {
  // Two equal tones: the first silence comes after half a beat (text-book).
  auto box = test::box_with({96});
  box.combs.push_back({.name = "second", .offset_cents = 10.0});
  const auto result = heard(box, disc_with({{1, 0.0}}, 1.0));
  const double beat_hz = 2093.004522 * (std::exp2(10.0 / 1200.0) - 1.0);
  const double silent_s = 0.5 / beat_hz;
  EXPECT_LT(level(result, silent_s - 0.001, silent_s + 0.001),
            0.1 * level(result, 0.5 * silent_s, 0.55 * silent_s));
}

// The force at the root goes with the lift. The first tooth has died away when the second one is
// plucked.
TEST(Preview, ToothLiftedHalfAsFarSoundsHalfAsLoud) {
  const auto box = test::box_with({60, 72});
  auto combs = test::bars_for(box);
  const auto second_to_first = [&] {
    const auto result = preview(box, combs, disc_with({{1, 0.0}, {2, 8.0}}, 9.0));
    return level(result, 8.0, 8.1) / level(result, 0.0, 0.1);
  };
  const double full = second_to_first();
  combs[0].teeth[1].lift_m *= 0.5;
  EXPECT_NEAR(second_to_first() / full, 0.5, 1e-3);
}

TEST(Preview, DiscWithoutProjectionsIsSilence) {
  const auto result = heard(test::box_with({60}), disc_with({}, 1.0));
  EXPECT_EQ(level(result, 0.0, 4.0), 0.0);
  EXPECT_TRUE(std::isinf(result.peak_dbfs));
}

TEST(Preview, WrongOptionsAreRefusedWithWhatWouldBeRight) {
  const auto box = test::box_with({60});
  const auto disc = disc_with({{1, 0.0}}, 1.0);
  EXPECT_EQ(message_of([&] { heard(box, disc, {.sample_rate_hz = 0}); }),
            "sample rate is 0; it must be 8000 to 192000 Hz");
  EXPECT_EQ(message_of([&] { heard(box, disc, {.tail_s = std::nan("")}); }),
            "tail is nan; it must be 0 to 60 s");
  EXPECT_EQ(message_of([&] { heard(box, disc, {.peak_dbfs = 1.0}); }),
            "peak is 1; it must be -60 to 0 dB");
  EXPECT_EQ(message_of([&] { heard(box, disc_with({}, 1e9)); }),
            "time of a turn is 1000000000; it must be 0 to 3600 s");
}

TEST(Preview, ProjectionsThatTheBoxCannotPlayAreRefused) {
  const auto box = test::box_with({60, 62});
  EXPECT_EQ(message_of([&] {
              heard(box, disc_with({{1, 0.0}, {3, 0.0}}, 1.0));
            }),
            "projection 2 lies on track 3; the box has tracks 1 to 2");
  EXPECT_EQ(message_of([&] {
              heard(box, disc_with({{1, 1.5}}, 1.0));
            }),
            "projection 1 plucks at 1.5 s; the turn lasts 1 s");
}

}  // namespace
}  // namespace combwright::sound
