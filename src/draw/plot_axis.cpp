// SPDX-License-Identifier: Apache-2.0
#include "draw/plot_axis.h"

#include <algorithm>

namespace combwright::draw {

PlotAxis tick_axis(double low, double high, double most, double least_span) {
  const double span = std::max({high - low, least_span, 1e-9 * std::max(std::abs(high), 1e-9)});
  double step = std::pow(10.0, std::floor(std::log10(span / most)));
  for (const double factor : {2.0, 2.5, 2.0})
    if (span / step > most) step *= factor;
  const double first = step * std::floor(low / step + 1e-9);
  const double last = step * std::ceil(high / step - 1e-9);
  return {first, last > first ? last : first + step, step};
}

}  // namespace combwright::draw
