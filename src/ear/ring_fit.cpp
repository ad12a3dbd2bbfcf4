// SPDX-License-Identifier: Apache-2.0
#include "ear/ring_fit.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include <Eigen/Dense>
#include <unsupported/Eigen/FFT>

namespace combwright::ear {
namespace {

using Complex = std::complex<double>;
using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

constexpr double two_pi = 2.0 * std::numbers::pi;
constexpr Eigen::Index unknowns_each = 4;  // decay, angular frequency, real and imaginary amplitude

std::size_t fast_length(std::size_t samples) {
  std::size_t best = 2;
  for (std::size_t five = 1; five <= samples; five *= 5) {
    for (std::size_t three = five; three <= samples; three *= 3) {
      std::size_t two = 2 * three;
      if (two > samples) break;
      while (2 * two <= samples) two *= 2;
      best = std::max(best, two);
    }
  }
  return best;
}

// Sum of e^(n step) over the stretch times the bin's e^(-2 pi i k n / samples), and its derivative
// by step.
struct Series {
  Complex sum;
  Complex slope;
};

// The pole z = e^step with what of it does not depend on the bin.
struct Pole {
  Complex z;
  Complex power;  // z^samples
  double samples;

  explicit Pole(Complex step, std::size_t count)
      : z(std::exp(step)),
        power(std::exp(step * static_cast<double>(count))),
        samples(static_cast<double>(count)) {}

  Series at(Complex turn) const {
    const Complex away = 1.0 - z * turn;
    // On the bin itself and undecaying the series is the number of samples.
    if (std::norm(away) < 1e-24) return {samples, 0.5 * samples * (samples - 1.0)};
    const Complex inverse = 1.0 / away;
    const Complex sum = (1.0 - power) * inverse;
    return {sum, (sum * z * turn - samples * power) * inverse};
  }
};

// Of one ring as the fit turns it, times in samples.
struct State {
  double decay;
  double turn;
  Complex amplitude;
};

State state_of(const Ring& ring, double rate_hz) {
  return {ring.decay_per_s / rate_hz, two_pi * ring.frequency_hz / rate_hz,
          std::polar(ring.amplitude, ring.phase_rad)};
}

Ring ring_of(const State& state, double rate_hz) {
  return {state.turn * rate_hz / two_pi, state.decay * rate_hz, std::abs(state.amplitude),
          std::arg(state.amplitude)};
}

// A bin that is looked at, and the ring nearest to it.
struct Bin {
  std::size_t index;
  std::size_t ring;
};

std::vector<Bin> bins_near(const Stretch& stretch, const std::vector<Ring>& guesses,
                           double reach_hz) {
  const double width = stretch.bin_hz();
  const auto last = static_cast<double>(stretch.spectrum.size()) - 2.0;
  std::vector<Bin> bins;
  for (std::size_t i = 0; i < guesses.size(); ++i) {
    const double low =
        std::clamp(std::ceil((guesses[i].frequency_hz - reach_hz) / width), 1.0, last);
    const double high =
        std::clamp(std::floor((guesses[i].frequency_hz + reach_hz) / width), 1.0, last);
    for (double bin = low; bin <= high; ++bin) {
      const auto off = [&](const Ring& ring) { return std::abs(ring.frequency_hz - bin * width); };
      const auto nearest =
          std::min_element(guesses.begin(), guesses.end(),
                           [&](const Ring& a, const Ring& b) { return off(a) < off(b); });
      if (nearest == guesses.begin() + static_cast<std::ptrdiff_t>(i))
        bins.push_back({static_cast<std::size_t>(bin), i});
    }
  }
  return bins;
}

// Residuals and their slopes, as real rows: two for each bin, divided by its noise.
class Problem {
 public:
  Problem(const Stretch& stretch, const std::vector<Ring>& guesses, double reach_hz)
      : stretch_(stretch),
        bins_(bins_near(stretch, guesses, reach_hz)),
        noise_(guesses.size(), 1.0) {
    turns_.reserve(bins_.size());
    for (const Bin& bin : bins_)
      turns_.push_back(std::polar(
          1.0, -two_pi * static_cast<double>(bin.index) / static_cast<double>(stretch.samples)));
  }

  Eigen::Index rows() const { return 2 * static_cast<Eigen::Index>(bins_.size()); }

