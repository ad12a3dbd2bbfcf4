// SPDX-License-Identifier: Apache-2.0
#include "box/correlation.h"

#include <cassert>
#include <cstddef>

namespace combwright::box {

SquareMatrix correlation(const Box& box) {
  const std::size_t size = box.combs.size() + 2;
  SquareMatrix matrix(size, std::vector<double>(size, 0.0));
  for (std::size_t i = 0; i < size; ++i) matrix[i][i] = 1.0;
  const std::vector<double>& given = box.learnt.correlation;
  if (given.empty()) return matrix;
  assert(given.size() == size * (size - 1) / 2);
  auto next = given.begin();
  for (std::size_t i = 0; i < size; ++i)
    for (std::size_t j = i + 1; j < size; ++j) matrix[i][j] = matrix[j][i] = *next++;
  return matrix;
}

bool positive_definite(SquareMatrix matrix) {
  constexpr double least_pivot = 1e-9;
  // Gauss without exchanges: its pivots are the squares of the factor's diagonal.
  for (std::size_t k = 0; k < matrix.size(); ++k) {
    if (!(matrix[k][k] > least_pivot)) return false;
    for (std::size_t i = k + 1; i < matrix.size(); ++i) {
      const double factor = matrix[i][k] / matrix[k][k];
      for (std::size_t j = k; j < matrix.size(); ++j) matrix[i][j] -= factor * matrix[k][j];
    }
  }
  return true;
}

}  // namespace combwright::box
