// SPDX-License-Identifier: Apache-2.0
// Highway compiles this file once for every kind of processor.
#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "steel/solver/series.cpp"
#include "steel/solver/series.h"

#include <algorithm>

#include <hwy/foreach_target.h>
#include <hwy/highway.h>

#include "base/error.h"

HWY_BEFORE_NAMESPACE();
namespace combwright::steel::HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

// Four solutions at once, or two and two: every lane gets the same bits either way. Multiply and
// add stay apart: a fused one would round differently on processors that have it.
using Lanes = hn::CappedTag<double, 4>;
using Vector = hn::Vec<Lanes>;
inline constexpr Lanes lanes;

// What each of the three last orders may add to values of 1 and more.
inline constexpr double negligible = 1e-15;

// No series is shorter; it is looked at every so many orders whether one ends.
inline constexpr std::size_t least_terms = 10;
inline constexpr std::size_t look_every = 3;

// 1 / n
inline constexpr std::array<double, most_terms + 1> reciprocals = [] {
  std::array<double, most_terms + 1> table{};
  for (std::size_t n = 1; n < table.size(); ++n) table[n] = 1.0 / static_cast<double>(n);
  return table;
}();

using Row = std::array<Four, most_terms>;

HWY_INLINE Vector get(const Row& row, std::size_t n, std::size_t lane) {
  return hn::LoadU(lanes, row[n].data() + lane);
}
HWY_INLINE void put(Vector value, Row& row, std::size_t n, std::size_t lane) {
  hn::StoreU(value, lanes, row[n].data() + lane);
}
HWY_INLINE Vector times(double factor, Vector value) {
  return hn::Mul(hn::Set(lanes, factor), value);
}

// Sum of polynomial[j] * row[n - j] over j from `from` to the degree, without what lies before the
// first order. The oldest come first, so that nothing waits for the newest.
template <std::size_t from, std::size_t degree, bool far, std::size_t size>
HWY_INLINE Vector older(const std::array<double, size>& polynomial, const Row& row, std::size_t n,
                        std::size_t lane) {
  if (!far && n < from) return hn::Zero(lanes);
  const std::size_t oldest = far ? degree : std::min(degree, n);
  Vector sum = times(polynomial[oldest], get(row, n - oldest, lane));
  for (std::size_t j = oldest; j-- > from;)
    sum = hn::Add(sum, times(polynomial[j], get(row, n - j, lane)));
  return sum;
}

// The degrees of a piece's polynomials, by its kind.
template <std::size_t stiffness_, std::size_t divisor_, std::size_t mass_, std::size_t rotary_,
          std::size_t shear_>
struct Degrees {
  static constexpr std::size_t stiffness = stiffness_;
  static constexpr std::size_t divisor = divisor_;
  static constexpr std::size_t mass = mass_;
  static constexpr std::size_t rotary = rotary_;
  static constexpr std::size_t shear = shear_;
  static constexpr std::size_t most = stiffness_;
};
using Uniform = Degrees<0, 0, 0, 0, 0>;
using OneWidth = Degrees<3, 0, 1, 3, 1>;
using OneWidthWithLead = Degrees<4, 1, 1, 3, 1>;
using Any = Degrees<6, 2, 2, 4, 2>;

// The constants of a piece's equations at one angular frequency, and what its coefficients need of
// those before them.
struct Equations {
  const Piece& piece;
  double sheared;         // a
  double turned;          // b
  double moved;           // c
  alignas(64) Row bend;   // slope'
  alignas(64) Row glide;  // shear / g

  // Orders from + 1 to `to`, of the solutions from `lane` on. `far`: there are as many coefficients
  // before them as the longest polynomial has.
  template <class Degree, bool far>
  HWY_INLINE void advance(Series& series, std::size_t from, std::size_t to, std::size_t lane) {
    Vector deflection = get(series.deflection, from, lane);
    Vector slope = get(series.slope, from, lane);
    Vector shear = get(series.shear, from, lane);
    Vector moment = get(series.moment, from, lane);
    for (std::size_t n = from; n < to; ++n) {
      const double share = reciprocals[n + 1];
      const Vector bent = bend_at<Degree, far>(series, moment, n, lane);
      Vector slides = slope;
      if (sheared > 0.0)
        slides = hn::Add(slides, times(sheared, glide_at<Degree, far>(shear, n, lane)));
      Vector leans = shear;
      if (turned > 0.0) {
        Vector turns = slope;
        if constexpr (Degree::rotary > 0)
          turns = hn::Add(turns,
                          older<1, Degree::rotary, far>(piece.rotary_shape, series.slope, n, lane));
        leans = hn::Add(leans, times(turned, turns));
      }
      Vector moves = deflection;
      if constexpr (Degree::mass > 0)
        moves = hn::Add(moves,
                        older<1, Degree::mass, far>(piece.mass_shape, series.deflection, n, lane));
      deflection = times(share, slides);
      slope = times(share, bent);
      shear = times(-share * moved, moves);
      moment = times(-share, leans);
      put(deflection, series.deflection, n + 1, lane);
      put(slope, series.slope, n + 1, lane);
      put(shear, series.shear, n + 1, lane);
      put(moment, series.moment, n + 1, lane);
    }
  }

  template <class Degree, bool far>
  HWY_INLINE Vector bend_at(const Series& series, Vector moment, std::size_t n, std::size_t lane) {
    if constexpr (Degree::stiffness == 0) return moment;
    Vector bent = moment;
    if constexpr (Degree::divisor > 0)
      bent = hn::Add(
          bent, older<1, Degree::divisor, far>(piece.stiffness_divisor, series.moment, n, lane));
    bent = hn::Sub(bent, older<2, Degree::stiffness, far>(piece.stiffness_shape, bend, n, lane));
    if (far || n > 0) bent = hn::Sub(bent, times(piece.stiffness_shape[1], get(bend, n - 1, lane)));
    put(bent, bend, n, lane);
    return bent;
  }

