// SPDX-License-Identifier: Apache-2.0
#include "ear/ring_fit.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <numbers>

#include <Eigen/Dense>

#include "base/angle.h"
#include "ear/ring_spectrum.h"

namespace combwright::ear {
namespace {

using Complex = std::complex<double>;
using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

constexpr Eigen::Index unknowns_each = 4;  // decay, angular frequency, real and imaginary amplitude
constexpr double reach_bins = 24.0;
constexpr double reach_half_widths = 8.0;
// A ring may grow by no more than e to this over the stretch: a fit that asks for more has lost it.
constexpr double most_growth = 20.0;

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

// Rings that share bins, by place among all.
using Cluster = std::vector<std::size_t>;

std::vector<Cluster> clusters_of(const Stretch& stretch, const std::vector<Ring>& rings) {
  Cluster order(rings.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return rings[a].frequency_hz < rings[b].frequency_hz;
  });
  std::vector<Cluster> clusters;
  double end_hz = 0.0;
  for (const std::size_t i : order) {
    const double low_hz = rings[i].frequency_hz - reach_hz(rings[i], stretch);
    if (clusters.empty() || low_hz > end_hz) clusters.emplace_back();
    clusters.back().push_back(i);
    end_hz = std::max(end_hz, rings[i].frequency_hz + reach_hz(rings[i], stretch));
  }
  return clusters;
}

std::vector<std::size_t> bins_near(const Stretch& stretch, const std::vector<Ring>& rings,
                                   const Cluster& cluster) {
  const double width = stretch.bin_hz();
  const auto last = static_cast<double>(stretch.spectrum.size()) - 1.0;
  std::vector<std::size_t> bins;
  for (const std::size_t i : cluster) {
    const double reach = reach_hz(rings[i], stretch);
    const double low = std::clamp(std::ceil((rings[i].frequency_hz - reach) / width), 0.0, last);
    const double high = std::clamp(std::floor((rings[i].frequency_hz + reach) / width), 0.0, last);
    for (auto bin = static_cast<std::size_t>(low); bin <= static_cast<std::size_t>(high); ++bin)
      if (bins.empty() || bin > bins.back()) bins.push_back(bin);
  }
  return bins;
}

void put(Matrix& to, Eigen::Index row, Eigen::Index column, Complex value) {
  to(row, column) = value.real();
  to(row + 1, column) = value.imag();
}

// One cluster's bins, two real rows each, less what the other rings put there.
struct Rows {
  std::vector<Complex> turns;
  Vector heard;

