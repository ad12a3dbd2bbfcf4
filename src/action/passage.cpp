// SPDX-License-Identifier: Apache-2.0
#include "action/passage.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include <fmt/format.h>

#include "action/action.h"
#include "action/strike.h"
#include "base/angle.h"
#include "base/quantity.h"
#include "box/measures.h"
#include "box/star_drive.h"

namespace combwright::action {
namespace {

// Everything that turns or is turned at one track.
struct Mechanism {
  box::StarDrive drive;
  box::StarWheel wheel;
  box::Damper damper;
  std::vector<Strike> strikes;
  std::vector<double> stiffness_n_m;
};

Mechanism mechanism(const box::Box& box, int track, const std::vector<double>& stiffness_n_m) {
  Mechanism result{.drive = box::star_drive(box),
                   .wheel = box.star_wheel,
                   .damper = box.damper,
                   .strikes = {},
                   .stiffness_n_m = stiffness_n_m};
  assert(stiffness_n_m.size() == box.combs.size());
  for (std::size_t comb = 0; comb < box.combs.size(); ++comb)
    result.strikes.push_back(strike(box, result.drive, comb, place_of(box, track)));
  return result;
}

// Torques that hold the wheel back at an angle of the driven point, and what of them is friction
// between points and teeth.
struct Load {
  double teeth_nm = 0.0;  // without friction: what bends the teeth
  double rubbed_nm = 0.0;
  double damper_nm = 0.0;
  double brake_nm = 0.0;
  bool jams = false;