  void linearise(const std::vector<State>& states, Vector& left, Matrix* slopes) const {
    left.resize(rows());
    if (slopes != nullptr)
      slopes->setZero(rows(), unknowns_each * static_cast<Eigen::Index>(states.size()));
    for (std::size_t b = 0; b < bins_.size(); ++b) put(b, stretch_.spectrum[bins_[b].index], left);
    for (std::size_t r = 0; r < states.size(); ++r) {
      const State& state = states[r];
      const Pole pole(Complex(-state.decay, state.turn), stretch_.samples);
      const Pole mirror(Complex(-state.decay, -state.turn), stretch_.samples);
      const Eigen::Index column = unknowns_each * static_cast<Eigen::Index>(r);
      for (std::size_t b = 0; b < bins_.size(); ++b) {
        const Series to = pole.at(turns_[b]);
        const Series back = mirror.at(turns_[b]);
        const Complex c = 0.5 * state.amplitude;
        const Complex conj = std::conj(c);
        add(b, -(c * to.sum + conj * back.sum), left);
        if (slopes == nullptr) continue;
        const Complex i(0.0, 1.0);
        put(b, -(c * to.slope + conj * back.slope), *slopes, column);
        put(b, i * (c * to.slope - conj * back.slope), *slopes, column + 1);
        put(b, 0.5 * (to.sum + back.sum), *slopes, column + 2);
        put(b, 0.5 * i * (to.sum - back.sum), *slopes, column + 3);
      }
    }
  }

  // Root mean square of what is left near each ring, of the real part of a bin.
  void take_noise(const Vector& left, Eigen::Index unknowns) {
    std::vector<double> squares(noise_.size(), 0.0);
    std::vector<double> count(noise_.size(), 0.0);
    for (std::size_t b = 0; b < bins_.size(); ++b) {
      const auto row = 2 * static_cast<Eigen::Index>(b);
      const double scale = noise_[bins_[b].ring];
      squares[bins_[b].ring] += left.segment<2>(row).squaredNorm() * scale * scale;
      count[bins_[b].ring] += 2.0;
    }
    const double share =
        static_cast<double>(rows() - std::min(unknowns, rows() - 1)) / static_cast<double>(rows());
    for (std::size_t r = 0; r < noise_.size(); ++r) {
      if (count[r] > 0.0) noise_[r] = std::sqrt(squares[r] / (count[r] * share));
    }
    const double greatest = *std::max_element(noise_.begin(), noise_.end());
    for (double& noise : noise_) noise = std::max(noise, 1e-12 * greatest + 1e-300);
  }

  double noise(std::size_t ring) const { return noise_[ring]; }

 private:
  void put(std::size_t b, Complex value, Vector& to) const {
    const auto row = 2 * static_cast<Eigen::Index>(b);
    const double weight = 1.0 / noise_[bins_[b].ring];
    to[row] = value.real() * weight;
    to[row + 1] = value.imag() * weight;
  }
  void add(std::size_t b, Complex value, Vector& to) const {
    const auto row = 2 * static_cast<Eigen::Index>(b);
    const double weight = 1.0 / noise_[bins_[b].ring];
    to[row] += value.real() * weight;
    to[row + 1] += value.imag() * weight;
  }
  void put(std::size_t b, Complex value, Matrix& to, Eigen::Index column) const {
    const auto row = 2 * static_cast<Eigen::Index>(b);
    const double weight = 1.0 / noise_[bins_[b].ring];
    to(row, column) = value.real() * weight;
    to(row + 1, column) = value.imag() * weight;
  }