  Eigen::Index count() const { return heard.size(); }
};

Rows rows_of(const Stretch& stretch, const std::vector<Ring>& rings, const Cluster& cluster) {
  const std::vector<std::size_t> bins = bins_near(stretch, rings, cluster);
  Rows rows{turns_of(bins, stretch.samples), Vector(2 * static_cast<Eigen::Index>(bins.size()))};
  std::vector<Complex> heard;
  heard.reserve(bins.size());
  for (const std::size_t bin : bins) heard.push_back(stretch.spectrum[bin]);
  for (std::size_t i = 0; i < rings.size(); ++i) {
    if (std::find(cluster.begin(), cluster.end(), i) != cluster.end()) continue;
    RingSpectrum(rings[i], stretch).take_from(heard, rows.turns);
  }
  for (std::size_t b = 0; b < bins.size(); ++b) {
    const auto row = 2 * static_cast<Eigen::Index>(b);
    rows.heard[row] = heard[b].real();
    rows.heard[row + 1] = heard[b].imag();
  }
  return rows;
}

// What is left of the rows, and its slopes by the unknowns (with their signs turned).
void linearise(const Rows& rows, std::size_t samples, const std::vector<State>& states,
               Vector& left, Matrix& slopes) {
  left = rows.heard;
  slopes.resize(rows.count(), unknowns_each * static_cast<Eigen::Index>(states.size()));
  const Complex i(0.0, 1.0);
  for (std::size_t r = 0; r < states.size(); ++r) {
    const State& state = states[r];
    const PoleSpectrum pole(Complex(-state.decay, state.turn), samples);
    const PoleSpectrum mirror(Complex(-state.decay, -state.turn), samples);
    const Eigen::Index column = unknowns_each * static_cast<Eigen::Index>(r);
    const Complex c = 0.5 * state.amplitude;
    const Complex conj = std::conj(c);
    for (std::size_t b = 0; b < rows.turns.size(); ++b) {
      const Series to = pole.at(rows.turns[b]);
      const Series back = mirror.at(rows.turns[b]);
      const auto row = 2 * static_cast<Eigen::Index>(b);
      const Complex all = c * to.sum + conj * back.sum;
      left[row] -= all.real();
      left[row + 1] -= all.imag();
      put(slopes, row, column, -(c * to.slope + conj * back.slope));
      put(slopes, row, column + 1, i * (c * to.slope - conj * back.slope));
      put(slopes, row, column + 2, 0.5 * (to.sum + back.sum));
      put(slopes, row, column + 3, 0.5 * i * (to.sum - back.sum));
    }
  }
}

bool plausible(const std::vector<State>& states, std::size_t samples) {
  return std::all_of(states.begin(), states.end(), [samples](const State& state) {
    return std::isfinite(state.decay) && std::isfinite(state.turn) && state.turn > 0.0 &&
           state.turn < std::numbers::pi && state.decay < 1.0 &&
           -state.decay * static_cast<double>(samples) < most_growth;
  });
}

void step_by(std::vector<State>& states, const Vector& step) {
  for (std::size_t r = 0; r < states.size(); ++r) {
    const Eigen::Index column = unknowns_each * static_cast<Eigen::Index>(r);
    states[r].decay += step[column];
    states[r].turn += step[column + 1];
    states[r].amplitude += Complex(step[column + 2], step[column + 3]);
  }
}

// Gives the states the amplitudes that go best with their poles; returns the standard deviations.
Vector find_amplitudes(const Rows& rows, std::size_t samples, std::vector<State>& states) {
  for (State& state : states) state.amplitude = 0.0;
  Vector left;
  Matrix slopes;
  linearise(rows, samples, states, left, slopes);
  const auto count = static_cast<Eigen::Index>(states.size());
  Matrix linear(slopes.rows(), 2 * count);
  for (Eigen::Index r = 0; r < count; ++r)
    linear.middleCols(2 * r, 2) = slopes.middleCols(unknowns_each * r + 2, 2);
  Matrix normal = linear.transpose() * linear;
  // Rings too near to be told apart share their amplitude.
  normal.diagonal() *= 1.0 + 1e-9;
  const Matrix covariance = normal.inverse();
  const Vector found = covariance * (linear.transpose() * left);
  const double noise_square =
      (left - linear * found).squaredNorm() /
      static_cast<double>(std::max<Eigen::Index>(1, rows.count() - 2 * count));
  Vector spreads(count);
  for (Eigen::Index r = 0; r < count; ++r) {
    states[static_cast<std::size_t>(r)].amplitude = Complex(found[2 * r], found[2 * r + 1]);
    spreads[r] =
        std::sqrt(noise_square * (covariance(2 * r, 2 * r) + covariance(2 * r + 1, 2 * r + 1)));
  }
  return spreads;
}

// Where a descent ended.
struct Descent {
  Matrix slopes;
  double squares = 0.0;
  bool converged = false;
};

Descent descend(const Rows& rows, std::size_t samples, std::vector<State>& states) {
  constexpr int most_steps = 40;
  // A step that gains less than this share of one row's square moves nothing by a tenth of its
  // spread.
  constexpr double least_gain = 1e-3;
  double damping = 1e-3;
  Descent end;
  Vector left;
  linearise(rows, samples, states, left, end.slopes);
  end.squares = left.squaredNorm();
  for (int i = 0; i < most_steps; ++i) {
    Matrix damped = Matrix::Zero(end.slopes.cols(), end.slopes.cols());
    damped.selfadjointView<Eigen::Lower>().rankUpdate(end.slopes.transpose());
    damped.diagonal() *= 1.0 + damping;
    const Vector step =
        damped.selfadjointView<Eigen::Lower>().ldlt().solve(end.slopes.transpose() * left);
    if (!step.allFinite()) return end;
    std::vector<State> tried = states;
    step_by(tried, step);
    Vector tried_left;
    Matrix tried_slopes;
    double squares = end.squares;
    const bool sane = plausible(tried, samples);
    if (sane) {
      linearise(rows, samples, tried, tried_left, tried_slopes);
      squares = tried_left.squaredNorm();
    }
    if (!sane || !(squares <= end.squares * (1.0 + 1e-12))) {
      damping *= 10.0;
      if (damping > 1e9) {
        end.converged = true;
        return end;
      }
      continue;
    }
    const double gain = end.squares - squares;
    states = std::move(tried);
    left = std::move(tried_left);
    end.slopes = std::move(tried_slopes);
    end.squares = squares;
    damping = std::max(1e-12, 0.1 * damping);
    if (gain <= least_gain * squares / static_cast<double>(rows.count())) {
      end.converged = true;
      return end;
    }
  }
  return end;
}

std::vector<State> states_of(const std::vector<Ring>& rings, const Cluster& cluster,
                             double rate_hz) {
  std::vector<State> states;
  for (const std::size_t i : cluster) states.push_back(state_of(rings[i], rate_hz));
  return states;
}

void take_spreads(const Stretch& stretch, const Cluster& cluster, const std::vector<State>& states,
                  const Descent& end, RingFit& fit) {
  const Eigen::Index unknowns = end.slopes.cols();
  const Eigen::Index rows = end.slopes.rows();
  const double noise =
      std::sqrt(end.squares / static_cast<double>(std::max<Eigen::Index>(1, rows - unknowns)));
  const Matrix covariance = (end.slopes.transpose() * end.slopes).inverse();
  for (std::size_t r = 0; r < cluster.size(); ++r) {
    const Eigen::Index column = unknowns_each * static_cast<Eigen::Index>(r);
    const double size = std::abs(states[r].amplitude);
    // Along the amplitude's own direction.
    const Eigen::Vector2d along(states[r].amplitude.real() / size,
                                states[r].amplitude.imag() / size);
    const double across = along.dot(covariance.block<2, 2>(column + 2, column + 2) * along);
    fit.spreads[cluster[r]] = {
        noise * std::sqrt(covariance(column + 1, column + 1)) * stretch.rate_hz / two_pi,
        noise * std::sqrt(covariance(column, column)) * stretch.rate_hz,
        noise * std::sqrt(across) / size};
  }
}

}  // namespace