  template <class Degree, bool far>
  HWY_INLINE Vector glide_at(Vector shear, std::size_t n, std::size_t lane) {
    if constexpr (Degree::shear == 0) return shear;
    const Vector glides =
        hn::Sub(shear, older<1, Degree::shear, far>(piece.shear_shape, glide, n, lane));
    put(glides, glide, n, lane);
    return glides;
  }
};

// True if order n adds nothing to any of the solutions.
HWY_INLINE bool is_negligible(const Series& series, std::size_t n, double limit) {
  Vector most = hn::Zero(lanes);
  for (std::size_t lane = 0; lane < 4; lane += hn::Lanes(lanes)) {
    for (const Row* row : {&series.deflection, &series.slope, &series.shear, &series.moment})
      most = hn::Max(most, hn::Abs(get(*row, n, lane)));
  }
  return hn::AllTrue(lanes, hn::Lt(most, hn::Set(lanes, limit)));
}

// What three orders in a row leave out, all that follow leave out.
HWY_INLINE bool ended(const Series& series, std::size_t n) {
  for (std::size_t i = 0; i < 3; ++i) {
    if (!is_negligible(series, n - i, negligible)) return false;
  }
  return true;
}

template <class Degree>
void run(Equations& equations, Series& series) {
  const auto advance = [&]<bool far>(std::bool_constant<far>, std::size_t from, std::size_t to) {
    for (std::size_t lane = 0; lane < 4; lane += hn::Lanes(lanes))
      equations.advance<Degree, far>(series, from, to, lane);
  };
  std::size_t n = Degree::most;
  if constexpr (Degree::most > 0) advance(std::false_type{}, 0, n);
  while (n + look_every < most_terms) {
    advance(std::true_type{}, n, n + look_every);
    n += look_every;
    if (n + 1 >= least_terms && ended(series, n)) break;
  }
  series.terms = (n + 1) / 2 * 2;  // in pairs: the last is negligible
}

// The ends at t = -1 and 1: orders of even parity less and plus those of odd parity.
HWY_INLINE void add_up(Series& series) {
  for (std::size_t lane = 0; lane < 4; lane += hn::Lanes(lanes)) {
    const auto store = [&](Vector even, Vector odd, std::size_t row) HWY_ATTR {
      hn::StoreU(hn::Sub(even, odd), lanes, series.inner.data() + 4 * row + lane);
      hn::StoreU(hn::Add(even, odd), lanes, series.outer.data() + 4 * row + lane);
    };
    Vector deflection = hn::Zero(lanes), odd_deflection = hn::Zero(lanes);
    Vector slope = hn::Zero(lanes), odd_slope = hn::Zero(lanes);
    Vector shear = hn::Zero(lanes), odd_shear = hn::Zero(lanes);
    Vector moment = hn::Zero(lanes), odd_moment = hn::Zero(lanes);
    for (std::size_t n = 0; n < series.terms; n += 2) {
      deflection = hn::Add(deflection, get(series.deflection, n, lane));
      odd_deflection = hn::Add(odd_deflection, get(series.deflection, n + 1, lane));
      slope = hn::Add(slope, get(series.slope, n, lane));
      odd_slope = hn::Add(odd_slope, get(series.slope, n + 1, lane));
      shear = hn::Add(shear, get(series.shear, n, lane));
      odd_shear = hn::Add(odd_shear, get(series.shear, n + 1, lane));
      moment = hn::Add(moment, get(series.moment, n, lane));
      odd_moment = hn::Add(odd_moment, get(series.moment, n + 1, lane));
    }
    store(deflection, odd_deflection, 0);
    store(slope, odd_slope, 1);
    store(shear, odd_shear, 2);
    store(moment, odd_moment, 3);
  }
}

void expand_lanes(const Piece& piece, double angular_frequency, Series& series) {
  const double a2 = piece.half * piece.half;
  const double squared = angular_frequency * angular_frequency;
  Equations equations{.piece = piece,
                      .sheared = piece.shear_compliance * piece.stiffness / a2,
                      .turned = squared * piece.rotary * a2 / piece.stiffness,
                      .moved = squared * piece.mass * a2 * a2 / piece.stiffness};
  series.deflection[0] = {1.0, 0.0, 0.0, 0.0};
  series.slope[0] = {0.0, 1.0, 0.0, 0.0};
  series.shear[0] = {0.0, 0.0, 1.0, 0.0};
  series.moment[0] = {0.0, 0.0, 0.0, 1.0};
  switch (piece.kind) {
    case PieceKind::uniform:
      run<Uniform>(equations, series);
      break;
    case PieceKind::one_width:
      run<OneWidth>(equations, series);
      break;
    case PieceKind::one_width_with_lead:
      run<OneWidthWithLead>(equations, series);
      break;
    case PieceKind::any:
      run<Any>(equations, series);
      break;
  }
  add_up(series);
}

}  // namespace combwright::steel::HWY_NAMESPACE
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace combwright::steel {

HWY_EXPORT(expand_lanes);

void expand(const Piece& piece, double angular_frequency, Series& series) {
  HWY_DYNAMIC_DISPATCH(expand_lanes)(piece, angular_frequency, series);
  if (series.terms + 3 > most_terms)
    throw Error({}, "the tooth's shape is beyond this program's reach; taper less");
}

}  // namespace combwright::steel
#endif
