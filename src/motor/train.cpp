// SPDX-License-Identifier: Apache-2.0
#include "motor/train.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "base/angle.h"

namespace combwright::motor {
namespace {

using std::numbers::pi;
constexpr double pressure_angle = 20.0 * pi / 180.0;

// Brass on steel, (1 - nu^2) / E of both: 100 GPa and 0.34, 205 GPa and 0.29.
constexpr double compliance = (1.0 - 0.34 * 0.34) / 100e9 + (1.0 - 0.29 * 0.29) / 205e9;

// The share of one wheel in the contact ratio.
double addendum_ratio(int teeth) {
  const double z = teeth;
  const double base = z * std::cos(pressure_angle);
  return (std::sqrt((z + 2.0) * (z + 2.0) - base * base) - z * std::sin(pressure_angle)) /
         (two_pi * std::cos(pressure_angle));
}

double mesh_efficiency(const box::Train& train, std::size_t at) {
  return train.pinion_teeth[at] == 1 ? train.screw_efficiency : train.mesh_efficiency;
}

}  // namespace

Gear gear(int teeth, double module_m) {
  const double pitch_radius = 0.5 * teeth * module_m;
  return {teeth, pitch_radius, pitch_radius + module_m, pitch_radius - 1.25 * module_m};
}

double axes_apart_m(const box::Train& train, std::size_t mesh) {
  assert(train.pinion_teeth[mesh] > 1);
  return 0.5 * train.module_m * (train.wheel_teeth[mesh] + train.pinion_teeth[mesh]);
}

double contact_ratio(int pinion_teeth, int wheel_teeth) {
  return addendum_ratio(pinion_teeth) + addendum_ratio(wheel_teeth);
}

double flank_efficiency(int pinion_teeth, int wheel_teeth, double friction) {
  const double u = static_cast<double>(wheel_teeth) / pinion_teeth;
  const double e1 = addendum_ratio(pinion_teeth);
  const double e2 = addendum_ratio(wheel_teeth);
  const double h = pi * (u + 1.0) / (pinion_teeth * u) * (1.0 - (e1 + e2) + e1 * e1 + e2 * e2);
  return 1.0 - friction * h;
}

double form_factor(int teeth) {
  return 0.484 - 2.87 / teeth;
}

double back_efficiency(double efficiency, bool screw) {
  return screw ? 1.0 / (2.0 - efficiency) : std::max(0.0, 2.0 - 1.0 / efficiency);
}

double train_ratio(const box::Train& train) {
  double ratio = 1.0;
  for (std::size_t i = 0; i < train.wheel_teeth.size(); ++i)
    ratio *= static_cast<double>(train.wheel_teeth[i]) / train.pinion_teeth[i];
  return ratio;
}

double train_efficiency(const box::Train& train) {
  double all = 1.0;
  for (std::size_t i = 0; i < train.wheel_teeth.size(); ++i) all *= mesh_efficiency(train, i);
  return all;
}

double train_back_efficiency(const box::Train& train) {
  double all = 1.0;
  for (std::size_t i = 0; i < train.wheel_teeth.size(); ++i)
    all *= back_efficiency(mesh_efficiency(train, i), train.pinion_teeth[i] == 1);
  return all;
}

std::vector<Mesh> meshes(const box::Train& train, double barrel_torque_n_m) {
  assert(train.wheel_teeth.size() == train.pinion_teeth.size());
  std::vector<Mesh> result;
  double torque = barrel_torque_n_m;
  for (std::size_t i = 0; i < train.wheel_teeth.size(); ++i) {
    const bool screw = train.pinion_teeth[i] == 1;
    Mesh mesh{.wheel = train.wheel_teeth[i],
              .pinion = train.pinion_teeth[i],
              .efficiency = mesh_efficiency(train, i),
              .wheel_torque_n_m = torque};
    mesh.back = back_efficiency(mesh.efficiency, screw);
    const double wheel_radius = 0.5 * mesh.wheel * train.module_m;
    const double force = torque / wheel_radius;
    mesh.bending_pa = force / (train.face_width_m * train.module_m * form_factor(mesh.wheel));
    if (!screw) {
      mesh.contact_ratio = contact_ratio(mesh.pinion, mesh.wheel);
      const double pinion_radius = 0.5 * mesh.pinion * train.module_m;
      const double bend =
          pinion_radius * wheel_radius / (pinion_radius + wheel_radius) * std::sin(pressure_angle);
      mesh.contact_pa = std::sqrt(force / std::cos(pressure_angle) /
                                  (pi * train.face_width_m * bend * compliance));
    }
    torque *= mesh.efficiency * mesh.pinion / mesh.wheel;
    result.push_back(mesh);
  }
  return result;
}

}  // namespace combwright::motor