  double total_nm() const { return teeth_nm + rubbed_nm + damper_nm + brake_nm; }
};

void add_tooth(Load& load, const Strike& strike, double stiffness_n_m, double friction,
               double angle) {
  const Touch touch = strike.touch(angle);
  const double force = stiffness_n_m * touch.lift_m;
  if (!(force > 0.0)) return;
  // The point's way at the contact, for one radian, is (-z, s). Only that across the tooth's
  // surface rubs; the end of the tooth slides along too, as it draws back.
  const double along_s = touch.nz;
  const double along_z = -touch.ns;
  const double per_normal = touch.ns * -touch.z_m + touch.nz * touch.s_m;
  const double speed_along = along_s * -touch.z_m + along_z * touch.s_m;
  const double drawn_back = touch.at_end && std::isfinite(strike.length_m)
                                ? 2.0 * box::draw_back_m(strike.length_m, 1.0) * touch.lift_m
                                : 0.0;
  const double lift_speed = per_normal / (touch.nz + touch.ns * drawn_back);
  const double tooth_along = (along_s * drawn_back + along_z) * lift_speed;
  const double way = speed_along > tooth_along ? 1.0 : -1.0;
  const double rub = friction * way;
  const double across = touch.nz + touch.ns * drawn_back + rub * (along_z + along_s * drawn_back);
  if (!(across > 0.0)) {
    load.jams = true;
    return;
  }
  const double normal = force / across;
  const double torque = normal * (per_normal + rub * speed_along);
  const double bent = force * lift_speed;
  load.teeth_nm += bent;
  load.rubbed_nm += torque - bent;
}

Load load_at(const Mechanism& m, double angle) {
  Load load{.brake_nm = m.wheel.brake_torque_nm};
  for (std::size_t i = 0; i < m.strikes.size(); ++i)
    add_tooth(load, m.strikes[i], m.stiffness_n_m[i], m.wheel.friction, angle);
  const double way = m.wheel.tip_radius_m * (angle - m.drive.rest_rad);
  if (way <= m.damper.reach_m) {
    const double sideways = m.damper.ratio * std::max(0.0, way - m.damper.stands_m);
    load.damper_nm = m.damper.stiffness_n_m * sideways * m.damper.ratio * m.wheel.tip_radius_m;
  }
  return load;
}

// What a torque asks of the projection along the travel; of that what friction on the point adds.
struct Push {
  double force_n = 0.0;
  double rubbed_n = 0.0;
  bool jams = false;
};

Push push_at(const Mechanism& m, double angle, double torque_nm) {
  const box::Contact at = m.drive.contact(angle);
  const double face_per_rad = m.drive.face_per_rad(angle);
  const double smooth = torque_nm / face_per_rad;
  // The projection moves by (face_per_rad, 0) for one radian, the point's flank by (y, -x).
  const double along_x = -at.ny;
  const double along_y = at.nx;
  const double slip = along_x * face_per_rad - (along_x * at.y_m - along_y * at.x_m);
  const double rub = m.wheel.friction * (slip > 0.0 ? 1.0 : -1.0);
  const double push_x = at.nx + rub * along_x;
  const double push_y = at.ny + rub * along_y;
  const double arm = at.y_m * push_x - at.x_m * push_y;
  if (!(arm > 0.0)) return {smooth, 0.0, true};
  const double force = torque_nm / arm * push_x;
  return {force, force - smooth, false};
}

// Where the tip of a point goes over from the tooth's face to its end.
double leaves_face_rad(const Strike& strike) {
  double low = std::max(strike.meet_rad, strike.level_rad + strike.flank_rad);
  double high = strike.slip_rad;
  constexpr int steps = 50;
  for (int i = 0; i < steps && low < high; ++i) {
    const double middle = 0.5 * (low + high);
    (strike.touch(middle).at_end ? high : low) = middle;
  }
  return low;
}

// Places between which force and geometry run smoothly, rest and leave among them, in order.
std::vector<double> joints(const Mechanism& m) {
  const box::StarDrive& drive = m.drive;
  std::vector<double> angles{drive.rest_rad, drive.leave_rad};
  const auto add = [&](double angle) {
    if (angle > drive.rest_rad && angle < drive.leave_rad) angles.push_back(angle);
  };
  add(-drive.flank_rad);
  add(drive.rest_rad + m.damper.stands_m / m.wheel.tip_radius_m);
  add(drive.rest_rad + m.damper.reach_m / m.wheel.tip_radius_m);
  for (const Strike& strike : m.strikes) {
    add(strike.meet_rad);
    add(strike.slip_rad);
    add(strike.level_rad + strike.flank_rad);
    add(leaves_face_rad(strike));
  }
  std::sort(angles.begin(), angles.end());
  return angles;
}

// Gauss and Legendre's rule of five points.
constexpr std::array<double, 5> gauss_at{-0.9061798459386640, -0.5384693101056831, 0.0,
                                         0.5384693101056831, 0.9061798459386640};
constexpr std::array<double, 5> gauss_weight{0.2369268850561891, 0.4786286704993665,
                                             0.5688888888888889, 0.4786286704993665,
                                             0.2369268850561891};
constexpr int parts = 24;

Passage passage(const box::Box& box, const Mechanism& m, int track, double speed_m_s) {
  Passage result{.track = track};
  const box::StarDrive& drive = m.drive;
  result.travel_m = drive.face_m(drive.leave_rad) - drive.face_m(drive.rest_rad);
  const std::vector<double> ends = joints(m);
  const auto peak = [&](double angle, double force) {
    if (force <= result.peak_force_n) return;
    result.peak_force_n = force;
    result.peak_travel_m = drive.face_m(angle) - drive.face_m(drive.rest_rad);
  };
  for (std::size_t piece = 0; piece + 1 < ends.size(); ++piece) {
    const double width = (ends[piece + 1] - ends[piece]) / parts;
    for (int part = 0; part < parts; ++part) {
      const double middle = ends[piece] + (part + 0.5) * width;
      for (std::size_t i = 0; i < gauss_at.size(); ++i) {
        const double angle = middle + 0.5 * width * gauss_at.at(i);
        const double by = 0.5 * width * gauss_weight.at(i);
        const Load load = load_at(m, angle);
        const Push push = push_at(m, angle, load.total_nm());
        const double turned = by * drive.face_per_rad(angle);
        result.work_j += push.force_n * turned;
        result.teeth_j += load.teeth_nm * by;
        result.damper_j += load.damper_nm * by;
        result.brake_j += load.brake_nm * by;
        result.friction_j += load.rubbed_nm * by + push.rubbed_n * turned;
        result.jams = result.jams || load.jams || push.jams;
        peak(angle, push.force_n);
      }
    }
  }
  // The greatest force may stand right before a tooth is let go.
  for (const Strike& strike : m.strikes) {
    const double angle = std::min(strike.slip_rad, drive.leave_rad) - 1e-12;
    peak(angle, push_at(m, angle, load_at(m, angle).total_nm()).force_n);
  }
  const double width = box.projection.width_m;
  const double thick = box.disc.thickness_m;
  result.bending_stress_pa =
      6.0 * result.peak_force_n * box.projection.height_m / (width * thick * thick);

  // Fastest where the tooth has just been let go.
  double slip = drive.rest_rad;
  for (const Strike& strike : m.strikes) slip = std::max(slip, strike.slip_rad);
  const double fastest = speed_m_s / drive.face_per_rad(std::min(slip, drive.leave_rad - 1e-9));
  const double inertia = 0.5 * std::numbers::pi * m.wheel.density_kg_m3 * m.wheel.thickness_m *
                         std::pow(m.wheel.tip_radius_m, 4);
  result.run_out_rad = m.wheel.brake_torque_nm > 0.0
                           ? 0.5 * inertia * fastest * fastest / m.wheel.brake_torque_nm
                           : std::numeric_limits<double>::infinity();
  return result;
}

}  // namespace

std::vector<Passage> passages(const box::Box& box,
                              const std::vector<std::vector<double>>& stiffness_n_m,
                              double turn_time_s) {
  assert(stiffness_n_m.size() == box.combs.size() && turn_time_s > 0.0);
  std::vector<Passage> result;
  for (const box::Track& track : box::tracks(box)) {
    std::vector<double> stiffness;
    stiffness.reserve(stiffness_n_m.size());
    for (const std::vector<double>& comb : stiffness_n_m)
      stiffness.push_back(comb[static_cast<std::size_t>(track.number - 1)]);
    const double speed = two_pi * track.radius_m / turn_time_s;
    result.push_back(passage(box, mechanism(box, track.number, stiffness), track.number, speed));
  }
  return result;
}

std::vector<Moment> moments(const box::Box& box, int track,
                            const std::vector<double>& stiffness_n_m, std::size_t count) {
  assert(count >= 2 && track >= 1 && track <= box.tracks.count);
  const Mechanism m = mechanism(box, track, stiffness_n_m);
  const double from = m.drive.face_m(m.drive.rest_rad);
  const double travel = m.drive.face_m(m.drive.leave_rad) - from;
  std::vector<Moment> result;
  for (std::size_t i = 0; i < count; ++i) {
    Moment moment{.travel_m = travel * static_cast<double>(i) / static_cast<double>(count - 1)};
    moment.angle_rad = m.drive.angle_rad(from + moment.travel_m);
    // Slipping off the very tip a projection has no hold any more.
    const double angle = std::min(moment.angle_rad, m.drive.leave_rad - 1e-9);
    moment.force_n = push_at(m, angle, load_at(m, angle).total_nm()).force_n;
    for (const Strike& strike : m.strikes) moment.lift_m.push_back(strike.lift_at_m(angle));
    result.push_back(std::move(moment));
  }
  return result;
}

}  // namespace combwright::action
