// SPDX-License-Identifier: Apache-2.0
#include "sound/preview.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <complex>
#include <cstdint>
#include <limits>
#include <numbers>
#include <span>

#include <fmt/format.h>

#include "base/angle.h"
#include "base/error.h"
#include "base/parallel.h"
#include "sound/partials.h"
#include "sound/rotor.h"

namespace combwright::sound {
namespace {

constexpr double pi = std::numbers::pi;
constexpr std::int64_t chunk_length = 64 * run_length;

double ratio_of(double db) {
  return std::pow(10.0, db / 20.0);
}

// One partial of a track's teeth, ringing freely and under the damper.
struct ToothPartial {
  Partial partial;
  double amplitude = 0.0;  // its force over that of the loudest tooth's lowest partial
  Rotor free, damped;
};

// All teeth on one track.
struct Teeth {
  std::vector<ToothPartial> partials;
  double ring_s = 0.0;  // until all partials are below the floor
  float left = 0.0F, right = 0.0F;
};

// A stretch in which the teeth of one pluck ring on: freely, or under the damper.
struct Ring {
  const Teeth* teeth = nullptr;
  double plucked_s = 0.0;
  double damped_s = 0.0;  // when the damper touches
  bool damped = false;
  std::int64_t first = 0, end = 0;  // samples
};

void require_option(bool good, const char* name, double value, const char* right) {
  if (!good) throw Error({}, fmt::format("{} is {}; it must be {}", name, value, right));
}

void check(const box::Box& box, const disc::Disc& disc, const PreviewOptions& options) {
  const auto within = [](double value, double low, double high) {
    return value >= low && value <= high;
  };
  require_option(within(options.sample_rate_hz, 8000, 192000), "sample rate",
                 options.sample_rate_hz, "8000 to 192000 Hz");
  require_option(within(options.tail_s, 0, 60), "tail", options.tail_s, "0 to 60 s");
  require_option(within(options.peak_dbfs, -60, 0), "peak", options.peak_dbfs, "-60 to 0 dB");
  require_option(within(disc.turn_time_s, 0, longest_turn_s), "time of a turn", disc.turn_time_s,
                 "0 to 3600 s");
  const auto track_count = static_cast<int>(box.scale.midi.size());
  for (std::size_t i = 0; i < disc.projections.size(); ++i) {
    const auto& projection = disc.projections[i];
    if (projection.track < 1 || projection.track > track_count)
      throw Error({}, fmt::format("projection {} lies on track {}; the box has tracks 1 to {}",
                                  i + 1, projection.track, track_count));
    if (!within(projection.time_s, 0, disc.turn_time_s))
      throw Error({}, fmt::format("projection {} plucks at {} s; the turn lasts {} s", i + 1,
                                  projection.time_s, disc.turn_time_s));
  }
}

using Partials = std::array<Partial, partial_count>;

// Of every track the partials of its teeth, comb by comb.
std::vector<std::vector<Partials>> partials_of(const box::Box& box,
                                               const std::vector<steel::CombDesign>& combs) {
  assert(combs.size() == box.combs.size());
  std::vector<std::vector<Partials>> result(box.scale.midi.size());
  for (const steel::CombDesign& comb : combs) {
    assert(comb.teeth.size() == result.size());
    for (std::size_t i = 0; i < result.size(); ++i)
      result[i].push_back(partials(comb.teeth[i].in_tune, comb.teeth[i].lift_m));
  }
  return result;
}

double loudest_n(const std::vector<std::vector<Partials>>& tracks) {
  double loudest = 0.0;
  for (const auto& teeth : tracks)
    for (const Partials& tooth : teeth) loudest = std::max(loudest, tooth.front().force_n);
  return loudest;
}

Teeth make_teeth(const box::Box& box, const box::Track& track,
                 const std::vector<Partials>& track_teeth, double full_force_n,
                 double sample_rate_hz) {
  Teeth teeth;
  const double highest_hz = std::min(highest_partial_hz, 0.45 * sample_rate_hz);
  for (const Partials& tooth : track_teeth) {
    for (const Partial& partial : tooth) {
      if (partial.frequency_hz > highest_hz) continue;
      const double amplitude = partial.force_n / full_force_n;
      const double audible = std::log(amplitude / ratio_of(floor_db));
      if (audible <= 0.0) continue;
      const std::complex<double> rate{-partial.decay_per_s, two_pi * partial.frequency_hz};
      teeth.partials.push_back({partial, amplitude, make_rotor(rate / sample_rate_hz),
                                make_rotor((rate - 1.0 / damper_decay_s) / sample_rate_hz)});
      teeth.ring_s = std::max(teeth.ring_s, audible / partial.decay_per_s);
    }
  }
  const double place =
      box.tracks.count > 1 ? (track.number - 1.0) / (box.tracks.count - 1.0) - 0.5 : 0.0;
  const double angle = 0.25 * pi + 2.0 * widest_pan_rad * place;
  teeth.left = static_cast<float>(std::cos(angle));
  teeth.right = static_cast<float>(std::sin(angle));
  return teeth;
}

// Every stretch of ringing, by start.
std::vector<Ring> make_rings(const std::vector<Teeth>& teeth, const box::Box& box,
                             const disc::Disc& disc, double sample_rate_hz) {
  std::vector<std::vector<double>> plucks(teeth.size());
  for (const auto& projection : disc.projections)
    plucks[projection.track - 1].push_back(projection.time_s);
  const auto sample_at = [&](double time_s) {
    return static_cast<std::int64_t>(std::ceil(time_s * sample_rate_hz));
  };
  const double damping_s = std::log(1.0 / ratio_of(floor_db)) * damper_decay_s;
  std::vector<Ring> rings;
  for (std::size_t track = 0; track < teeth.size(); ++track) {
    auto& times = plucks[track];
    std::sort(times.begin(), times.end());
    for (std::size_t i = 0; i < times.size(); ++i) {
      const double plucked_s = times[i];
      const double died_s = plucked_s + teeth[track].ring_s;
      const double next_s =
          i + 1 < times.size() ? times[i + 1] : std::numeric_limits<double>::infinity();
      const double damped_s = std::max(plucked_s, next_s - box.damper.lead_time_s);
      Ring ring{&teeth[track],
                plucked_s,
                damped_s,
                false,
                sample_at(plucked_s),
                sample_at(std::min(damped_s, died_s))};
      rings.push_back(ring);
      if (damped_s >= died_s) continue;
      ring.damped = true;
      ring.first = ring.end;
      ring.end = sample_at(damped_s + damping_s);
      rings.push_back(ring);
    }
  }
  std::sort(rings.begin(), rings.end(), [](const Ring& a, const Ring& b) {
    return a.first != b.first ? a.first < b.first : a.teeth < b.teeth;
  });
  return rings;
}

// The ring's partials that are above the floor at the given sample.
void start_voices(const Ring& ring, std::int64_t sample, double sample_rate_hz,
                  std::vector<Voice>& voices) {
  voices.clear();
  const double time_s = static_cast<double>(sample) / sample_rate_hz;
  const double ringing_s = time_s - ring.plucked_s;
  const double loss = ring.damped ? (time_s - ring.damped_s) / damper_decay_s : 0.0;
  for (const auto& tooth : ring.teeth->partials) {
    const double amplitude =
        tooth.amplitude * std::exp(-tooth.partial.decay_per_s * ringing_s - loss);
    if (amplitude < ratio_of(floor_db)) continue;
    const double phase = two_pi * tooth.partial.frequency_hz * ringing_s;
    voices.push_back({ring.damped ? &tooth.damped : &tooth.free, std::polar(amplitude, phase)});
  }
}

void drop_silent(std::vector<Voice>& voices) {
  const double least = std::pow(ratio_of(floor_db), 2);
  std::erase_if(voices, [&](const Voice& voice) { return std::norm(voice.state) < least; });
}

void mix(std::span<const float> mono, float gain, float* out) {
  for (std::size_t i = 0; i < mono.size(); ++i) out[i] += gain * mono[i];
}

// All rings within one chunk. A chunk starts every voice afresh from the model, so it depends on
// no other chunk.
void render_chunk(const std::vector<Ring>& rings, std::int64_t chunk_first, std::int64_t chunk_end,
                  Preview& preview) {
  std::vector<Voice> voices;
  std::array<float, run_length> run;
  for (const auto& ring : rings) {
    if (ring.first >= chunk_end) break;
    const std::int64_t end = std::min(ring.end, chunk_end);
    std::int64_t at = std::max(ring.first, chunk_first);
    if (at >= end) continue;
    start_voices(ring, at, preview.sample_rate_hz, voices);
    for (; at < end && !voices.empty(); at += run_length) {
      next_run(voices, run);
      const auto length = std::min<std::int64_t>(run_length, end - at);
      const std::span mono(run.data(), static_cast<std::size_t>(length));
      mix(mono, ring.teeth->left, preview.left.data() + at);
      mix(mono, ring.teeth->right, preview.right.data() + at);
      drop_silent(voices);
    }
  }
}

float peak(const Preview& preview) {
  float result = 0.0F;
  for (const auto* channel : {&preview.left, &preview.right})
    for (const float sample : *channel) result = std::max(result, std::abs(sample));
  return result;
}

void scale(Preview& preview, float gain) {
  for (auto* channel : {&preview.left, &preview.right})
    for (float& sample : *channel) sample *= gain;
}

void fade_out(Preview& preview, double length_s) {
  const std::size_t size = preview.left.size();
  const auto length = std::min(size, static_cast<std::size_t>(length_s * preview.sample_rate_hz));
  for (std::size_t remaining = 0; remaining < length; ++remaining) {
    const float gain = static_cast<float>(remaining) / static_cast<float>(length);
    preview.left[size - 1 - remaining] *= gain;
    preview.right[size - 1 - remaining] *= gain;
  }
}

}  // namespace

Preview preview(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                const disc::Disc& disc, const PreviewOptions& options, const Watch& watch) {
  watch.say("computing the sound");
  check(box, disc, options);
  const double sample_rate_hz = options.sample_rate_hz;
  const std::vector<std::vector<Partials>> partials = partials_of(box, combs);
  const double full_force_n = loudest_n(partials);
  std::vector<Teeth> teeth;
  for (const auto& track : box::tracks(box)) {
    teeth.push_back(
        make_teeth(box, track, partials[track.number - 1], full_force_n, sample_rate_hz));
  }
  const auto rings = make_rings(teeth, box, disc, sample_rate_hz);

  const auto length =
      static_cast<std::int64_t>(std::ceil((disc.turn_time_s + options.tail_s) * sample_rate_hz));
  Preview result;
  result.sample_rate_hz = options.sample_rate_hz;
  result.left.assign(static_cast<std::size_t>(length), 0.0F);
  result.right = result.left;
  const std::int64_t chunks = (length + chunk_length - 1) / chunk_length;
  parallel_for(static_cast<std::size_t>(chunks), options.threads, [&](std::size_t chunk) {
    watch.check();
    const auto first = static_cast<std::int64_t>(chunk) * chunk_length;
    render_chunk(rings, first, std::min(first + chunk_length, length), result);
  });
  fade_out(result, std::min(fade_s, options.tail_s));
  const float unscaled = peak(result);
  if (unscaled > 0.0F) scale(result, static_cast<float>(ratio_of(options.peak_dbfs)) / unscaled);
  result.peak_dbfs = 20.0 * std::log10(peak(result));
  return result;
}

}  // namespace combwright::sound
