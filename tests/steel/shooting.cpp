// SPDX-License-Identifier: Apache-2.0
#include "shooting.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include <boost/numeric/odeint.hpp>

namespace combwright::steel {
namespace {

using Real = long double;
// Twice deflection, slope, shear force, moment; lengths in tooth lengths, stiffness in that of the
// root.
using Motion = std::array<Real, 8>;

struct Lengthwise {
  Real stiffness, mass, rotary, shear_compliance;
};

class Problem {
 public:
  Problem(const Tooth& tooth, Real frequency_hz) : tooth_(tooth) {
    for (const Section& section : tooth.sections) length_ += section.length_m;
    const Section& root = tooth.sections.front();
    const Real area = Real{root.root_width_m} * root.root_thickness_m;
    unit_stiffness_ =
        tooth.steel.modulus_pa * area * root.root_thickness_m * root.root_thickness_m / 12.0L;
    unit_mass_ = tooth.steel.density_kg_m3 * area;
    const Real omega = 2.0L * std::numbers::pi_v<Real> * frequency_hz;
    squared_ = omega * omega * unit_mass_ * std::pow(length_, 4.0L) / unit_stiffness_;
  }

  Real determinant(Real tolerance) const {
    Motion y{};
    y[0] = unit_stiffness_ / (length_ * length_ * length_ * tooth_.root.shifting_n_m);
    y[2] = 1.0L;
    y[5] = unit_stiffness_ / (length_ * tooth_.root.turning_n_m);
    y[7] = 1.0L;
    const std::vector<Real> places = breaks();
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
      hang_points(y, places[i]);
      integrate(y, places[i], places[i + 1], tolerance);
    }
    hang_points(y, places.back());
    return y[2] * y[7] - y[3] * y[6];
  }

 private:
  static Real begin(const Lead& lead) { return Real{lead.center_m} - 0.5L * lead.length_m; }
  static Real end(const Lead& lead) { return Real{lead.center_m} + 0.5L * lead.length_m; }
  static bool stiffens(const Lead& lead) { return lead.length_m > 0.0 && lead.modulus_pa > 0.0; }

  std::vector<Real> breaks() const {
    std::vector<Real> places{0.0L};
    for (const Section& section : tooth_.sections)
      places.push_back(places.back() + section.length_m);
    const Real tip = places.back();
    for (const Lead& lead : tooth_.leads) {
      if (stiffens(lead)) {
        places.push_back(std::clamp(begin(lead), 0.0L, tip));
        places.push_back(std::clamp(end(lead), 0.0L, tip));
      } else {
        places.push_back(lead.center_m);
      }
    }
    std::sort(places.begin(), places.end());
    std::vector<Real> distinct{places.front()};
    for (const Real place : places)
      if (place - distinct.back() > 1e-13L * tip) distinct.push_back(place);
    return distinct;
  }

  void hang_points(Motion& y, Real place) const {
    for (const Lead& lead : tooth_.leads) {
      if (stiffens(lead) || std::abs(lead.center_m - place) > 1e-13L * length_) continue;
      const Real mass = lead.mass_kg / (unit_mass_ * length_);
      const Real inertia =
          mass *
          ((Real{lead.length_m} * lead.length_m + Real{lead.height_m} * lead.height_m) / 12.0L +
           Real{lead.offset_m} * lead.offset_m) /
          (length_ * length_);
      for (std::size_t c = 0; c < 8; c += 4) {
        y[c + 2] -= squared_ * mass * y[c];
        y[c + 3] -= squared_ * inertia * y[c + 1];
      }
    }
  }

  Lengthwise at(Real place, const Section& section, Real start, const Lead* lead) const {
    const Real share = (place - start) / section.length_m;
    const Real b =
        section.root_width_m + share * (Real{section.tip_width_m} - section.root_width_m);
    const Real h = section.root_thickness_m +
                   share * (Real{section.tip_thickness_m} - section.root_thickness_m);
    const Metal& steel = tooth_.steel;
    const bool thick = tooth_.theory == Theory::thick;
    Real bending = steel.modulus_pa * b * h * h * h / 12.0L;
    Real mass = steel.density_kg_m3 * b * h;
    Real rotary = thick ? mass * h * h / 12.0L : 0.0L;
    Real shear =
        tooth_.shear_coefficient * b * h * steel.modulus_pa / (2.0L * (1.0L + steel.poisson_ratio));
    if (lead != nullptr) {
      const Real c = lead->height_m;
      const Real z = lead->offset_m;
      const Real steel_part = steel.modulus_pa * b * h;
      const Real lead_part = Real{lead->modulus_pa} * lead->width_m * c;
      // Steiner about the neutral axis, which divides z in the ratio of the two parts.
      const Real down = z * lead_part / (steel_part + lead_part);
      bending += steel_part * down * down + lead_part * (c * c / 12.0L + (z - down) * (z - down));
      const Real lead_mass = Real{lead->mass_kg} / lead->length_m;
      mass += lead_mass;
      rotary += lead_mass * (c * c / 12.0L + z * z);
      shear += tooth_.shear_coefficient * lead->modulus_pa * lead->width_m * c /
               (2.0L * (1.0L + lead->poisson_ratio));
    }
    const Real l2 = length_ * length_;
    return {bending / unit_stiffness_, mass / unit_mass_, rotary / (unit_mass_ * l2),
            thick ? unit_stiffness_ / (l2 * shear) : 0.0L};
  }

  void integrate(Motion& y, Real from, Real to, Real tolerance) const {
    namespace odeint = boost::numeric::odeint;
    const Real middle = 0.5L * (from + to);
    Real start = 0.0L;
    const Section* section = &tooth_.sections.front();
    while (middle > start + section->length_m) start += (section++)->length_m;
    const Lead* over = nullptr;
    for (const Lead& lead : tooth_.leads)
      if (stiffens(lead) && begin(lead) < middle && middle < end(lead)) over = &lead;
    const auto slope = [&](const Motion& s, Motion& d, Real x) {
      const Lengthwise p = at(x * length_, *section, start, over);
      for (std::size_t c = 0; c < 8; c += 4) {
        d[c] = s[c + 1] + p.shear_compliance * s[c + 2];
        d[c + 1] = s[c + 3] / p.stiffness;
        d[c + 2] = -squared_ * p.mass * s[c];
        d[c + 3] = -s[c + 2] - squared_ * p.rotary * s[c + 1];
      }
    };
    using Stepper = odeint::runge_kutta_fehlberg78<Motion, Real>;
    odeint::integrate_adaptive(odeint::make_controlled<Stepper>(tolerance, tolerance), slope, y,
                               from / length_, to / length_, 0.01L * (to - from) / length_);
  }

  const Tooth& tooth_;
  Real length_ = 0.0L;
  Real unit_stiffness_ = 0.0L;
  Real unit_mass_ = 0.0L;
  Real squared_ = 0.0L;
};

}  // namespace

long double tip_determinant(const Tooth& tooth, long double frequency_hz, long double tolerance) {
  return Problem(tooth, frequency_hz).determinant(tolerance);
}

}  // namespace combwright::steel
