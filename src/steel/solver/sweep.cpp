// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/sweep.h"

#include <cmath>
#include <utility>

#include <Eigen/LU>

namespace combwright::steel {
namespace {

using Two = Eigen::Matrix2d;

// Clamped, or as far as the root gives way: both motions with their unit forces.
Pair at_root(const Beam& beam) {
  Pair pair = Pair::Zero();
  pair(2, 0) = 1.0;
  pair(0, 0) = beam.root_shifting;
  pair(3, 1) = 1.0;
  pair(1, 1) = beam.root_turning;
  return pair;
}

// Negative eigenvalues of a symmetric matrix. Its determinant comes as the product of those of its
// factors, each sure of its sign; that of the product itself may be lost to rounding.
int negatives(double determinant, double trace) {
  if (determinant < 0.0) return 1;
  if (trace >= 0.0) return 0;
  return determinant > 0.0 ? 2 : 1;
}

Two displacements(const Pair& pair) {
  return pair.topRows<2>();
}
Two forces(const Pair& pair) {
  return pair.bottomRows<2>();
}

// Carries both motions over one element and counts the modes found on it.
class Carrier {
 public:
  // Keeps the solutions on each piece if there is room for them.
  Carrier(double angular_frequency, Pair& pair, std::vector<Series>* kept = nullptr)
      : angular_frequency_(angular_frequency), pair_(&pair), kept_(kept) {}

  int modes() const { return modes_; }

  void operator()(const Link& link) {
    pair_->row(0) += link.length * pair_->row(1);
    pair_->row(3) -= link.length * pair_->row(2);
  }

  void operator()(const Body& body) {
    const double squared = angular_frequency_ * angular_frequency_;
    const Eigen::RowVector2d push =
        squared * body.mass * (pair_->row(0) + body.reach * pair_->row(1));
    pair_->row(2) -= push;
    pair_->row(3) -= squared * body.inertia * pair_->row(1) + body.reach * push;
  }

  void operator()(const Piece& piece) {
    Series& series = kept_ != nullptr ? kept_->emplace_back() : series_;
    expand(piece, angular_frequency_, series);
    const State units = own_units(piece);
    const Eigen::Matrix4d from_inner = inverse(series.inner);
    const Pair inner = units.asDiagonal() * *pair_;
    const Pair outer = series.outer * (from_inner * inner);
    count(inner, outer, series.outer.topRows<2>() * from_inner.rightCols<2>());
    *pair_ = units.cwiseInverse().asDiagonal() * outer;
  }

 private:
  // `flexibility`: displacements of the outer end for forces at the inner one that is held. Its
  // determinant changes sign at every mode of the piece clamped at both ends; cut() leaves at most
  // one below the frequency. The stiffness at the joint before the piece, once what lies nearer the
  // root is taken together, is flexibility^-1 outer inner^-1 in displacements; multiplied by the
  // inner displacements from both sides it needs no inverse of what may be clamped.
  void count(const Pair& inner, const Pair& outer, const Two& flexibility) {
    const double determinant = flexibility.determinant();
    if (determinant < 0.0) ++modes_;
    Two adjugate;
    adjugate << flexibility(1, 1), -flexibility(0, 1), -flexibility(1, 0), flexibility(0, 0);
    const double trace = (adjugate * displacements(outer)).cwiseProduct(displacements(inner)).sum();
    modes_ += negatives(
        displacements(inner).determinant() * displacements(outer).determinant() * determinant,
        determinant < 0.0 ? -trace : trace);
  }

  Series series_;
  double angular_frequency_;
  Pair* pair_;
  std::vector<Series>* kept_;
  int modes_ = 0;
};

// Makes the columns orthonormal; the result's columns times `triangle` are the old ones.
Two orthonormalise(Pair& pair) {
  Two triangle = Two::Zero();
  triangle(0, 0) = pair.col(0).norm();
  pair.col(0) *= 1.0 / triangle(0, 0);
  triangle(0, 1) = pair.col(0).dot(pair.col(1));
  pair.col(1) -= triangle(0, 1) * pair.col(0);
  triangle(1, 1) = pair.col(1).norm();
  pair.col(1) *= 1.0 / triangle(1, 1);
  return triangle;
}

// The pair before each element and at last at the tip, with the triangles between them.
struct Record {
  std::vector<Pair> pairs;
  std::vector<Two> triangles;
  std::vector<Series> series;
};

Record record(const Beam& beam, double angular_frequency) {
  Record record;
  record.pairs.reserve(beam.elements.size() + 1);
  record.triangles.reserve(beam.elements.size());
  record.series.reserve(beam.elements.size());
  Pair pair = at_root(beam);
  record.pairs.push_back(pair);
  Carrier carry(angular_frequency, pair, &record.series);
  for (const Element& element : beam.elements) {
    std::visit(carry, element);
    record.triangles.push_back(orthonormalise(pair));
    record.pairs.push_back(pair);
  }
  return record;
}

// The one motion whose state at the tip is the tip's pair times `choice`.
std::vector<State> motion(const Record& record, Eigen::Vector2d choice) {
  std::vector<State> states(record.pairs.size());
  for (std::size_t i = record.pairs.size(); i-- > 0;) {
    states[i] = record.pairs[i] * choice;
    if (i > 0) choice = record.triangles[i - 1].triangularView<Eigen::Upper>().solve(choice);
  }
  return states;
}

// The unit vector that a matrix shortens most.
Eigen::Vector2d weakest(const Two& matrix) {
  const Two square = matrix.transpose() * matrix;
  const double angle = 0.5 * std::atan2(2.0 * square(0, 1), square(0, 0) - square(1, 1));
  return {-std::sin(angle), std::cos(angle)};
}

// Both motions carried to the tip.
struct Passage {
  Pair pair;
  int modes = 0;        // found on the way
  double growth = 1.0;  // that was taken out of the pair
};

Passage passage(const Beam& beam, double angular_frequency) {
  Passage passed{at_root(beam)};
  Pair& pair = passed.pair;
  Carrier carry(angular_frequency, pair);
  const Element* last = &beam.elements.back();
  for (const Element& element : beam.elements) {
    std::visit(carry, element);
    if (std::holds_alternative<Piece>(element) && &element != last)
      passed.growth *= orthonormalise(pair).diagonal().prod();
  }
  passed.modes = carry.modes();
  return passed;
}

}  // namespace

Sweep sweep(const Beam& beam, double angular_frequency) {
  const Passage passed = passage(beam, angular_frequency);
  const Pair& pair = passed.pair;
  const double determinant = forces(pair).determinant();
  const int at_tip = negatives(displacements(pair).determinant() * determinant,
                               displacements(pair).cwiseProduct(forces(pair)).sum());
  return {passed.modes + at_tip, passed.growth * determinant};
}

double tip_compliance(const Beam& beam) {
  const Pair pair = passage(beam, 0.0).pair;
  const Two turned = displacements(pair) * forces(pair).inverse();
  return turned(0, 0);
}

Motion free_motion(const Beam& beam, double angular_frequency) {
  Record passed = record(beam, angular_frequency);
  std::vector<State> states = motion(passed, weakest(forces(passed.pairs.back())));
  return {std::move(states), std::move(passed.series)};
}

}  // namespace combwright::steel
