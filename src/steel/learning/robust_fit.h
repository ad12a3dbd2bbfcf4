// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "steel/learning/unknowns.h"

namespace combwright::steel {

// Readings that depend on unknowns in a straight line: value = slope z + a deviation of the tooth's
// own + an error of the reading, all normal. z has mean 0 and variances 1 before the readings.
struct LinearReadings {
  Matrix slope;            // a row for each reading
  Vector value;            // in cents
  Vector error;            // of the reading: one standard deviation, 0 if it is not known
  Matrix correlation;      // of z before the readings
  Vector least, greatest;  // that z can be; infinite without bounds
  double scatter = 0.0;    // above 0: of the teeth's own deviations before the readings
};

struct RobustFit {
  Vector at;          // the likeliest z
  Matrix covariance;  // of it, as if there were no bounds
  Vector left;        // of each value
  Vector weight;      // of each reading, 1 or less
  double scatter = 0.0;
};

// As many readings as the scatter is worth that was known before.
inline constexpr double scatter_readings = 4.0;

// Huber's proposal 2 (P. J. Huber, Robust Statistics, 1981, section 7.7) with what was known
// before: z minimises sum rho(left / spread) + z'R^-1 z / 2 with spread^2 = scatter^2 + error^2,
// and the scatter is the root mean square of the teeth's own deviations, the one before counted as
// scatter_readings of them. The mean square of one is that given its reading (the E step of
// Dempster, Laird and Rubin, J. R. Statist. Soc. B 39, 1977): with q = scatter^2 / spread^2 and the
// weight w it is q^2 (w^2 left^2 / beta + w slope' covariance slope) + q error^2, beta the mean of
// psi^2 for normal readings. Without errors the sum of the second terms is scatter^2 times the
// number of unknowns that the readings settle: Huber's n - p.
RobustFit robust_fit(const LinearReadings& readings);

}  // namespace combwright::steel
