// SPDX-License-Identifier: Apache-2.0
#include "draw/motor_sheet.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/quantity.h"
#include "draw/caution_box.h"
#include "draw/cautions.h"
#include "draw/line_plot.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

constexpr double names_mm = 26.0;
constexpr double plot_mm = 58.0;

std::string torque_words(double value) {
  return fmt::format("{:.3g} N m", value);
}

std::string plays_words(const motor::Prediction& p) {
  if (p.run.stalls)
    return fmt::format("{}, then it stalls", counted(static_cast<std::size_t>(p.plays), "play"));
  return fmt::format("{} on one wind, {} in all",
                     counted(static_cast<std::size_t>(p.plays), "play"),
                     duration_words(p.run.time_s));
}

std::string governor_words(const box::Box& box, const motor::Prediction& p) {
  const std::string speed =
      fmt::format("{:.0f} turns a minute", p.governor_speed_rad_s() * 30.0 / std::numbers::pi);
  if (box.governor.kind == box::GovernorKind::vane)
    return fmt::format("vane: blades at {} for {}", to_text(p.set.vane_pitch_rad, Dimension::angle),
                       speed);
  return fmt::format("friction: each weight of {} held in with {:.3g} N for {}",
                     to_text(box.governor.weight_mass_kg, Dimension::mass), p.set.weight_preload_n,
                     speed);
}

std::string energy_words(const motor::Books& books) {
  const auto share = [&](double part) { return 100.0 * part / books.spring_j; };
  return fmt::format(
      "{:.3g} J from the spring: plucks {:.1f} %, star wheels, spindle and rollers "
      "{:.1f} %, wheels {:.1f} %, governor {:.1f} %",
      books.spring_j, share(books.plucks_j), share(books.disc_j), share(books.train_j),
      share(books.governor_j));
}

std::string life_words(const motor::SpringLife& life) {
  const std::string stress =
      fmt::format("{} when full, {} at the end", to_text(life.greatest_pa, Dimension::pressure),
                  to_text(life.least_pa, Dimension::pressure));
  if (std::isinf(life.winds)) return stress + "; below the endurance limit";
  return fmt::format("{}; some {:.1g} winds", stress, life.winds);
}

LinePlot torque_plot(const motor::Prediction& p) {
  LinePlot plot{.title = "Torque of the spring (N m); shaded: the turns used",
                .across = "turns of the barrel, from run down",
                .span = std::pair{p.machine.last_turns, p.machine.full_turns}};
  constexpr int steps = 200;
  for (int i = 0; i <= steps; ++i) {
    const double turns =
        p.machine.spring.least_turns() + p.machine.spring.usable_turns() * i / steps;
    plot.points.emplace_back(turns, motor::torque_n_m(p.machine.spring, turns));
  }
  return plot;
}

LinePlot tempo_plot(const motor::Prediction& p) {
  LinePlot plot{.title = "Time of a turn (s); line: asked for",
                .across = "play",
                .dots = true,
                .level = p.turn_time_s,
                .least_height = 0.06 * p.turn_time_s};
  double play = 1.0;
  for (const motor::Turn& turn : p.run.turns) plot.points.emplace_back(play++, turn.time_s);
  return plot;
}

