// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/shape.h"

#include <utility>

#include <boost/math/quadrature/gauss.hpp>

namespace combwright::steel {
namespace {

// Within a piece the square of the deflection runs through at most two waves and grows e^14-fold:
// 20 points leave an error below 1e-12.
using Gauss = boost::math::quadrature::gauss<double, 20>;
// All points of one side at once.
using Points = Eigen::Array<double, 10, 1>;

template <std::size_t n>
Points value(const std::array<double, n>& shape, const Points& t) {
  Points sum = Points::Zero();
  for (std::size_t i = n; i-- > 0;) sum = sum * t + shape[i];
  return sum;
}

// One motion on one piece.
class PieceMotion {
 public:
  PieceMotion(const Piece& piece, const State& inner, const Series& series)
      : piece_(&piece),
        series_(&series),
        middle_(inverse(series.inner) * own_units(piece).cwiseProduct(inner)) {}

  State at(double t) const {
    std::array<Four, 4> sum;
    sum.fill(Four::Zero());
    for (std::size_t n = series_->terms; n-- > 0;) {
      sum[0] = sum[0] * t + series_->deflection[n];
      sum[1] = sum[1] * t + series_->slope[n];
      sum[2] = sum[2] * t + series_->shear[n];
      sum[3] = sum[3] * t + series_->moment[n];
    }
    const State own{sum[0].matrix().dot(middle_), sum[1].matrix().dot(middle_),
                    sum[2].matrix().dot(middle_), sum[3].matrix().dot(middle_)};
    return own.cwiseQuotient(own_units(*piece_));
  }

  double moving_mass() const {
    const auto& abscissa = Gauss::abscissa();
    const auto& weight = Gauss::weights();
    const Points t = Eigen::Map<const Points>(abscissa.data());
    const Points w = Eigen::Map<const Points>(weight.data());
    const auto [up, down] = both_sides(series_->deflection, t);
    double sum = piece_->mass * (w * (value(piece_->mass_shape, t) * up.square() +
                                      value(piece_->mass_shape, Points(-t)) * down.square()))
                                    .sum();
    if (piece_->rotary > 0.0) {
      const auto [turn_up, turn_down] = both_sides(series_->slope, t);
      sum += piece_->rotary / (piece_->half * piece_->half) *
             (w * (value(piece_->rotary_shape, t) * turn_up.square() +
                   value(piece_->rotary_shape, Points(-t)) * turn_down.square()))
                 .sum();
    }
    return piece_->half * sum;
  }

 private:
  // The motion's values of one kind at t and at -t.
  std::pair<Points, Points> both_sides(const std::array<Four, most_terms>& series,
                                       const Points& t) const {
    const Points t2 = t.square();
    Points even = Points::Zero();
    Points odd = Points::Zero();
    for (std::size_t n = series_->terms; n-- > 0;) {
      Points& sum = n % 2 == 0 ? even : odd;
      sum = sum * t2 + series[n].matrix().dot(middle_);
    }
    odd *= t;
    return {even + odd, even - odd};
  }

  const Piece* piece_;
  const Series* series_;
  State middle_;
};

double moving_mass(const Body& body, const State& state) {
  const double deflection = state[0] + body.reach * state[1];
  return body.mass * deflection * deflection + body.inertia * state[1] * state[1];
}

}  // namespace

double moving_mass(const Beam& beam, const Motion& motion) {
  const std::vector<State>& states = motion.states;
  std::size_t pieces = 0;
  double sum = 0.0;
  for (std::size_t i = 0; i < beam.elements.size(); ++i) {
    if (const auto* piece = std::get_if<Piece>(&beam.elements[i])) {
      sum += PieceMotion(*piece, states[i], motion.series[pieces++]).moving_mass();
    } else if (const auto* body = std::get_if<Body>(&beam.elements[i])) {
      sum += moving_mass(*body, states[i]);
    }
  }
  return sum;
}

State state_at(const Beam& beam, const Motion& motion, double position) {
  const std::vector<State>& states = motion.states;
  std::size_t pieces = 0;
  double start = 0.0;
  for (std::size_t i = 0; i < beam.elements.size(); ++i) {
    if (const auto* piece = std::get_if<Piece>(&beam.elements[i])) {
      const double end = piece->start + 2.0 * piece->half;
      if (position < end) {
        const double t = (position - piece->start) / piece->half - 1.0;
        return PieceMotion(*piece, states[i], motion.series[pieces]).at(t);
      }
      ++pieces;
      start = end;
    } else if (const auto* link = std::get_if<Link>(&beam.elements[i])) {
      if (position < start + link->length) {
        State state = states[i];
        state[0] += (position - start) * state[1];
        state[3] -= (position - start) * state[2];
        return state;
      }
      start += link->length;
    }
  }
  return states.back();
}

}  // namespace combwright::steel
