// SPDX-License-Identifier: Apache-2.0
#include "tuner/tune.h"

#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>

#include "base/error.h"
#include "music/pitch.h"
#include "steel/modes.h"
#include "steel/tuning.h"
#include "tuner/filing.h"
#include "tuner/simulated_tooth.h"

namespace combwright::tuner {
namespace {

using testing::HasSubstr;

// One comb for all tests of this file.
class Tune : public testing::Test {
 protected:
  ToothOf of(std::size_t tooth) const { return {shop_.box, shop_.shop, shop_.designs, 0, tooth}; }

  const steel::CombTooth& tooth(std::size_t place) const { return shop_.designs[0].teeth[place]; }

  // A reading of the tooth as designed after this was taken off in all.
  Reading reading(std::size_t place, const TakenOff& off, const TakenOff& since,
                  double more_cents = 0.0) const {
    const double cents = pitch_cents(tooth(place), off) + more_cents;
    return {.frequency_hz = tooth(place).target_hz * std::exp2(cents / 1200.0), .since = since};
  }

  std::string said(std::size_t place, const std::vector<Reading>& readings) const {
    std::string all;
    for (const Finding& finding : tune(of(place), readings).findings)
      all += to_text(finding) + "\n";
    return all;
  }

  simulation::Workshop shop_ = simulation::bramble();
};

TEST_F(Tune, AToothAsDesignedIsClippedShortOfItsPitchAndDoesWhatIsExpected) {
  const Tuning tuning = tune(of(1), {reading(1, {}, {})});
  EXPECT_NEAR(tuning.offset_cents, -tooth(1).flat_cents, 1e-6);
  ASSERT_EQ(tuning.advice.work, Work::clip);
  EXPECT_LE(tuning.advice.overshoot_probability, 0.005);
  EXPECT_LT(tuning.advice.expect_cents, 0.0);
  EXPECT_NEAR(pitch_cents(tooth(1), {.clip_m = tuning.advice.amount_m}), tuning.advice.expect_cents,
              0.1);
  const steel::Lead& lead = tooth(1).as_cut.leads.front();
  EXPECT_NEAR(tuning.advice.mass_kg, tuning.advice.amount_m * lead.mass_kg / lead.length_m, 1e-9);
  EXPECT_TRUE(tuning.findings.empty());
}

TEST_F(Tune, AGreaterRiskTakesMoreAtOnce) {
  const std::vector<Reading> readings{reading(1, {}, {})};
  const Tuning bold = tune(of(1), readings, {.risk = 0.05});
  EXPECT_GT(bold.advice.amount_m, tune(of(1), readings).advice.amount_m);
  EXPECT_LE(bold.advice.overshoot_probability, 0.05);
}

TEST_F(Tune, StopsInsideTheTolerance) {
  Reading near = reading(1, {}, {}, tooth(1).flat_cents - 1.2);
  const Tuning tuning = tune(of(1), {near});
  EXPECT_FALSE(tuning.advice.work);
  EXPECT_TRUE(tuning.findings.empty());
  EXPECT_NEAR(tuning.advice.expect_cents, -1.2, 0.01);
}

TEST_F(Tune, ASharpToothIsFiledAtItsRootWithTheSafetyFactorTold) {
  const Tuning tuning = tune(of(4), {reading(4, {}, {}, tooth(4).flat_cents + 15.0)});
  ASSERT_EQ(tuning.advice.work, Work::file_root);
  EXPECT_EQ(tuning.advice.place.from_m, 0.0);
  EXPECT_NEAR(tuning.advice.place.to_m, 0.1 * steel::length_m(tooth(4).as_cut), 1e-12);
  // The filed tooth solved anew.
  const steel::Tooth filed =
      steel::filed(tooth(4).as_cut, 0.0, tuning.advice.place.to_m, tuning.advice.amount_m);
  EXPECT_NEAR(steel::cents_between(tooth(4).as_cut, filed), -15.0, 0.3);
  EXPECT_LT(tuning.advice.safety_factor, safety_factor(shop_.box, tooth(4), {}));
  EXPECT_GT(tuning.advice.safety_factor, shop_.box.combs[0].safety_factor);
}

TEST_F(Tune, FilingThatWouldBreakTheToothIsAFault) {
  shop_.box.combs[0].safety_factor = 5.0;
  const Tuning tuning = tune(of(4), {reading(4, {}, {}, tooth(4).flat_cents + 40.0)});
  EXPECT_FALSE(tuning.advice.work);
  ASSERT_TRUE(has_fault(tuning.findings));
  EXPECT_THAT(tuning.findings.front().what, HasSubstr("safety factor would fall"));
}

TEST_F(Tune, AToothWithoutAWeightIsFiledAtItsTip) {
  const std::size_t last = shop_.designs[0].teeth.size() - 1;
  const Tuning tuning = tune(of(last), {reading(last, {}, {})});
  ASSERT_EQ(tuning.advice.work, Work::file_tip);
  EXPECT_LE(tuning.advice.overshoot_probability, 0.005);
  EXPECT_GT(tuning.advice.expect_cents, -tooth(last).flat_cents);
}

TEST_F(Tune, WhereTheNippersAreTooCoarseTheTipIsFiled) {
  shop_.shop.lead.smallest_clip_kg = 5e-5;
  const Tuning tuning = tune(of(4), {reading(4, {}, {}, tooth(4).flat_cents - 8.0)});
  ASSERT_EQ(tuning.advice.work, Work::file_tip);
  EXPECT_NEAR(tuning.advice.place.from_m, 0.9 * steel::length_m(tooth(4).as_cut), 1e-12);
}

TEST_F(Tune, WhenTheWeightIsUsedUpTheTipIsFiled) {
  // A soft steel, so that all but the last tenth of a millimetre leaves it 6 cents flat.
  shop_.box.steel.modulus_spread = 0.2;
  std::size_t last = 0;
  while (tooth(last + 1).leaded()) ++last;
  const TakenOff all{.clip_m = most(tooth(last), Work::clip)};
  const double softer = -6.0 - pitch_cents(tooth(last), all);
  const Tuning tuning =
      tune(of(last), {reading(last, {}, {}, softer), reading(last, all, all, softer)});
  ASSERT_EQ(tuning.advice.work, Work::file_tip);
  EXPECT_LT(tuning.weight_left_m, 5e-4);
}

TEST_F(Tune, ReadingsAt20CAreBroughtToTheCombsTemperature) {
  shop_.box.scale.temperature_c = 25.0;
  const double hz = tooth(1).target_hz;
  const Tuning tuning = tune(of(1), {{.frequency_hz = hz}});
  // -0.20645 cents a kelvin: the sheet's closed form for e_E = -2.5e-4 and alpha = 1.15e-5.
  EXPECT_NEAR(tuning.offset_cents, 5.0 * -0.20645, 0.002);
  EXPECT_NEAR(tuning.measured_hz, hz * std::exp2(5.0 * -0.20645 / 1200.0), 1e-3);
}

TEST_F(Tune, ABoxWithoutPairsRefusesAPair) {
  EXPECT_THROW(tune(of(1), {reading(1, {}, {})}, {.pair_hz = 300.0}), Error);
}

TEST_F(Tune, APairIsTunedByItsBeat) {
  shop_.box.combs.push_back(shop_.box.combs[0]);
  shop_.designs.push_back(shop_.designs[0]);
  for (steel::CombTooth& tooth : shop_.designs[1].teeth) tooth.target_hz += 1.0;
  const ToothOf back{shop_.box, shop_.shop, shop_.designs, 1, 1};
  const double front_hz = tooth(1).target_hz + 0.3;  // its other tooth is a little sharp
  const Tuning tuning = tune(back, {{.frequency_hz = front_hz + 1.05}}, {.pair_hz = front_hz});
  EXPECT_NEAR(*tuning.target_beat_hz, 1.0, 1e-9);
  EXPECT_NEAR(*tuning.beat_hz, 1.05, 1e-9);
  EXPECT_NEAR(tuning.target_hz, front_hz + 1.0, 1e-9);
  EXPECT_NEAR(tuning.offset_cents, music::cents((front_hz + 1.05) / (front_hz + 1.0)), 1e-9);
}

TEST_F(Tune, ReadingsThatAreNotOfThisToothAreRefusedOrNamed) {
  EXPECT_THROW(tune(of(1), {{.frequency_hz = 2.1 * tooth(1).target_hz}}), Error);
  const Reading other{.frequency_hz = tooth(5).target_hz * 0.97};
  EXPECT_FALSE(tune(of(1), {other}).advice.work);
  const std::string all = said(1, {other});
  EXPECT_THAT(all, HasSubstr("sharper than such a tooth should be"));
  EXPECT_THAT(all, HasSubstr("it fits track 5 or 6 (G4), comb 1"));
}

TEST_F(Tune, AClipThatDidNothingOrTheContraryIsNoticed) {
  const Reading first = reading(1, {}, {});
  EXPECT_THAT(said(1, {first, reading(1, {}, {.clip_m = 5e-4})}), HasSubstr("hardly moved"));
  EXPECT_THAT(said(1, {first, reading(1, {}, {.clip_m = 5e-4}, -5.0)}),
              HasSubstr("fell by 5.00 cents"));
  EXPECT_THAT(said(1, {first, reading(1, {.clip_m = 5e-4}, {.clip_m = 5e-5})}),
              HasSubstr("look at the length"));
  EXPECT_THAT(said(1, {first, reading(1, {}, {}, 7.0)}), HasSubstr("nothing was taken off"));
  EXPECT_EQ(said(1, {first, reading(1, {.clip_m = 5e-4}, {.clip_m = 5e-4})}), "");
}

TEST_F(Tune, NothingIsTakenOffWhileReadingsContradictEachOther) {
  const Reading first = reading(1, {}, {});
  const auto stopped = [&](std::size_t place, const std::vector<Reading>& readings) {
    const Tuning tuning = tune(of(place), readings);
    return has_fault(tuning.findings) && !tuning.advice.work;
  };
  EXPECT_TRUE(stopped(1, {first, reading(1, {}, {.clip_m = 5e-4})}));
  EXPECT_TRUE(stopped(1, {first, reading(1, {}, {.clip_m = 5e-4}, -5.0)}));
  EXPECT_TRUE(stopped(1, {first, reading(1, {}, {}, 20.0)}));
  // A tenth of the length told: 11 mm for 1.1 mm.
  const Reading tenfold = reading(1, {.clip_m = 3e-4}, {.clip_m = 3e-3});
  EXPECT_TRUE(stopped(1, {first, tenfold}));
  EXPECT_THAT(said(1, {first, tenfold}), HasSubstr("(about 0.29 mm would fit)"));
  // Another tooth's pitch, a semitone off.
  const Reading neighbour{.frequency_hz = tooth(7).target_hz};
  EXPECT_TRUE(stopped(6, {neighbour}));
  // A depth of filing that the tooth does not have.
  EXPECT_TRUE(stopped(1, {first, reading(1, {}, {.file_tip_m = 0.05}, 20.0)}));
  // Lengths in all do not hide a wrong tooth.
  const Reading wrong{.frequency_hz = tooth(5).target_hz * 0.97};
  EXPECT_TRUE(stopped(1, {wrong,
                          {.frequency_hz = wrong.frequency_hz * 1.015, .since = {.clip_m = 4e-4}},
                          {.frequency_hz = wrong.frequency_hz * 1.03, .since = {.clip_m = 8e-4}}}));
}

TEST_F(Tune, ASmallClipWithinTheReadingsErrorIsNoAlarm) {
  Reading before = reading(1, {}, {});
  Reading after = reading(1, {.clip_m = 3e-5}, {.clip_m = 3e-5}, -1.0);
  before.stderr_hz = after.stderr_hz = 0.065;
  EXPECT_EQ(said(1, {before, after}), "");
}

TEST_F(Tune, WhatReadingsShareInErrorIsNotAveragedAway) {
  Reading one = reading(1, {}, {}, tooth(1).flat_cents);
  one.stderr_hz = 1e-4;
  one.common_cents = 0.4;
  const double alone = tune(of(1), {one}).known_cents.spread;
  const double eight = tune(of(1), std::vector<Reading>(8, one)).known_cents.spread;
  EXPECT_NEAR(alone, 0.4, 0.01);
  EXPECT_NEAR(eight, 0.4, 0.01);
}

TEST_F(Tune, HeldBackNothingIsAdvised) {
  EXPECT_FALSE(tune(of(1), {reading(1, {}, {})}, {.doubtful = true}).advice.work);
}

TEST_F(Tune, LengthsGivenInAllInsteadOfSinceTheLastAreNoticed) {
  const std::vector<Reading> in_all{reading(1, {}, {}),
                                    reading(1, {.clip_m = 3e-4}, {.clip_m = 3e-4}),
                                    reading(1, {.clip_m = 5e-4}, {.clip_m = 5e-4}),
                                    reading(1, {.clip_m = 6e-4}, {.clip_m = 6e-4})};
  EXPECT_THAT(said(1, in_all), HasSubstr("lengths in all"));
  const std::vector<Reading> too_long{reading(1, {}, {}),
                                      reading(1, {.clip_m = 5e-4}, {.clip_m = 0.05})};
  EXPECT_THAT(said(1, too_long), HasSubstr("were clipped in all"));
  EXPECT_TRUE(has_fault(tune(of(1), too_long).findings));
  EXPECT_FALSE(tune(of(1), too_long).advice.work);
}

TEST_F(Tune, ADeadToneIsNoticed) {
  Reading sound = reading(1, {}, {});
  sound.decay_s = 0.9;
  EXPECT_EQ(said(1, {sound}), "");
  Reading dead = sound;
  dead.decay_s = 0.05;
  EXPECT_THAT(said(1, {dead}), HasSubstr("look for a cracked tooth, a loose weight"));
  Reading shorter = sound;
  shorter.decay_s = 0.25;
  EXPECT_THAT(said(1, {sound, shorter}), HasSubstr("came loose"));
}

TEST_F(Tune, PartialsOfAnotherToothAreNoticed) {
  Reading own = reading(1, {}, {});
  own.partials_hz = {tooth(1).modes_as_cut_hz[1] * 0.97};  // 53 cents below the beam's
  EXPECT_EQ(said(1, {own}), "");
  own.partials_hz = {tooth(1).modes_as_cut_hz[1] * 0.7};
  EXPECT_THAT(said(1, {own}), HasSubstr("none of its higher partials"));
}

}  // namespace
}  // namespace combwright::tuner