// Pitch circles in a row, each pinion on its wheel; all of the first wheel's module.
void add_train(PackDocument& document, const box::Box& box) {
  const box::Train& train = box.train;
  double length = 0.0;
  double highest = 0.0;
  for (std::size_t i = 0; i < train.wheel_teeth.size(); ++i) {
    const double wheel = 1e3 * train.module_m * train.wheel_teeth[i];
    length += 0.5 * wheel + 0.5e3 * train.module_m * std::max(train.pinion_teeth[i], 6);
    if (i == 0) length += 0.5 * wheel;
    if (i + 1 == train.wheel_teeth.size()) length += 0.5e3 * train.module_m * 6.0;
    highest = std::max(highest, wheel);
  }
  // The second half of the last wheel may stand out on neither side but the first's.
  const double scale = std::min({1.0, document.width() / (length + 4.0), 70.0 / highest});
  document.heading("The train, pitch circles", scale * highest + 14.0);
  PdfPages& pages = document.pages();
  const double middle = document.y() + 0.5 * scale * highest + 1.0;
  double x = document.left() + 0.5e3 * scale * train.module_m * train.wheel_teeth[0];
  for (std::size_t i = 0; i < train.wheel_teeth.size(); ++i) {
    const double wheel = 0.5e3 * scale * train.module_m * train.wheel_teeth[i];
    const int leaves = train.pinion_teeth[i];
    const double pinion = 0.5e3 * scale * train.module_m * std::max(leaves, 6);
    stroke_circle(pages, x, middle, wheel, 0.3, accent);
    stroke_circle(pages, x, middle, 0.5, 0.2, ink);
    pages.text(x, middle - 0.55 * wheel, fmt::format("{}", train.wheel_teeth[i]),
               {Face::sans, note_size_mm, ink, Align::centre});
    x += wheel + pinion;
    stroke_circle(pages, x, middle, pinion, 0.3, ink);
    const std::string words = leaves == 1 ? "screw" : fmt::format("{}", leaves);
    pages.text(x, middle + pinion + 3.2, words, {Face::sans, note_size_mm, ink, Align::centre});
  }
  document.move_down(scale * highest + 4.0);
  document.paragraph(
      fmt::format(
          "Barrel wheel at the left, governor at the right; module {} throughout, at {:.0f} % "
          "of true size. Wheels by their teeth, pinions by their leaves.",
          to_text(train.module_m, Dimension::length), 100.0 * scale),
      small);
}

}  // namespace

std::vector<std::pair<std::string, std::string>> motor_facts(const box::Box& box,
                                                             const motor::Prediction& p) {
  const motor::Machine& m = p.machine;
  return {
      {"plays", plays_words(p)},
      {"turn",
       fmt::format("{:.2f} s on the mean, {} asked for; the tempo drops by {:.1f} % over the "
                   "wind",
                   p.mean_turn_s, to_text(p.turn_time_s, Dimension::time), 100.0 * p.tempo_drop)},
      {"spring", fmt::format("strip {} wide, {} thick, {:.4g} m long; barrel {} inside, arbor {}",
                             to_text(box.spring.strip_width_m, Dimension::length),
                             to_text(box.spring.strip_thickness_m, Dimension::length),
                             box.spring.strip_length_m,
                             to_text(2.0 * box.spring.barrel_radius_m, Dimension::length),
                             to_text(2.0 * box.spring.arbor_radius_m, Dimension::length))},
      {"stop work",
       fmt::format("{:.3g} turns, the first {:.3g} short of tight on the arbor; {} down to {}",
                   p.winding.key_turns, m.spring.full_turns() - m.full_turns,
                   torque_words(motor::torque_n_m(m.spring, m.full_turns)),
                   torque_words(motor::torque_n_m(m.spring, m.last_turns)))},
      {"winding", fmt::format("{:.3g} turns of the key, {:.3g} N at the hand when full, {:.3g} J",
                              p.winding.key_turns, p.winding.greatest_force_n, p.winding.work_j)},
      {"governor", governor_words(box, p)},
      {"stress", life_words(p.life)},
      {"energy", energy_words(p.run.books)},
  };
}

void add_motor(PackDocument& document, const box::Box& box, const motor::Prediction& motor) {
  document.new_page("Motor");
  for (const auto& [name, words] : motor_facts(box, motor)) document.entry(name, words, names_mm);
  document.move_down(2.0);
  for (const LinePlot& plot : {torque_plot(motor), tempo_plot(motor)}) {
    if (plot.points.size() < 2) continue;
    document.need(plot_mm);
    draw_line_plot(document.pages(),
                   {document.left(), document.y(), document.width(), plot_mm - 4.0}, plot);
    document.move_down(plot_mm);
  }
  add_train(document, box);
  document.paragraph(
      "Set the governor by the time of a turn half-way through the wind, the values here are where "
      "to "
      "begin: friction and drag are estimates until they are measured.");
  add_caution_box(document, motor_cautions());
}

}  // namespace combwright::draw
