// SPDX-License-Identifier: Apache-2.0
#include "motor/run/piece.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace combwright::motor {
namespace {

// (1 - e^-z) / z, (1 - phi1) / z and (1/2 - phi2) / z: what a steady, a rising and a twice rising
// input come to under a decay z. By series where the closed forms cancel.
struct Phi {
  double first;
  double second;
  double third;
};

Phi phi(double z) {
  if (z < 0.5) {
    // third = sum over k of (-z)^k / (k + 3)!
    constexpr std::array<double, 11> terms{1.0 / 6.0,          -1.0 / 24.0,       1.0 / 120.0,
                                           -1.0 / 720.0,       1.0 / 5040.0,      -1.0 / 40320.0,
                                           1.0 / 362880.0,     -1.0 / 3628800.0,  1.0 / 39916800.0,
                                           -1.0 / 479001600.0, 1.0 / 6227020800.0};
    double third = terms.back();
    for (std::size_t k = terms.size() - 1; k-- > 0;) third = terms[k] + z * third;
    const double second = 0.5 - z * third;
    return {1.0 - z * second, second, third};
  }
  const double first = -std::expm1(-z) / z;
  const double second = (1.0 - first) / z;
  return {first, second, (0.5 - second) / z};
}

// Nodes and weights of Gauss's rule with eight points, and with four.
constexpr std::array<double, 4> nodes{0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                      0.9602898564975363};
constexpr std::array<double, 4> weights{0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                        0.1012285362903763};

constexpr std::array<double, 2> few_nodes{0.3399810435848563, 0.8611363115940526};
constexpr std::array<double, 2> few_weights{0.6521451548625461, 0.3478548451374538};

template <std::size_t n, class F>
double gauss(const std::array<double, n>& at, const std::array<double, n>& weight, double a,
             double b, F&& f) {
  const double middle = 0.5 * (a + b);
  const double half = 0.5 * (b - a);
  double sum = 0.0;
  for (std::size_t i = 0; i < n; ++i)
    sum += weight[i] * (f(middle - half * at[i]) + f(middle + half * at[i]));
  return half * sum;
}

// Beyond this decay nothing is left of how the piece began.
constexpr double forgotten = 40.0;

// So much decay, and so great a share of y that it would gain or lose at the slope of either end,
// eight points of Gauss take in one step.
constexpr double decay_step = 1.6;
constexpr double greatest_change = 1.5;

// Of these, four points.
constexpr double short_decay = 0.2;
constexpr double small_change = 0.1;

double time_between(const Piece& piece, double a, double b, double ya, double yb, int depth) {
  const double length = b - a;
  if (!(length > 0.0)) return 0.0;
  if (piece.decay * a > forgotten) return 2.0 * length / (std::sqrt(ya) + std::sqrt(yb));
  const double decayed = piece.decay * length;
  const auto change = [&](double x, double y) {
    return std::abs(piece.rate + piece.rise * x - piece.decay * y) * length;
  };
  const double change_a = change(a, ya);
  const double change_b = change(b, yb);
  const auto per_way = [&](double x) { return 1.0 / std::sqrt(piece.y(x)); };
  if (decayed <= short_decay && change_a <= small_change * ya && change_b <= small_change * yb)
    return gauss(few_nodes, few_weights, a, b, per_way);
  if (decayed <= decay_step && change_a <= greatest_change * ya && change_b <= greatest_change * yb)
    return gauss(nodes, weights, a, b, per_way);
  if (depth > 60 || (decayed <= decay_step && std::min(ya, yb) == 0.0)) {
    // y grows from nothing in a straight line: x = a + length u^2 takes the root out.
    const bool from_start = ya < yb;
    return gauss(nodes, weights, 0.0, 1.0, [&](double u) {
      const double way = length * u * u;
      const double y = piece.y(from_start ? a + way : b - way);
      return 2.0 * length * u / std::sqrt(std::max(y, 1e-300));
    });
  }
  const double middle = decayed > 2.0 * decay_step ? a + decay_step / piece.decay : 0.5 * (a + b);
  const double ym = piece.y(middle);
  return time_between(piece, a, middle, ya, ym, depth + 1) +
         time_between(piece, middle, b, ym, yb, depth + 1);
}

double value(const Piece& piece, const Line& line, double x) {
  return line.constant + line.along * x + line.of_y * piece.y(x);
}

double root(const Piece& piece, const Line& line, double a, double b) {
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (a + b);
    if (middle <= a || middle >= b) break;
    (value(piece, line, middle) >= 0.0 ? a : b) = middle;
  }
  return b;
}

}  // namespace

double Piece::y(double x) const {
  const double z = decay * x;
  const Phi p = phi(z);
  const double kept = z < 0.5 ? 1.0 - z * p.first : std::exp(-z);
  return start * kept + x * (rate * p.first + x * rise * p.second);
}

double Piece::slope(double x) const {
  const double z = decay * x;
  return (rate - decay * start) * std::exp(-z) + rise * x * phi(z).first;
}

double Piece::area(double x) const {
  const Phi p = phi(decay * x);
  return x * (start * p.first + x * (rate * p.second + x * rise * p.third));
}

double Piece::time(double x) const {
  return time_between(*this, 0.0, x, start, std::max(0.0, y(x)), 0);
}

double Piece::turning_point() const {
  const double first = slope(0.0);
  const double last = slope(length);
  if (!(first * last < 0.0)) return -1.0;
  // slope = first e^-z + (rise / decay) (1 - e^-z): zero where e^-z = rise / (rise - decay first).
  if (decay * length < 1e-6) return length * first / (first - last);
  return std::clamp(std::log1p(-decay * first / rise) / decay, 0.0, length);
}

Ends ends(const Piece& piece) {
  const double z = piece.decay * piece.length;
  const Phi p = phi(z);
  const double kept = z < 0.5 ? 1.0 - z * p.first : std::exp(-z);
  const double x = piece.length;
  return {piece.start * kept + x * (piece.rate * p.first + x * piece.rise * p.second),
          piece.rate - piece.decay * piece.start,
          (piece.rate - piece.decay * piece.start) * kept + piece.rise * x * p.first};
}

double first_below(const Piece& piece, const Ends& ends, const Line& line, double slack) {
  // Its own slope is monotone, so that it turns once at most.
  const auto slope = [&](double x) { return line.along + line.of_y * piece.slope(x); };
  double turn = -1.0;
  double low = 0.0;
  double high = piece.length;
  if (line.along + line.of_y * ends.first_slope < 0.0 &&
      line.along + line.of_y * ends.last_slope > 0.0) {
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      (slope(middle) < 0.0 ? low : high) = middle;
    }
    turn = high;
  }
  if (turn > 0.0 && value(piece, line, turn) < -slack) return root(piece, line, 0.0, turn);
  if (line.constant + line.along * piece.length + line.of_y * ends.last < -slack)
    return root(piece, line, std::max(turn, 0.0), piece.length);
  return -1.0;
}

}  // namespace combwright::motor