double reach_hz(const Ring& ring, const Stretch& stretch) {
  return std::max(reach_bins * stretch.bin_hz(),
                  reach_half_widths * std::abs(ring.decay_per_s) / two_pi);
}

RingFit fit_rings(const Stretch& stretch, const std::vector<Ring>& guesses) {
  assert(!guesses.empty());
  constexpr int most_sweeps = 8;
  // Of a ring's spread: less between two sweeps is no change.
  constexpr double least_change = 0.02;
  RingFit fit{guesses, std::vector<RingSpread>(guesses.size()), false};
  const std::vector<Cluster> clusters = clusters_of(stretch, guesses);
  for (Ring& ring : fit.rings) ring.amplitude = 0.0;
  for (int sweep = 0; sweep < most_sweeps && !fit.converged; ++sweep) {
    bool settled = true;
    bool moved = false;
    for (const Cluster& cluster : clusters) {
      const Rows rows = rows_of(stretch, fit.rings, cluster);
      std::vector<State> states = states_of(fit.rings, cluster, stretch.rate_hz);
      if (sweep == 0) find_amplitudes(rows, stretch.samples, states);
      const Descent end = descend(rows, stretch.samples, states);
      settled = settled && end.converged;
      take_spreads(stretch, cluster, states, end, fit);
      for (std::size_t r = 0; r < cluster.size(); ++r) {
        Ring& ring = fit.rings[cluster[r]];
        const Ring found = ring_of(states[r], stretch.rate_hz);
        moved = moved || !(std::abs(found.frequency_hz - ring.frequency_hz) <=
                           least_change * fit.spreads[cluster[r]].frequency_hz);
        ring = found;
      }
    }
    fit.converged = settled && (!moved || clusters.size() == 1);
  }
  return fit;
}

Departure departure_of(const Stretch& stretch, const RingFit& fit, std::size_t ring) {
  for (const Cluster& cluster : clusters_of(stretch, fit.rings)) {
    const auto place = std::find(cluster.begin(), cluster.end(), ring);
    if (place == cluster.end()) continue;
    const Rows rows = rows_of(stretch, fit.rings, cluster);
    const std::vector<State> states = states_of(fit.rings, cluster, stretch.rate_hz);
    Vector left;
    Matrix slopes;
    linearise(rows, stretch.samples, states, left, slopes);
    const Eigen::Index glide = slopes.cols();
    const Eigen::Index swell = glide + 1;
    slopes.conservativeResize(Eigen::NoChange, swell + 1);
    const State& state = states[static_cast<std::size_t>(place - cluster.begin())];
    const PoleSpectrum pole(Complex(-state.decay, state.turn), stretch.samples);
    const PoleSpectrum mirror(Complex(-state.decay, -state.turn), stretch.samples);
    const Complex c = 0.5 * state.amplitude;
    for (std::size_t b = 0; b < rows.turns.size(); ++b) {
      const Complex to = 0.5 * c * pole.at(rows.turns[b], true).bend;
      const Complex back = 0.5 * std::conj(c) * mirror.at(rows.turns[b], true).bend;
      put(slopes, 2 * static_cast<Eigen::Index>(b), glide, Complex(0.0, 1.0) * (to - back));
      put(slopes, 2 * static_cast<Eigen::Index>(b), swell, to + back);
    }
    const Matrix covariance = (slopes.transpose() * slopes).inverse();
    const Vector step = covariance * (slopes.transpose() * left);
    const double squares = (left - slopes * step).squaredNorm();
    const double noise = std::sqrt(
        squares / static_cast<double>(std::max<Eigen::Index>(1, slopes.rows() - slopes.cols())));
    const double unit = stretch.rate_hz * stretch.rate_hz;
    return {step[glide] * unit / two_pi,
            noise * std::sqrt(covariance(glide, glide)) * unit / two_pi, step[swell] * unit,
            noise * std::sqrt(covariance(swell, swell)) * unit};
  }
  return {};
}

}  // namespace combwright::ear
