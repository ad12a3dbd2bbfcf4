// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <numbers>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "app/motor_answers.h"
#include "app/report.h"
#include "base/angle.h"
#include "base/quantity.h"

namespace combwright::app {
namespace {

std::string torque(double value) {
  return fmt::format("{:.3g} N m", value);
}

std::string joules(double value) {
  return fmt::format("{:.3g} J", value);
}

std::string winds_words(double winds) {
  if (std::isinf(winds)) return "below its endurance limit";
  if (winds < 1.0) return "breaks on the first wind";
  const double step = std::pow(10.0, std::floor(std::log10(winds)) - 1.0);
  return fmt::format("some {:.0f} winds", std::round(winds / step) * step);
}

std::string tune_words(const std::string& tune) {
  return tune.empty() ? "none: the hardest chord allowed, every other second" : tune;
}

std::string turns_table(const motor::Prediction& p) {
  Table rows({"Turn", "Ends at", "Takes", "Swing"});
  for (std::size_t i = 0; i < p.run.turns.size(); ++i) {
    const motor::Turn& turn = p.run.turns[i];
    rows.add({fmt::format("{}", i + 1), fmt::format("{:.1f} s", turn.end_s),
              fmt::format("{:.2f} s", turn.time_s), fmt::format("{:.1f} %", 100.0 * turn.swing())});
  }
  return rows.text();
}

std::string energy_table(const motor::Books& books) {
  Table rows({"Energy of a wind", "", "Share"});
  const auto add = [&](const char* name, double value) {
    rows.add({name, joules(value), fmt::format("{:.1f} %", 100.0 * value / books.spring_j)});
  };
  add("from the spring", books.spring_j);
  add("plucks", books.plucks_j);
  add("star wheels, spindle, rollers", books.disc_j);
  add("wheels and pinions", books.train_j);
  add("governor", books.governor_j);
  add("still moving at the end", books.left_j);
  return rows.text() + fmt::format("The coils rub away {} before that.\n", joules(books.coils_j));
}

std::string train_table(const std::vector<motor::Mesh>& meshes) {
  Table rows({"Wheel", "Pinion", "Torque", "Contact ratio", "Bending", "Contact"});
  for (const motor::Mesh& mesh : meshes) {
    rows.add({fmt::format("{}", mesh.wheel),
              mesh.pinion == 1 ? "screw" : fmt::format("{}", mesh.pinion),
              torque(mesh.wheel_torque_n_m),
              mesh.contact_ratio ? fmt::format("{:.2f}", *mesh.contact_ratio) : "",
              to_text(mesh.bending_pa, Dimension::pressure),
              mesh.contact_pa > 0.0 ? to_text(mesh.contact_pa, Dimension::pressure) : ""});
  }
  return rows.text();
}

std::string governor_words(const box::Box& box, const motor::Prediction& p) {
  const std::string speed =
      fmt::format("{:.0f} turns a minute", p.governor_speed_rad_s() * 30.0 / std::numbers::pi);
  const bool vane = box.governor.kind == box::GovernorKind::vane;
  if (p.hold != motor::Hold::holds)
    return fmt::format("{}, {}; {}", vane ? "vane" : "friction", speed,
                       motor::hold_problem(p.hold, box.governor.kind));
  if (vane)
    return fmt::format("vane, {}; blades at {} hold the turn time", speed,
                       to_text(p.set.vane_pitch_rad, Dimension::angle));
  return fmt::format("friction, {}; springs of {:.3g} N hold the turn time", speed,
                     p.set.weight_preload_n);
}

std::string margin_words(const std::optional<double>& margin) {
  if (!margin) return "none: it stalls before its end";
  if (*margin < 1.0) return "none: begun from rest, the last turn stalls";
  return fmt::format("the last turn would take {:.3g} times the work of its plucks{}", *margin,
                     *margin < motor::most_margin ? "" : ", or more");
}

std::string plays_words(const motor::Prediction& p) {
  if (p.run.stalls) return fmt::format("{}, then it stalls", p.plays);
  const std::string all = p.turns_without_stop < motor::most_turns - 1e-6
                              ? fmt::format("{:.1f}", p.turns_without_stop)
                              : fmt::format("{:.0f} or more", motor::most_turns);
  return fmt::format("{} on one wind; {} turns without the stop work", p.plays, all);
}

std::string rhythm_words(const std::optional<motor::Stumble>& stumble) {
  if (!stumble) return "no two notes to compare";
  return fmt::format("at worst {:.2g} ms {} after {:.3g} s; {:.2g} ms is heard",
                     1e3 * std::abs(stumble->late_s), stumble->late_s > 0.0 ? "late" : "early",
                     stumble->interval_s, 1e3 * motor::heard_s(stumble->interval_s));
}

}  // namespace

std::string motor_text(const box::Box& box, const std::string& tune, const motor::Prediction& p,
                       const Findings& findings) {
  const motor::Machine& m = p.machine;
  std::string text = facts({
      {"Box", box.name},
      {"Tune", tune_words(tune)},
      {"Plays", plays_words(p)},
      {"Margin", margin_words(p.margin)},
      {"Runs", to_text(p.run.time_s, Dimension::time)},
      {"Turn", p.plays == 0 ? std::string("not once")
                            : fmt::format("{:.2f} s on the mean, {} asked for", p.mean_turn_s,
                                          to_text(p.turn_time_s, Dimension::time))},
      {"Tempo", fmt::format("drops by {:.2f} % over the wind; swings by {:.1f} % within a turn",
                            100.0 * p.tempo_drop, 100.0 * p.unevenness)},
      {"Rhythm", rhythm_words(p.stumble)},
      {"Spring",
       fmt::format("{:.3g} turns with torque, {:.3g} used: {} down to {}", m.spring.usable_turns(),
                   p.winding.key_turns, torque(motor::torque_n_m(m.spring, m.full_turns)),
                   torque(motor::torque_n_m(m.spring, m.last_turns)))},
      {"Stop work",
       fmt::format("set up {:.3g} turns from run down, {:.3g} used, {:.3g} left at the full end",
                   m.last_turns - m.spring.least_turns(), p.winding.key_turns,
                   m.spring.full_turns() - m.full_turns)},
      {"Stress",
       fmt::format("{} down to {}; {}", to_text(p.life.greatest_pa, Dimension::pressure),
                   to_text(p.life.least_pa, Dimension::pressure), winds_words(p.life.winds))},
      {"Governor", governor_words(box, p)},
      {"Key", fmt::format("{:.3g} turns to wind, at last {:.3g} N at the hand", p.winding.key_turns,
                          p.winding.greatest_force_n)},
      {"Load of a turn", fmt::format("{} plucks {}, star wheels {}, spindle and rollers {}",
                                     p.plucks.size(), joules(m.load.pluck_j),
                                     joules(m.load.wheel_j), joules(m.load.steady_n_m * two_pi))},
  });
  text += findings_text(findings);
  if (!p.run.turns.empty()) text += "\n" + turns_table(p);
  if (p.run.books.spring_j > 0.0) text += "\n" + energy_table(p.run.books);
  return text + "\n" + train_table(p.meshes);
}

std::string sizing_text(const box::Box& box, const std::string& tune, const motor::Sizing& sizing,
                        const Findings& findings) {
  std::string text = facts({
      {"Box", box.name},
      {"Tune", tune_words(tune)},
      {"Wishes",
       fmt::format("{} plays of {}, tempo drop at most {:.3g} %, barrel at most {} inside",
                   sizing.wishes.plays, to_text(sizing.wishes.turn_time_s, Dimension::time),
                   100.0 * sizing.wishes.tempo_drop,
                   to_text(2.0 * sizing.wishes.barrel_radius_m, Dimension::length))},
      {"Binding", sizing.binding},
      {"Tried", fmt::format("{} motors", sizing.tried)},
  });
  text += findings_text(findings);
  if (sizing.designs.empty()) return text;
  Table rows({"", "Strip", "Length", "Barrel", "Arbor", "Turns", "Train", "Governor", "Plays",
              "Drop", "Margin", "Hand", "Why"});
  int number = 0;
  for (const motor::SizedMotor& design : sizing.designs) {
    const box::Box& made = design.box;
    const motor::Prediction& p = design.prediction;
    std::string train;
    for (std::size_t i = 0; i < made.train.wheel_teeth.size(); ++i)
      train += fmt::format("{}{}:{}", i == 0 ? "" : " ", made.train.wheel_teeth[i],
                           made.train.pinion_teeth[i]);
    rows.add({fmt::format("{}", ++number),
              fmt::format("{:.3g} x {:.3g} mm", made.spring.strip_width_m * 1e3,
                          made.spring.strip_thickness_m * 1e3),
              fmt::format("{:.2f} m", made.spring.strip_length_m),
              fmt::format("{:.1f} mm", made.spring.barrel_radius_m * 1e3),
              fmt::format("{:.1f} mm", made.spring.arbor_radius_m * 1e3),
              fmt::format("{:.3g}", made.spring.turns_used), train,
              made.governor.kind == box::GovernorKind::vane ? "vane" : "friction",
              fmt::format("{}", p.plays), fmt::format("{:.1f} %", 100.0 * p.tempo_drop),
              fmt::format("{:.2f}", p.margin.value_or(0.0)),
              fmt::format("{:.0f} N", p.winding.greatest_force_n), design.why});
  }
  text +=
      "\n" + rows.text() +
      "\nBarrel and arbor: radii. Margin: how many times the work of its plucks the motor would "
      "still\nplay. Hand: on the key at the end of winding. Keys of the first for the box "
      "file:\n\n";
  return text + motor::box_lines(sizing.designs.front().box, box);
}

}  // namespace combwright::app
