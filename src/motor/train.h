// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "box/box.h"

// The wheels: ratios, losses, strength.
namespace combwright::motor {

// A wheel and the pinion that it drives, in the shape of an involute of 20 degrees and full depth.
struct Mesh {
  int wheel = 0;
  int pinion = 0;           // 1: an endless screw
  double efficiency = 0.0;  // of the wheel driving the pinion
  double back = 0.0;        // of the pinion driving the wheel
  double wheel_torque_n_m = 0.0;
  std::optional<double> contact_ratio;  // nothing for a screw
  double bending_pa = 0.0;              // at the foot of the wheel's teeth, by Lewis
  double contact_pa = 0.0;              // at the pitch point, by Hertz; 0 for a screw
};

// A wheel or pinion as it is turned and cut, in full-depth teeth: the basic rack of ISO 53 (from
// memory) stands out by a module and goes in by 1.25.
struct Gear {
  int teeth = 0;
  double pitch_radius_m = 0.0;
  double blank_radius_m = 0.0;
  double root_radius_m = 0.0;
};
Gear gear(int teeth, double module_m);

// From the axis of a wheel of the train to that of its pinion, which is no screw: a screw may be as
// thick as its maker likes.
double axes_apart_m(const box::Train& train, std::size_t mesh);

// Contact ratio of two full-depth involute wheels of 20 degrees; undercut is left out.
double contact_ratio(int pinion_teeth, int wheel_teeth);

// 1 - f H of such a pair without its bearings, for the coefficient of friction of its flanks
// (formula of the gear books, from memory).
double flank_efficiency(int pinion_teeth, int wheel_teeth, double friction);

// Lewis's form factor of a full-depth tooth of 20 degrees, 0.484 - 2.87 / teeth (a fit to his
// table, from memory; 12 teeth and more).
double form_factor(int teeth);

// Of a pair of wheels back to front: the same flanks rub with the load on the other side, 2 - 1/e,
// not below 0. A screw that its wheel drives with efficiency e drives the wheel with 1 / (2 - e):
// the same rule read from the screw's side.
double back_efficiency(double efficiency, bool screw);

// Governor turns for one turn of the barrel.
double train_ratio(const box::Train& train);

// Of all meshes from the barrel up to the governor, driving and driven back.
double train_efficiency(const box::Train& train);
double train_back_efficiency(const box::Train& train);

// The meshes from the barrel up, with `barrel_torque_n_m` all going to the governor: brass wheels
// on steel pinions, all of the first one's module and face width.
std::vector<Mesh> meshes(const box::Train& train, double barrel_torque_n_m);

}  // namespace combwright::motor
