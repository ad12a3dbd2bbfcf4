// SPDX-License-Identifier: Apache-2.0
#include "trials.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/parallel.h"
#include "bound.h"
#include "sound/partials.h"

namespace combwright::ear::bench {
namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;
constexpr double least_hz = 65.406;
constexpr double most_hz = 4186.0;

double between(double low, double high, Random& random) {
  return std::uniform_real_distribution<double>(low, high)(random);
}

double decay_of(double hz) {
  return std::log(1000.0) / sound::ring_time_s(hz, hz);
}

// Of the plucks of a trial, from their onset to the end of its recording.
std::vector<double> bounds(const test::Scene& scene, const std::vector<Ring>& rings) {
  const double onset = scene.plucks[0].onset_s * scene.rate_hz;
  const double first = std::ceil(onset);
  std::vector<Ring> from_first;
  for (const Ring& ring : rings) from_first.push_back(later(ring, (first - onset) / scene.rate_hz));
  const auto samples = static_cast<std::size_t>(std::round(scene.seconds * scene.rate_hz) - first);
  return test::bound_of(from_first, scene.rate_hz, samples, scene.noise).frequency_hz;
}

// A tooth that was plucked before the recording begins.
test::Plucked neighbour(double hz, Random& random) {
  const double semitone = std::exp2((between(0.0, 1.0, random) < 0.5 ? -1.0 : 1.0) / 12.0);
  return {between(-0.8, -0.2, random), test::tooth_rings(hz * semitone)};
}

}  // namespace

Trial lone(double hz, double rate_hz, double snr_db, Random& random) {
  const double drawn_hz = hz * std::exp2(between(-0.5, 0.5, random) / 12.0);
  const Ring ring{drawn_hz, decay_of(hz), 0.5, between(0.0, two_pi, random)};
  Trial trial{{.rate_hz = rate_hz, .seconds = 1.3}, {drawn_hz}, {}};
  trial.scene.plucks = {{between(0.15, 0.151, random), {ring}}};
  trial.scene.noise = test::noise_of(snr_db, ring.amplitude);
  return trial;
}

double lone_bound_hz(double hz, double rate_hz, double snr_db) {
  Random random(1);
  const Trial trial = lone(hz, rate_hz, snr_db, random);
  return bounds(trial.scene, trial.scene.plucks[0].rings)[0];
}

Trial disturbed(Random& random) {
  const double hz = least_hz * std::pow(most_hz / least_hz, between(0.0, 1.0, random));
  Trial trial{{.seconds = 2.2}, {hz}, {}};
  trial.scene.plucks = {{between(0.15, 0.25, random), test::tooth_rings(hz)},
                        neighbour(hz, random)};
  trial.scene.noise = test::noise_of(40.0);
  trial.scene.click = 1.0;
  trial.scene.hum = 0.1 * std::sqrt(0.5);
  trial.scene.hum_hz = between(0.0, 1.0, random) < 0.5 ? between(49.95, 50.05, random)
                                                       : between(59.95, 60.05, random);
  trial.scene.level = 0.1;
  return trial;
}

Trial in_a_room(Random& random) {
  Trial trial = disturbed(random);
  trial.scene.room = 0.1;
  trial.scene.rumble = 0.1;
  trial.scene.dc = 0.3;
  trial.scene.level = 0.01;
  trial.scene.bits = 24;
  return trial;
}

Trial pair(double apart_hz, double snr_db, Random& random) {
  const double hz = 220.0 * std::exp2(between(0.0, 2.0, random));
  std::vector<Ring> rings;
  for (const double off_hz : {-0.5 * apart_hz, 0.5 * apart_hz})
    rings.push_back({hz + off_hz, decay_of(hz) * between(0.9, 1.1, random),
                     0.4 * std::pow(10.0, 0.05 * between(-3.0, 3.0, random)),
                     between(0.0, two_pi, random)});
  Trial trial{{.seconds = 3.0}, {rings[0].frequency_hz, rings[1].frequency_hz}, {}};
  trial.scene.plucks = {{between(0.1, 0.2, random), rings}};
  trial.scene.noise = test::noise_of(snr_db, 0.4);
  trial.bound_hz = bounds(trial.scene, rings);
  return trial;
}

Outcome outcome_of(const Trial& trial, std::uint64_t seed) {
  const std::vector<double> samples = test::sound(trial.scene, seed);
  const Heard heard = hear(samples, trial.scene.rate_hz, {.pair = trial.truth_hz.size() == 2});
  const auto place = surest(heard.plucks);
  if (!place) return {};
  const HeardPluck& pluck = heard.plucks[*place];
  std::vector<OwnMode> own = pluck.own;
  std::sort(own.begin(), own.end(),
            [](const OwnMode& a, const OwnMode& b) { return a.frequency_hz < b.frequency_hz; });
  Outcome outcome{.heard = true, .sure = pluck.sure, .right = own.size() == trial.truth_hz.size()};
  for (std::size_t i = 0; i < std::min(own.size(), trial.truth_hz.size()); ++i) {
    const double error_hz = own[i].frequency_hz - trial.truth_hz[i];
    outcome.right = outcome.right && std::abs(error_hz) < 0.029 * trial.truth_hz[i];
    outcome.heard_hz.push_back(own[i].frequency_hz);
    outcome.error_hz.push_back(error_hz);
    outcome.stated_hz.push_back(own[i].stderr_hz);
  }
  return outcome;
}

Run run(std::size_t count, std::uint64_t stream, const std::function<Trial(Random&)>& make) {
  Run result{std::vector<Trial>(count), std::vector<Outcome>(count)};
  parallel_for(count, 0, [&](std::size_t i) {
    Random random(1000003 * stream + i);
    result.trials[i] = make(random);
    result.outcomes[i] = outcome_of(result.trials[i], random());
  });
  return result;
}

}  // namespace combwright::ear::bench