  const Stretch& stretch_;
  std::vector<Bin> bins_;
  std::vector<Complex> turns_;
  std::vector<double> noise_;
};

void step_by(std::vector<State>& states, const Vector& step) {
  for (std::size_t r = 0; r < states.size(); ++r) {
    const Eigen::Index column = unknowns_each * static_cast<Eigen::Index>(r);
    states[r].decay += step[column];
    states[r].turn += step[column + 1];
    states[r].amplitude += Complex(step[column + 2], step[column + 3]);
  }
}

// The amplitudes that go best with the poles.
void find_amplitudes(const Problem& problem, std::vector<State>& states) {
  for (State& state : states) state.amplitude = 0.0;
  Vector left;
  Matrix slopes;
  problem.linearise(states, left, &slopes);
  const auto count = static_cast<Eigen::Index>(states.size());
  Matrix linear(slopes.rows(), 2 * count);
  for (Eigen::Index r = 0; r < count; ++r)
    linear.middleCols(2 * r, 2) = slopes.middleCols(unknowns_each * r + 2, 2);
  const Vector found = (linear.transpose() * linear).ldlt().solve(linear.transpose() * left);
  for (Eigen::Index r = 0; r < count; ++r)
    states[static_cast<std::size_t>(r)].amplitude = Complex(found[2 * r], found[2 * r + 1]);
}

bool descend(const Problem& problem, std::vector<State>& states, Matrix& normal) {
  constexpr int most_steps = 40;
  double damping = 1e-3;
  Vector left;
  Matrix slopes;
  problem.linearise(states, left, &slopes);
  double squares = left.squaredNorm();
  normal = slopes.transpose() * slopes;
  for (int i = 0; i < most_steps; ++i) {
    const Vector pull = slopes.transpose() * left;
    Matrix damped = normal;
    damped.diagonal() *= 1.0 + damping;
    const Vector step = damped.ldlt().solve(pull);
    if (!step.allFinite()) return false;
    std::vector<State> tried = states;
    step_by(tried, step);
    Vector tried_left;
    Matrix tried_slopes;
    problem.linearise(tried, tried_left, &tried_slopes);
    const double tried_squares = tried_left.squaredNorm();
    if (!(tried_squares <= squares * (1.0 + 1e-12))) {
      damping *= 10.0;
      if (damping > 1e9) return true;
      continue;
    }
    states = tried;
    left = tried_left;
    slopes = tried_slopes;
    normal = slopes.transpose() * slopes;
    damping = std::max(1e-12, 0.1 * damping);
    const bool done = squares - tried_squares <= 1e-9 * squares / static_cast<double>(left.size());
    squares = tried_squares;
    if (done) return true;
  }
  return false;
}

}  // namespace

Stretch stretch_of(const std::vector<double>& samples, double rate_hz) {
  assert(samples.size() >= 2 && rate_hz > 0.0);
  Stretch stretch{.rate_hz = rate_hz, .samples = fast_length(samples.size()), .spectrum = {}};
  Eigen::FFT<double> fft;
  fft.SetFlag(Eigen::FFT<double>::HalfSpectrum);
  const std::vector<double> used(samples.begin(),
                                 samples.begin() + static_cast<std::ptrdiff_t>(stretch.samples));
  fft.fwd(stretch.spectrum, used);
  return stretch;
}

std::complex<double> bin_of(const Stretch& stretch, const Ring& ring, std::size_t bin) {
  const State state = state_of(ring, stretch.rate_hz);
  const Complex turn =
      std::polar(1.0, -two_pi * static_cast<double>(bin) / static_cast<double>(stretch.samples));
  const Complex c = 0.5 * state.amplitude;
  return c * Pole(Complex(-state.decay, state.turn), stretch.samples).at(turn).sum +
         std::conj(c) * Pole(Complex(-state.decay, -state.turn), stretch.samples).at(turn).sum;
}

RingFit fit_rings(const Stretch& stretch, const std::vector<Ring>& guesses, double reach_hz) {
  assert(!guesses.empty() && reach_hz > 0.0);
  std::vector<State> states;
  for (const Ring& ring : guesses) states.push_back(state_of(ring, stretch.rate_hz));
  Problem problem(stretch, guesses, reach_hz);
  const auto unknowns = unknowns_each * static_cast<Eigen::Index>(states.size());
  find_amplitudes(problem, states);
  Matrix normal;
  RingFit fit;
  // Once for the noise near each ring, once with it.
  for (int pass = 0; pass < 2; ++pass) {
    fit.converged = descend(problem, states, normal);
    Vector left;
    problem.linearise(states, left, nullptr);
    problem.take_noise(left, unknowns);
  }
  Vector left;
  Matrix slopes;
  problem.linearise(states, left, &slopes);
  const Matrix covariance = (slopes.transpose() * slopes).inverse();
  for (std::size_t r = 0; r < states.size(); ++r) {
    const Eigen::Index column = unknowns_each * static_cast<Eigen::Index>(r);
    fit.rings.push_back(ring_of(states[r], stretch.rate_hz));
    // Along the amplitude's own direction.
    const Complex unit = states[r].amplitude / std::abs(states[r].amplitude);
    const Eigen::Vector2d along(unit.real(), unit.imag());
    const double amplitude =
        std::sqrt(along.dot(covariance.block<2, 2>(column + 2, column + 2) * along));
    fit.spreads.push_back(
        {std::sqrt(covariance(column + 1, column + 1)) * stretch.rate_hz / two_pi,
         std::sqrt(covariance(column, column)) * stretch.rate_hz,
         amplitude / std::abs(states[r].amplitude),
         problem.noise(r) * std::sqrt(2.0 / static_cast<double>(stretch.samples))});
  }
  return fit;
}

}  // namespace combwright::ear
