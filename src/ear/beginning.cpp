// SPDX-License-Identifier: Apache-2.0
#include "ear/beginning.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>

#include "base/angle.h"
#include "ear/onsets.h"

namespace combwright::ear {
namespace {

using Complex = std::complex<double>;

Complex step_of(const Ring& ring, double rate_hz) {
  return {-ring.decay_per_s / rate_hz, two_pi * ring.frequency_hz / rate_hz};
}

// The ring from the sample `begin` to `end`, its phase counted from `from`.
void add(std::vector<double>& to, const Ring& ring, double rate_hz, double sign, std::size_t begin,
         std::size_t end, std::size_t from) {
  const Complex step = step_of(ring, rate_hz);
  const double start = static_cast<double>(begin) - static_cast<double>(from);
  // A ring that dies within a few samples would be endless further back.
  const double most = std::log(1e3);
  const double back = std::min(-step.real() * -start, most);
  Complex value =
      std::polar(sign * ring.amplitude * std::exp(back), ring.phase_rad + step.imag() * start);
  const Complex turn = std::exp(step);
  for (std::size_t n = begin; n < end; ++n) {
    to[n - begin] += value.real();
    value *= turn;
  }
}

double mean_square(std::span<const double> values) {
  double sum = 0.0;
  for (const double value : values) sum += value * value;
  return sum / static_cast<double>(std::max<std::size_t>(1, values.size()));
}

std::size_t count_of(double seconds, double rate_hz) {
  return static_cast<std::size_t>(std::ceil(seconds * rate_hz));
}

}  // namespace

Beginning find_beginning(std::span<const double> samples, double rate_hz,
                         const std::vector<Ring>& rings,
                         const std::vector<std::optional<bool>>& older, std::size_t from,
                         std::size_t around, std::size_t earliest) {
  assert(around <= from && from < samples.size() && earliest <= around);
  assert(older.size() == rings.size());
  constexpr double longest_after_s = 0.02;
  constexpr double block_s = 0.001;
  constexpr double most_over_noise = 4.0;  // of a block's mean square
  Beginning beginning{around, from};
  const std::size_t slack = count_of(onset_error_s, rate_hz);
  const std::size_t first = std::max(earliest, around > slack ? around - slack : 0);

  // The onset: the sample from which on the new rings explain most of what the old ones leave.
  const std::size_t last = std::min(samples.size(), from + count_of(longest_after_s, rate_hz));
  std::vector<double> without(samples.begin() + static_cast<std::ptrdiff_t>(first),
                              samples.begin() + static_cast<std::ptrdiff_t>(last));
  for (std::size_t r = 0; r < rings.size(); ++r)
    if (older[r].value_or(false)) add(without, rings[r], rate_hz, -1.0, first, last, from);
  std::vector<double> with = without;
  for (std::size_t r = 0; r < rings.size(); ++r)
    if (!older[r].value_or(false)) add(with, rings[r], rate_hz, -1.0, first, last, from);
  double gain = 0.0;
  double best = 0.0;
  beginning.onset = from;
  for (std::size_t n = from; n-- > first;) {
    gain += without[n - first] * without[n - first] - with[n - first] * with[n - first];
    if (gain > best) {
      best = gain;
      beginning.onset = n;
    }
  }

  const std::span<const double> left(with);
  const double noise = mean_square(left.subspan(from - first));
  const std::size_t block = std::max<std::size_t>(8, count_of(block_s, rate_hz));
  std::size_t clean = from;
  while (clean >= beginning.onset + block &&
         mean_square(left.subspan(clean - block - first, block)) <= most_over_noise * noise)
    clean -= block;
  beginning.clean = clean < beginning.onset + block ? beginning.onset : clean;
  return beginning;
}

}  // namespace combwright::ear
