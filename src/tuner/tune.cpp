// SPDX-License-Identifier: Apache-2.0
#include "tuner/tune.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "base/reference.h"
#include "box/target.h"
#include "music/pitch.h"
#include "steel/tuning.h"
#include "tuner/inference/advise.h"
#include "tuner/inference/doubts.h"
#include "tuner/inference/posterior.h"

namespace combwright::tuner {
namespace {

// The first tooth of a pair is nearer to its target than this when it is done.
constexpr double pair_in_tune_cents = 10.0;

// A pitch at 20 C times this is the pitch at the comb's temperature.
double warmth(const ToothOf& of, const steel::CombTooth& tooth) {
  const double kelvin = of.box.scale.temperature_c - reference_c;
  return std::exp2(steel::cents_between(tooth.as_cut, steel::warmed(tooth.as_cut, kelvin)) /
                   1200.0);
}

void check_octave(const Reading& reading, std::size_t i, double ratio, double target_hz) {
  if (ratio > 0.5 && ratio < 2.0) return;
  throw Error({}, fmt::format("reading {} is {:.6g} Hz, over an octave from the tooth's {:.6g} Hz; "
                              "look at its track",
                              i + 1, reading.frequency_hz, target_hz));
}

// The tooth on the same track of the box's other comb, if it has two.
const steel::CombTooth* other_of_pair(const ToothOf& of) {
  return of.designs.size() == 2 ? &of.designs[1 - of.comb].teeth[of.tooth] : nullptr;
}

Known share_of(const Known& logarithm) {
  const double value = std::exp(logarithm.value);
  return {value, value * logarithm.spread};
}

}  // namespace

Tuning tune(const ToothOf& of, const std::vector<Reading>& readings, const Request& request) {
  assert(!readings.empty());
  const steel::CombTooth& designed = of.designs[of.comb].teeth[of.tooth];
  const double warm = warmth(of, designed);
  const steel::CombTooth* const other = other_of_pair(of);

  Tuning tuning{.target_hz = designed.target_hz};
  double other_hz = 0.0;
  if (other) {
    other_hz = other->target_hz;
    tuning.target_beat_hz = designed.target_hz - other->target_hz;
    if (request.pair_hz) {
      other_hz = *request.pair_hz * warm;
      if (std::abs(music::cents(other_hz / other->target_hz)) > 100.0) {
        throw Error({}, fmt::format("the pair's other tooth is given as {:.6g} Hz, and should be "
                                    "{:.6g} Hz; look at its track",
                                    other_hz, other->target_hz));
      }
      tuning.target_hz = other_hz + *tuning.target_beat_hz;
    }
  } else if (request.pair_hz) {
    throw Error({}, "the box has no pairs; leave the pitch of a pair's other tooth out");
  }

  steel::CombTooth tooth = designed;
  tooth.target_hz = tuning.target_hz;
  std::vector<Posterior::Heard> heard;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double ratio = readings[i].frequency_hz * warm / tuning.target_hz;
    check_octave(readings[i], i, ratio, tuning.target_hz);
    heard.push_back({music::cents(ratio), spread_cents(readings[i]), readings[i].since,
                     readings[i].common_cents});
  }

  const Prior before = prior(of.box, of.shop, of.comb, designed);
  const Posterior known(tooth, before, heard);
  tuning.measured_hz = readings.back().frequency_hz * warm;
  tuning.offset_cents = heard.back().cents;
  tuning.known_cents = known.offset_cents();
  tuning.weight = share_of(known.log_weight());
  tuning.hand = share_of(known.bias(Work::clip));
  if (designed.leaded())
    tuning.weight_left_m =
        std::max(0.0, designed.as_cut.leads.front().length_m - known.off().clip_m);
  if (other) tuning.beat_hz = tuning.measured_hz - other_hz;

  const std::string where =
      fmt::format("{}, track {} ({})", box::comb_words(of.designs[of.comb].name), designed.track,
                  music::note_name(designed.midi));
  tuning.findings = doubts(of, before, readings, heard, known, where);
  Wish asked = wish(of.shop, of.box.combs[of.comb]);
  asked.risk = request.risk;
  if (request.pair_hz && std::abs(music::cents(other_hz / other->target_hz)) > pair_in_tune_cents) {
    tuning.findings.push_back(
        {Level::warning, where,
         fmt::format("the pair's other tooth is given as {:.6g} Hz, {:.3g} cents from its own "
                     "target of {:.6g} Hz",
                     other_hz, std::abs(music::cents(other_hz / other->target_hz)),
                     other->target_hz),
         "tune that one first, or look at its pitch"});
  }
  if (request.doubtful || has_fault(tuning.findings))
    tuning.advice.expect_cents = tuning.known_cents.value;
  else
    tuning.advice = advise(of.box, tooth, known, asked, tuning.findings, where);
  return tuning;
}

}  // namespace combwright::tuner
