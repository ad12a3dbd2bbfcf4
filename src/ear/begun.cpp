// SPDX-License-Identifier: Apache-2.0
#include "ear/begun.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#include "base/cents.h"
#include "ear/clipping.h"
#include "ear/onsets.h"
#include "ear/samples.h"

namespace combwright::ear {
namespace {

// A pluck that ends with a knock is long enough without what comes after it.
constexpr double long_enough_s = 1.0;
// The same tooth touched twice within this is one pluck that went wrong.
constexpr double double_pluck_s = 0.3;
constexpr double same_tooth_cents = 40.0;

// Past the clipped samples, if enough is left after them.
void skip_clipped(Begun& begun, const std::vector<std::size_t>& clipped, double rate_hz) {
  const auto first = std::lower_bound(clipped.begin(), clipped.end(), begun.place.around);
  const auto last = std::lower_bound(first, clipped.end(), begun.place.end);
  begun.clipped = static_cast<std::size_t>(std::distance(first, last));
  if (first == last) return;
  constexpr double past_s = 0.001;
  Place past = begun.place;
  past.free = *std::prev(last) + samples_in(past_s, rate_hz);
  if (long_enough(past, rate_hz)) begun.place = past;
}

double own_hz(const Begun& begun) {
  return begun.look.rings[*begun.look.kinds.own].ring.frequency_hz;
}

}  // namespace

std::vector<Begun> find_begun(std::span<const double> samples, double rate_hz,
                              std::optional<double> near_hz) {
  std::vector<std::size_t> onsets = find_onsets(samples, rate_hz);
  if (onsets.empty()) onsets.push_back(0);
  const std::vector<std::size_t> clipped = clipped_samples(samples);
  const std::size_t slack = samples_in(onset_error_s, rate_hz);
  std::vector<Begun> begun;
  // Nothing was found after the last beginning: too short a time to look at, or a tooth that
  // began softly, so that its swelling was taken for another beginning.
  bool doubtful = false;
  for (std::size_t i = 0; i < onsets.size(); ++i) {
    const std::size_t end = i + 1 < onsets.size() ? onsets[i + 1] - slack : samples.size();
    const auto look_from = [&](std::size_t first) {
      const std::size_t earliest = first > 0 ? onsets[first - 1] + slack : 0;
      Begun here{{std::min(earliest, onsets[first]), onsets[first], 0, end}, {}, 0};
      skip_clipped(here, clipped, rate_hz);
      if (long_enough(here.place, rate_hz))
        here.look = first_look(samples, rate_hz, here.place, near_hz);
      return here;
    };
    Begun here = look_from(i);
    if (!here.look.kinds.own && doubtful) here = look_from(i - 1);
    doubtful = !here.look.kinds.own;
    if (!doubtful) begun.push_back(std::move(here));
    if (begun.size() == most_begun) break;
  }
  // What begins without a tooth is a knock: the tooth before rings through it.
  for (std::size_t i = 0; i < begun.size(); ++i) {
    const std::size_t next =
        i + 1 < begun.size() ? begun[i + 1].place.around - slack : samples.size();
    Place& place = begun[i].place;
    if (place.end - place.around < samples_in(long_enough_s, rate_hz)) place.end = next;
  }
  return begun;
}

std::vector<bool> drop_double_plucks(std::vector<Begun>& begun, double rate_hz) {
  std::vector<Begun> kept;
  std::vector<bool> twice;
  bool again = false;
  for (std::size_t i = 0; i < begun.size(); ++i) {
    const bool repeated =
        i + 1 < begun.size() &&
        begun[i + 1].place.around - begun[i].place.around < samples_in(double_pluck_s, rate_hz) &&
        std::abs(cents(own_hz(begun[i + 1]) / own_hz(begun[i]))) < same_tooth_cents;
    if (repeated) {
      again = true;
      continue;
    }
    twice.push_back(again);
    again = false;
    kept.push_back(std::move(begun[i]));
  }
  begun = std::move(kept);
  return twice;
}

}  // namespace combwright::ear
