// SPDX-License-Identifier: Apache-2.0
#include "motor/findings.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include <fmt/format.h>

#include "base/quantity.h"

namespace combwright::motor {
namespace {

std::string percent(double share) {
  return fmt::format("{:.1f} %", 100.0 * share);
}

// What brings the time of a turn to the one asked for.
std::string governor_remedy(const box::Governor& now, const Prediction& p) {
  const bool vane = now.kind == box::GovernorKind::vane;
  if (p.hold != Hold::holds) return std::string(hold_problem(p.hold, now.kind));
  const auto words = [vane](const box::Governor& governor) {
    return vane ? to_text(governor.vane_pitch_rad, Dimension::angle)
                : to_text(governor.weight_preload_n, Dimension::force);
  };
  // Set for an even load, a turn still differs by what the chords do to its speed.
  if (words(now) == words(p.set))
    return "let fewer notes sound at once (motor.most_plucks), or take a governor of more inertia";
  if (vane) return fmt::format("set the blades to {} (governor.vane_pitch)", words(p.set));
  return fmt::format("set the springs of the weights to {} each (governor.weight_preload)",
                     words(p.set));
}

// One note out of place is a fault from here on: the order of two notes is heard wrong (Hirsh 1959,
// from memory).
constexpr double fault_s = 0.020;

void tell_stumble(const Stumble& stumble, Findings& findings) {
  const double heard = heard_s(stumble.interval_s);
  const double off = std::abs(stumble.late_s);
  if (off <= heard) return;
  const auto degrees = [](double angle) { return angle * 180.0 / std::numbers::pi; };
  findings.push_back(
      {off > std::max(heard, fault_s) ? Level::fault : Level::warning, "motor.most_plucks",
       fmt::format("in the last turn of a wind the note {:.1f} deg after the start line comes {} "
                   "{}, {} after the one at {:.1f} deg; {} is heard",
                   degrees(stumble.release_rad), to_text(off, Dimension::time),
                   stumble.late_s > 0.0 ? "late" : "early",
                   to_text(stumble.interval_s, Dimension::time), degrees(stumble.before_rad),
                   to_text(heard, Dimension::time)),
       "let fewer notes sound at once (motor.most_plucks), take a governor of more inertia "
       "(heavier weights or blades), or lift the teeth less"});
}

void tell_run(const box::Box& box, const Prediction& p, Findings& findings) {
  if (p.run.stalls) {
    const double degrees = p.run.stall_rad * 180.0 / std::numbers::pi;
    findings.push_back(
        {Level::fault, "motor",
         p.run.time_s > 0.0
             ? fmt::format("stalls in turn {} of the disc, {:.0f} deg after the start line, {} "
                           "after a fresh wind",
                           p.plays + 1, degrees, to_text(p.run.time_s, Dimension::time))
             : std::string("does not start"),
         "use fewer turns of the spring (spring.turns_used), gear it lower "
         "(spring.turns_per_disc_turn), take a stronger strip, or write fewer notes at once"});
  } else if (p.plays == 0) {
    findings.push_back(
        {Level::fault, "spring.turns_used",
         fmt::format("{:.3g} turns of the barrel don't turn the disc once", p.winding.key_turns),
         "use more turns, or gear the disc higher (spring.turns_per_disc_turn)"});
  }
  if (p.plays == 0) return;
  if (p.margin && *p.margin < low_margin) {
    findings.push_back(
        {Level::warning, "spring.turns_used",
         *p.margin < 1.0
             ? std::string("the last turn of a wind stalls if it is begun from rest")
             : fmt::format("the last turn of a wind would stall with {:.3g} times the work of its "
                           "plucks; oil ages",
                           *p.margin),
         "use fewer turns of the spring, gear it lower, or take a stronger strip"});
  }
  if (p.tempo_drop > box.motor.tempo_drop) {
    const bool vane = box.governor.kind == box::GovernorKind::vane;
    findings.push_back(
        {Level::warning, "governor",
         fmt::format("the tempo drops by {} from the fastest turn of a wind to the slowest; {} is "
                     "let pass (motor.tempo_drop)",
                     percent(p.tempo_drop), percent(box.motor.tempo_drop)),
         vane ? "use fewer turns of the spring, or a friction governor: a vane follows the spring"
              : "use fewer turns of the spring, or heavier weights with stronger springs"});
  }
  if (p.stumble) tell_stumble(*p.stumble, findings);
  const TimeBounds bounds = turn_time_bounds(box.motor, p.turn_time_s);
  if (p.mean_turn_s < bounds.least_s || p.mean_turn_s > bounds.most_s) {
    findings.push_back({Level::warning, "governor",
                        fmt::format("a turn takes {} on the mean of a wind; {} is asked for",
                                    to_text(p.mean_turn_s, Dimension::time),
                                    to_text(p.turn_time_s, Dimension::time)),
                        governor_remedy(box.governor, p)});
  }
}

void tell_spring(const box::Box& box, const Prediction& p, Findings& findings) {
  const box::Spring& spring = box.spring;
  if (spring.arbor_radius_m < least_arbor_thicknesses * spring.strip_thickness_m) {
    const double strain =
        spring.strip_thickness_m / (2.0 * spring.arbor_radius_m + spring.strip_thickness_m);
    findings.push_back(
        {Level::warning, "spring.arbor_radius",
         fmt::format("the first coil of the strip is strained by {}: hardened strip cracks there",
                     percent(strain)),
         fmt::format(
             "make the arbor {} in radius or more",
             to_text(least_arbor_thicknesses * spring.strip_thickness_m, Dimension::length))});
  }
  const double least = p.machine.spring.least_turns();
  const double asked = p.machine.full_turns - box.spring.turns_used;
  if (asked < least - 1e-9) {
    findings.push_back(
        {Level::warning, "spring.turns_used",
         fmt::format("the strip gives {:.3g} turns with torque, and {:.3g} less of them are left "
                     "when turns_left_full are kept",
                     p.machine.spring.usable_turns(), least - asked),
         "use fewer turns"});
  }
  if (p.life.winds < least_winds) {
    findings.push_back(
        {Level::warning, "spring",
         fmt::format("the strip bends between {} and {} and {}",
                     to_text(p.life.least_pa, Dimension::pressure),
                     to_text(p.life.greatest_pa, Dimension::pressure),
                     p.life.winds < 1.0
                         ? std::string("breaks on the first wind")
                         : fmt::format("may break after some {:.0f} winds", p.life.winds)),
         "keep more turns unused at the full end (spring.turns_left_full), or use fewer"});
  }
}

void tell_train(const Prediction& p, Findings& findings) {
  const Mesh* weakest = nullptr;
  const auto strain = [](const Mesh& mesh) {
    return std::max(mesh.bending_pa / brass_bending_pa, mesh.contact_pa / brass_contact_pa);
  };
  for (const Mesh& mesh : p.meshes)
    if (weakest == nullptr || strain(mesh) > strain(*weakest)) weakest = &mesh;
  if (weakest != nullptr && strain(*weakest) > 1.0) {
    findings.push_back(
        {Level::warning, "train",
         fmt::format("the wheel of {} bears {} at the foot of its teeth and {} where they touch, "
                     "with the spring wound up; brass takes {} and {} for long",
                     weakest->wheel, to_text(weakest->bending_pa, Dimension::pressure),
                     to_text(weakest->contact_pa, Dimension::pressure),
                     to_text(brass_bending_pa, Dimension::pressure),
                     to_text(brass_contact_pa, Dimension::pressure)),
         "take a greater module or a wider wheel (train.module, train.face_width)"});
  }
  if (p.machine.train_back <= 0.0) {
    findings.push_back({Level::warning, "train.mesh_efficiency",
                        "the governor can't drive the train: it locks when a chord brakes the disc",
                        "look for rubbing wheels; a train of good wheels gives 90 % a mesh"});
  }
}

}  // namespace

Findings room_for_wheels(const box::Box& box) {
  Findings findings;
  const box::Train& train = box.train;
  if (!train.wheel_teeth.empty() && train.pinion_teeth.front() > 1) {
    // The barrel is as high as its strip is wide: the first pinion stands beside it.
    const double room =
        axes_apart_m(train, 0) - gear(train.pinion_teeth.front(), train.module_m).blank_radius_m;
    if (box.spring.barrel_radius_m >= room) {
      findings.push_back(
          {Level::warning, "train.wheels",
           fmt::format(
               "the barrel reaches {} from its axis and more with its wall, the pinion that "
               "its wheel drives stands at {}",
               to_text(box.spring.barrel_radius_m, Dimension::length),
               to_text(room, Dimension::length)),
           "give the barrel's wheel more teeth, or the train a greater module"});
    }
  }
  for (std::size_t i = 2; i < train.wheel_teeth.size(); ++i) {
    if (train.pinion_teeth[i - 1] == 1) continue;
    // The arbor is as thick as the root of its pinion.
    const double arbor = gear(train.pinion_teeth[i - 2], train.module_m).root_radius_m;
    const double room = axes_apart_m(train, i - 1) - arbor;
    const double wheel = gear(train.wheel_teeth[i], train.module_m).blank_radius_m;
    if (wheel <= room) continue;
    findings.push_back(
        {Level::warning, "train.wheels",
         fmt::format("the wheel of {} reaches {} from its axis, the arbor that drives it stands at "
                     "{}",
                     train.wheel_teeth[i], to_text(wheel, Dimension::length),
                     to_text(room, Dimension::length)),
         "give the wheel before it more teeth, or this one fewer"});
  }
  return findings;
}

Findings motor_findings(const box::Box& box, const Prediction& prediction) {
  Findings findings;
  tell_run(box, prediction, findings);
  tell_spring(box, prediction, findings);
  tell_train(prediction, findings);
  const Findings room = room_for_wheels(box);
  findings.insert(findings.end(), room.begin(), room.end());
  return findings;
}

}  // namespace combwright::motor
