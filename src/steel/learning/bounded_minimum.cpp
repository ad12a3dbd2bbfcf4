// SPDX-License-Identifier: Apache-2.0
#include "steel/learning/bounded_minimum.h"

#include <cmath>
#include <limits>
#include <vector>

#include <Eigen/Cholesky>

namespace combwright::steel {
namespace {

enum class Held { free, at_least, at_greatest };

// Counts the ways up like digits; false after the last.
bool next(std::vector<Held>& ways, const Vector& least, const Vector& greatest) {
  for (std::size_t k = 0; k < ways.size(); ++k) {
    const auto i = static_cast<Eigen::Index>(k);
    if (ways[k] == Held::free && std::isfinite(least[i])) {
      ways[k] = Held::at_least;
      return true;
    }
    if (ways[k] != Held::at_greatest && std::isfinite(greatest[i])) {
      ways[k] = Held::at_greatest;
      return true;
    }
    ways[k] = Held::free;
  }
  return false;
}

Vector held_minimum(Matrix a, Vector g, const std::vector<Held>& ways, const Vector& least,
                    const Vector& greatest) {
  Vector held = Vector::Zero(g.size());
  for (std::size_t k = 0; k < ways.size(); ++k) {
    const auto i = static_cast<Eigen::Index>(k);
    if (ways[k] == Held::free) continue;
    held[i] = ways[k] == Held::at_least ? least[i] : greatest[i];
    g -= a.col(i) * held[i];
    a.row(i).setZero();
    a.col(i).setZero();
    a(i, i) = 1.0;
  }
  for (std::size_t k = 0; k < ways.size(); ++k)
    if (ways[k] != Held::free) g[static_cast<Eigen::Index>(k)] = held[static_cast<Eigen::Index>(k)];
  return a.llt().solve(g);
}

}  // namespace

Vector bounded_minimum(const Matrix& a, const Vector& g, const Vector& least,
                       const Vector& greatest) {
  std::vector<Held> ways(static_cast<std::size_t>(g.size()), Held::free);
  Vector best;
  double lowest = std::numeric_limits<double>::infinity();
  do {
    const Vector z = held_minimum(a, g, ways, least, greatest);
    // A solution that is held lies on its bound but for rounding.
    constexpr double rounding = 1e-12;
    if (((z - least).array() < -rounding).any() || ((greatest - z).array() < -rounding).any())
      continue;
    const double value = 0.5 * z.dot(a * z) - g.dot(z);
    if (value < lowest) {
      lowest = value;
      best = z.cwiseMax(least).cwiseMin(greatest);
    }
  } while (next(ways, least, greatest));
  return best;
}

}  // namespace combwright::steel
