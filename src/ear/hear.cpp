// SPDX-License-Identifier: Apache-2.0
#include "ear/hear.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "base/angle.h"
#include "base/cents.h"
#include "ear/begun.h"
#include "ear/onsets.h"
#include "ear/pair_fit.h"
#include "ear/pluck_fit.h"

namespace combwright::ear {
namespace {

// Two teeth of a pair lie no further apart than this.
constexpr double most_pair_cents = 60.0;
constexpr double most_pair_hz = 8.0;
// Known no better than this, a pitch is of no use to the tuner.
constexpr double most_stderr_cents = 2.0;
// The slowest tooth falls to 1 / e in a few seconds.
constexpr double least_decay_per_s = 0.02;
// Further from the pitch that was sought, it may be another tooth.
constexpr double far_cents = 150.0;
constexpr double low_level = 0.003;  // of full scale, -50 dB
constexpr double most_dc = 0.05;     // of full scale

constexpr const char* pair_remedy =
    "if it is a pair, damp its other tooth, or have pitch hear the pair; else look for a lead that "
    "is loose or a tip that touches";

// Whether two teeth at these pitches would be a pair.
bool may_be_pair(double hz, double other_hz) {
  return std::abs(cents(hz / other_hz)) < most_pair_cents || std::abs(hz - other_hz) < most_pair_hz;
}

void warn(Findings& findings, std::string what, std::string remedy) {
  findings.push_back({Level::warning, "", std::move(what), std::move(remedy)});
}

// How far a pitch may be from the one that a decaying sinusoid gets, as it glides or as there are
// two tones within it.
double model_error_hz(const Stretch& stretch, const RingFit& fit, std::size_t ring) {
  constexpr double least_sigmas = 3.0;
  constexpr double least_swell = 0.04;  // of the amplitude's logarithm, within the decay time
  const Departure departure = departure_of(stretch, fit, ring);
  const double ringing_s = 1.0 / std::max(fit.rings[ring].decay_per_s, 1.0 / stretch.seconds());
  double square = 0.0;
  if (std::abs(departure.glide_hz_per_s) > least_sigmas * departure.glide_spread_hz_per_s)
    square += std::pow(0.5 * departure.glide_hz_per_s * ringing_s, 2);
  if (departure.swell_per_s2 < -least_sigmas * departure.swell_spread_per_s2 &&
      -0.5 * departure.swell_per_s2 * ringing_s * ringing_s > least_swell)
    square += -departure.swell_per_s2 / (two_pi * two_pi);
  return std::sqrt(square);
}

OwnMode own_mode(const PluckFit& pluck, const RingFit& fit, std::size_t ring) {
  const Ring& found = fit.rings[ring];
  const double since_s =
      (static_cast<double>(pluck.from) - static_cast<double>(pluck.beginning.onset)) /
      pluck.stretch.rate_hz;
  return {found.frequency_hz,
          std::hypot(fit.spreads[ring].frequency_hz, model_error_hz(pluck.stretch, fit, ring)),
          later(found, -since_s).amplitude,
          1.0 / std::max(found.decay_per_s, 0.01 / pluck.stretch.seconds())};
}

std::vector<Partial> partials(const PluckFit& pluck) {
  const double own = pluck.rings[*pluck.kinds.own].amplitude;
  std::vector<Partial> found;
  for (std::size_t r = 0; r < pluck.rings.size(); ++r) {
    if (pluck.kinds.of[r] != Kind::partial) continue;
    const FoundRing& ring = pluck.rings[r];
    found.push_back({ring.ring.frequency_hz, ring.spread.frequency_hz,
                     1.0 / std::max(ring.ring.decay_per_s, 0.01 / pluck.stretch.seconds()),
                     20.0 * std::log10(ring.amplitude / own)});
  }
  std::sort(found.begin(), found.end(),
            [](const Partial& a, const Partial& b) { return a.frequency_hz < b.frequency_hz; });
  return found;
}

// The ring of the same fit that may be the other of a pair: the strongest close by.
std::optional<std::size_t> companion(const PluckFit& pluck) {
  constexpr double least_share = 0.03;
  const std::size_t own = *pluck.kinds.own;
  const double own_hz = pluck.rings[own].ring.frequency_hz;
  std::optional<std::size_t> found;
  for (std::size_t r = 0; r < pluck.rings.size(); ++r) {
    const double hz = pluck.rings[r].ring.frequency_hz;
    const Kind kind = pluck.kinds.of[r];
    if (r == own || kind == Kind::mains ||
        pluck.rings[r].amplitude < least_share * pluck.rings[own].amplitude ||
        !may_be_pair(hz, own_hz))
      continue;
    if (!found || pluck.rings[r].amplitude > pluck.rings[*found].amplitude) found = r;
  }
  return found;
}

// The strongest other tooth that was plucked with it, no matter how far off.
std::optional<std::size_t> far_companion(const PluckFit& pluck) {
  constexpr double least_share = 0.1;
  const std::size_t own = *pluck.kinds.own;
  std::optional<std::size_t> found;
  for (std::size_t r = 0; r < pluck.rings.size(); ++r) {
    if (r == own || pluck.kinds.of[r] != Kind::other ||
        pluck.rings[r].amplitude < least_share * pluck.rings[own].amplitude)
      continue;
    if (!found || pluck.rings[r].amplitude > pluck.rings[*found].amplitude) found = r;
  }
  return found;
}

void hear_pair(const PluckFit& pluck, HeardPluck& heard) {
  const PairFit pair = fit_pair(pluck.stretch, pluck.fit, *pluck.kinds.own, companion(pluck));
  heard.own = {own_mode(pluck, pair.fit, pair.first)};
  if (pair.second != pair.first) {
    heard.own.push_back(own_mode(pluck, pair.fit, pair.second));
    if (heard.own[1].amplitude > heard.own[0].amplitude) std::swap(heard.own[0], heard.own[1]);
    return;
  }
  heard.sure = false;
  if (const auto far = far_companion(pluck)) {
    const double far_hz = pluck.rings[*far].ring.frequency_hz;
    warn(heard.findings,
         fmt::format("{:.2f} Hz and {:.2f} Hz are {:.0f} cents apart, too far for a pair",
                     heard.own[0].frequency_hz, far_hz,
                     std::abs(cents(far_hz / heard.own[0].frequency_hz))),
         "hear them one by one, each with the other held");
    return;
  }
  warn(heard.findings,
       std::isfinite(pair.least_apart_hz)
           ? fmt::format("one tone is heard, or two less than {:.2g} Hz apart", pair.least_apart_hz)
           : "one tone is heard, and two could not be told apart",
       "pluck both teeth alike and let them ring, or measure each with the other held");
}

// Whether the own mode is not known to have begun, while something louder did.
bool may_ring_from_before(const PluckFit& pluck) {
  const FoundRing& own = pluck.rings[*pluck.kinds.own];
  if (own.older) return *own.older;
  return std::any_of(pluck.rings.begin(), pluck.rings.end(), [&](const FoundRing& other) {
    return other.older == false && other.amplitude > own.amplitude;
  });
}

void hear_own(const PluckFit& pluck, std::optional<double> near_hz, HeardPluck& heard) {
  heard.own = {own_mode(pluck, pluck.fit, *pluck.kinds.own)};
  const OwnMode& own = heard.own[0];
  if (pluck.kinds.rival) {
    const double rival_hz = pluck.rings[*pluck.kinds.rival].ring.frequency_hz;
    heard.sure = false;
    if (may_be_pair(rival_hz, own.frequency_hz)) {
      warn(heard.findings,
           fmt::format("two tones {:.3g} Hz apart", std::abs(rival_hz - own.frequency_hz)),
           pair_remedy);
    } else {
      warn(heard.findings,
           fmt::format("{:.2f} Hz or {:.2f} Hz: it can't be told which is the tooth",
                       own.frequency_hz, rival_hz),
           near_hz ? "hold the neighbours still and pluck again"
                   : "say near which pitch, or hold the neighbours still and pluck again");
    }
  }
  if (may_ring_from_before(pluck)) {
    heard.sure = false;
    warn(heard.findings, "it may still ring from before", "hold it, then pluck it again");
  }
  const Ring& ring = pluck.fit.rings[*pluck.kinds.own];
  const RingSpread& spread = pluck.fit.spreads[*pluck.kinds.own];
  if (ring.decay_per_s + 3.0 * spread.decay_per_s < least_decay_per_s) {
    heard.sure = false;
    warn(heard.findings, "it does not die away as a tooth does", "look what else sounds there");
  }
  if (near_hz && std::abs(cents(own.frequency_hz / *near_hz)) > far_cents) {
    warn(heard.findings,
         fmt::format("it lies {:.0f} cents from the pitch that was sought",
                     std::abs(cents(own.frequency_hz / *near_hz))),
         "look whether it is the tooth that you mean");
  }
  const double spread_hz = spread.frequency_hz;
  if (own.stderr_hz > 3.0 * spread_hz &&
      cents((own.frequency_hz + own.stderr_hz) / own.frequency_hz) > 0.3)
    warn(heard.findings, "its pitch glides while it rings, or two tones beat", pair_remedy);
}

HeardPluck heard_in(std::span<const double> samples, const Begun& begun, bool twice, double rate_hz,
                    const Listening& how) {
  const PluckFit pluck = whole_fit(samples, rate_hz, begun.place, begun.look, how.near_hz);
  assert(pluck.kinds.own);
  HeardPluck heard;
  heard.onset_s = static_cast<double>(pluck.beginning.onset) / rate_hz;
  heard.sure = true;
  if (how.pair) {
    hear_pair(pluck, heard);
  } else {
    hear_own(pluck, how.near_hz, heard);
  }
  heard.partials = partials(pluck);
  for (std::size_t r = 0; r < pluck.rings.size(); ++r)
    if (pluck.kinds.of[r] != Kind::mains)
      heard.rings_hz.push_back(pluck.rings[r].ring.frequency_hz);
  if (begun.clipped > 0) {
    warn(heard.findings,
         begun.place.free > 0
             ? fmt::format("{} samples are clipped; only what comes after them is used",
                           begun.clipped)
             : fmt::format("{} samples are clipped, up to the end", begun.clipped),
         "record at a lower level");
  }
  if (begun.clipped > 0 && begun.place.free == 0) heard.sure = false;
  if (twice)
    warn(heard.findings, "the tooth was plucked twice; the second time is taken",
         "pluck once, and let it ring");
  const OwnMode& own = heard.own[0];
  const double known_cents = cents((own.frequency_hz + own.stderr_hz) / own.frequency_hz);
  if (known_cents > most_stderr_cents) {
    heard.sure = false;
    if (heard.findings.empty())
      warn(heard.findings, fmt::format("its pitch is known to {:.2g} cents only", known_cents),
           "let it ring longer, nearer to the pick-up");
  }
  return heard;
}

// Whether its beginning is in the recording, not only what rings on.
bool begins_within(const HeardPluck& pluck) {
  return pluck.onset_s > onset_error_s;
}

double peak_of(std::span<const double> samples) {
  double peak = 0.0;
  for (const double sample : samples) peak = std::max(peak, std::abs(sample));
  return peak;
}

Finding nothing_heard(std::span<const double> samples, double rate_hz,
                      std::optional<double> near_hz) {
  constexpr double too_short_s = 0.1;
  const double seconds = static_cast<double>(samples.size()) / rate_hz;
  const auto fault = [](std::string what, std::string remedy) {
    return Finding{Level::fault, "", std::move(what), std::move(remedy)};
  };
  if (peak_of(samples) == 0.0)
    return fault("the recording is silent", "pluck nearer to the pick-up, or raise its level");
  if (seconds < too_short_s)
    return fault(fmt::format("the recording is only {:.3g} ms long", 1e3 * seconds),
                 "let the tooth ring for a second or two");
  if (near_hz) {
    const Heard all = hear(samples, rate_hz, {});
    if (const auto place = surest(all.plucks)) {
      return fault(fmt::format("no tooth is heard near {:.2f} Hz, but one at {:.2f} Hz", *near_hz,
                               all.plucks[*place].own[0].frequency_hz),
                   "look which tooth it was");
    }
  }
  return fault("no tooth is heard above the noise",
               "pluck nearer to the pick-up, or raise its level");
}

Findings findings_of(std::span<const double> samples) {
  Findings findings;
  const double peak = peak_of(samples);
  double sum = 0.0;
  for (const double sample : samples) sum += sample;
  const double mean = samples.empty() ? 0.0 : sum / static_cast<double>(samples.size());
  if (peak > 0.0 && peak < low_level)
    warn(findings, fmt::format("the level is low: {:.0f} dB at most", 20.0 * std::log10(peak)),
         "raise it");
  if (std::abs(mean) > most_dc)
    warn(findings, fmt::format("the samples lie {:.0f} % of full scale off zero", 100.0 * mean),
         "look at the pick-up's plug and at the sound card");
  return findings;
}

}  // namespace

Heard hear(std::span<const double> samples, double rate_hz, const Listening& how) {
  Heard heard;
  bool too_many = false;
  if (samples.size() >= 2) {
    std::vector<Begun> begun = find_begun(samples, rate_hz, how.near_hz);
    too_many = begun.size() == most_begun;
    const std::vector<bool> twice =
        how.take ? std::vector<bool>(begun.size(), false) : drop_double_plucks(begun, rate_hz);
    for (std::size_t i = 0; i < begun.size(); ++i)
      heard.plucks.push_back(heard_in(samples, begun[i], twice[i], rate_hz, how));
    if (heard.plucks.size() > 1 && !begins_within(heard.plucks[0])) {
      heard.plucks[0].sure = false;
      warn(heard.plucks[0].findings, "it rang already when the recording began",
           "start the recorder, then pluck");
    }
  }
  heard.findings = findings_of(samples);
  if (heard.plucks.empty())
    heard.findings.insert(heard.findings.begin(), nothing_heard(samples, rate_hz, how.near_hz));
  if (too_many)
    warn(heard.findings, fmt::format("more than {} plucks; the rest is left out", most_begun),
         "cut it into several takes");
  return heard;
}

std::optional<std::size_t> surest(const std::vector<HeardPluck>& plucks) {
  const auto energy = [](const HeardPluck& pluck) {
    const OwnMode& own = pluck.own[0];
    return own.amplitude * own.amplitude * own.decay_s;
  };
  const auto worth = [&](const HeardPluck& pluck) {
    return std::tuple(pluck.sure, begins_within(pluck), energy(pluck));
  };
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < plucks.size(); ++i)
    if (!best || worth(plucks[i]) > worth(plucks[*best])) best = i;
  return best;
}

}  // namespace combwright::ear
