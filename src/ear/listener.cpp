// SPDX-License-Identifier: Apache-2.0
#include "ear/listener.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "base/cents.h"
#include "ear/onsets.h"
#include "ear/samples.h"

namespace combwright::ear {
namespace {

// Looked at at once.
constexpr double step_s = 0.1;
constexpr double memory_s = 5.0;
// But not the beginning of what rang before a pluck.
constexpr double past_onset_s = 0.1;
// Without a pluck in memory, so much tells noise from sound.
constexpr double look_back_s = 2.0;
// What begins sooner after an onset belongs to it: a tooth touched twice.
constexpr double same_pluck_s = 0.3;
// So much of the last frames may tell of an onset only with what comes next.
constexpr double unripe_s = 0.06;
// A pluck that has fallen so far has nothing more to tell.
constexpr double died_share = 0.03;
constexpr double over_noise = 2.0;
constexpr double noise_s = 0.3;
constexpr double quiet_s = 3.0;
constexpr double try_again = 1.25;

bool known_well(const Heard& heard) {
  const auto best = surest(heard.plucks);
  if (!best || !heard.plucks[*best].sure) return false;
  const OwnMode& own = heard.plucks[*best].own[0];
  return cents((own.frequency_hz + own.stderr_hz) / own.frequency_hz) <= Listener::good_cents;
}

}  // namespace

Listener::Listener(double rate_hz) : rate_hz_(rate_hz) {
  assert(rate_hz >= least_rate_hz && rate_hz <= most_rate_hz);
}

std::vector<PluckSound> Listener::take(std::span<const double> block,
                                       std::optional<double> near_hz) {
  const std::size_t step = samples_in(step_s, rate_hz_);
  std::vector<PluckSound> found;
  while (!block.empty()) {
    const std::size_t part = std::min(block.size(), step - coming_.size());
    coming_.insert(coming_.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(part));
    block = block.subspan(part);
    if (coming_.size() < step) break;
    samples_.insert(samples_.end(), coming_.begin(), coming_.end());
    coming_.clear();
    forget();
    if (!onset_) look_for_onset();
    if (!onset_) continue;
    if (std::optional<PluckSound> pluck = follow(near_hz)) found.push_back(std::move(*pluck));
  }
  return found;
}

std::optional<double> Listener::ringing_s() const {
  if (!onset_) return std::nullopt;
  return seconds(end() + coming_.size() - *onset_);
}

double Listener::seconds(std::size_t samples) const {
  return static_cast<double>(samples) / rate_hz_;
}

std::span<const double> Listener::between(std::size_t first, std::size_t last) const {
  return std::span(samples_).subspan(first - base_, last - first);
}

std::vector<std::size_t> Listener::onsets_from(std::size_t first) const {
  std::vector<std::size_t> onsets = find_onsets(between(first, end()), rate_hz_);
  for (std::size_t& onset : onsets) onset += first;
  return onsets;
}

// Root mean square.
double Listener::level(std::size_t first, std::size_t last) const {
  double squares = 0.0;
  for (const double sample : between(first, last)) squares += sample * sample;
  return first < last ? std::sqrt(squares / static_cast<double>(last - first)) : 0.0;
}

void Listener::forget() {
  const std::size_t most = samples_in(memory_s, rate_hz_);
  if (samples_.size() <= most) return;
  const std::size_t gone = samples_.size() - most;
  samples_.erase(samples_.begin(), samples_.begin() + static_cast<std::ptrdiff_t>(gone));
  base_ += gone;
}

void Listener::look_for_onset() {
  // From before the last pluck, so that its beats are known for what they are.
  const std::size_t lead = samples_in(lead_in_s, rate_hz_);
  const std::size_t back = samples_in(look_back_s, rate_hz_);
  std::size_t first = end() > back ? end() - back : 0;
  if (before_ && *before_ >= base_) first = *before_ > lead ? *before_ - lead : 0;
  first = std::max(first, base_);
  const std::size_t from = std::max(heed_from_, first + samples_in(past_onset_s, rate_hz_));
  for (const std::size_t onset : onsets_from(first)) {
    if (onset < from) continue;
    onset_ = onset;
    next_try_s_ = least_listen_s;
    return;
  }
}

std::size_t Listener::pluck_begin() const {
  const std::size_t lead = samples_in(lead_in_s, rate_hz_);
  std::size_t begin = std::max(base_, *onset_ > lead ? *onset_ - lead : 0);
  if (before_) begin = std::max(begin, *before_ + samples_in(past_onset_s, rate_hz_));
  return std::min(begin, *onset_);
}

// Whether the last step is quiet, while it was loud after the onset.
bool Listener::died(std::size_t step) const {
  if (end() < *onset_ + 3 * step) return false;
  const double last = level(end() - step, end());
  if (last <= died_share * level(*onset_ + step / 2, *onset_ + step + step / 2)) return true;
  const bool quiet_before = !before_ || *onset_ > *before_ + samples_in(quiet_s, rate_hz_);
  const std::size_t slack = samples_in(2.0 * onset_error_s, rate_hz_);
  const std::size_t noise = samples_in(noise_s, rate_hz_);
  if (!quiet_before || *onset_ < base_ + noise) return false;
  return last <= over_noise * level(*onset_ - noise, *onset_ - slack);
}

std::optional<PluckSound> Listener::follow(std::optional<double> near_hz) {
  const std::size_t step = samples_in(step_s, rate_hz_);
  const std::size_t begin = pluck_begin();
  std::size_t last = end();
  std::optional<std::size_t> next;
  for (const std::size_t onset : onsets_from(begin)) {
    if (onset <= *onset_ + samples_in(same_pluck_s, rate_hz_)) continue;
    next = onset;
    last = onset - samples_in(lead_out_s, rate_hz_);
    break;
  }
  const double rung_s = seconds(end() - *onset_);
  bool over = next || rung_s >= most_listen_s;
  if (!over && died(step)) {
    over = true;
    // Without the step in which it may have been held.
    last = end() - 2 * step;
  }
  if (!over && rung_s < next_try_s_) return std::nullopt;
  next_try_s_ = try_again * rung_s;
  const std::span<const double> sound = between(begin, last);
  PluckSound pluck{{}, seconds(begin), seconds(*onset_), hear(sound, rate_hz_, {near_hz})};
  if (!over && !known_well(pluck.heard)) return std::nullopt;
  pluck.samples.assign(sound.begin(), sound.end());
  before_ = onset_;
  heed_from_ = *onset_ + samples_in(same_pluck_s, rate_hz_);
  if (!next) heed_from_ = std::max(heed_from_, end() - samples_in(unripe_s, rate_hz_));
  onset_ = next;
  next_try_s_ = least_listen_s;
  return pluck;
}

}  // namespace combwright::ear
