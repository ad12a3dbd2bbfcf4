// SPDX-License-Identifier: Apache-2.0
#include "draw/motor_sheet.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/quantity.h"
#include "draw/bench_table.h"
#include "draw/caution_box.h"
#include "draw/cautions.h"
#include "draw/line_plot.h"
#include "draw/paint.h"
#include "draw/train_drawing.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

constexpr double motor_names_mm = 26.0;
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
  if (p.hold != motor::Hold::holds)
    return fmt::format("{}: for {} {}",
                       box.governor.kind == box::GovernorKind::vane ? "vane" : "friction", speed,
                       motor::hold_problem(p.hold, box.governor.kind));
  if (box.governor.kind == box::GovernorKind::vane)
    return fmt::format("vane: blades at {} for {}", to_text(p.set.vane_pitch_rad, Dimension::angle),
                       speed);
  return fmt::format("friction: each weight of {} held in with {:.3g} N for {}",
                     to_text(box.governor.weight_mass_kg, Dimension::mass), p.set.weight_preload_n,
                     speed);
}

std::string energy_words(const motor::Books& books) {
  if (!(books.spring_j > 0.0)) return "none: it does not start";
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
  if (life.winds < 1.0) return stress + "; breaks on the first wind";
  return fmt::format("{}; some {:.1g} winds", stress, life.winds);
}

// With the coils' friction, which the hand has to overcome and the train is robbed of.
LinePlot torque_plot(const motor::Prediction& p) {
  const motor::SpringCurve& spring = p.machine.spring;
  LinePlot plot{.title = "Torque (N m): above winding up, below running; shaded: the turns used",
                .across = "turns of the barrel, from run down",
                .span = std::pair{p.machine.last_turns, p.machine.full_turns}};
  constexpr int steps = 200;
  for (const auto torque : {motor::winding_torque_n_m, motor::running_torque_n_m}) {
    PlotLine& line = plot.lines.emplace_back();
    for (int i = 0; i <= steps; ++i) {
      const double turns = spring.least_turns() + spring.usable_turns() * i / steps;
      line.emplace_back(turns, torque(p.machine, turns));
    }
  }
  return plot;
}

LinePlot tempo_plot(const motor::Prediction& p) {
  LinePlot plot{.title = "Time of a turn (s); line: asked for",
                .across = "play",
                .dots = true,
                .level = p.turn_time_s,
                .least_height = 0.06 * p.turn_time_s};
  PlotLine& line = plot.lines.emplace_back();
  for (std::size_t play = 1; const motor::Turn& turn : p.run.turns)
    line.emplace_back(play++, turn.time_s);
  return plot;
}

constexpr BenchColumns<8> wheel_columns{{0.14, 0.25, 0.37, 0.50, 0.63, 0.76, 0.88, 1.0},
                                        {{{"", ""},
                                          {"", "teeth"},
                                          {"blank", "mm"},
                                          {"pitch circle", "mm"},
                                          {"depth of cut", "mm"},
                                          {"to its pinion", "mm"},
                                          {"torque", "N m"},
                                          {"foot of teeth", "MPa"}}}};

// Wheels and pinions from the barrel up, to turn and divide by.
void add_wheels(PackDocument& document, const box::Train& train,
                const std::vector<motor::Mesh>& meshes) {
  document.need(bench_heads_mm + 2.0 * static_cast<double>(meshes.size()) * bench_row_mm);
  PdfPages& pages = document.pages();
  write_heads(pages, here(document), wheel_columns);
  document.move_down(bench_heads_mm);
  const auto write = [&](const char* part, int teeth, const std::string& apart,
                         const std::string& torque, const std::string& stress) {
    const motor::Gear gear = motor::gear(teeth, train.module_m);
    write_row(pages, here(document), wheel_columns,
              {part, fmt::format("{}", teeth), in_mm(2.0 * gear.blank_radius_m, 2),
               in_mm(2.0 * gear.pitch_radius_m, 2),
               in_mm(gear.blank_radius_m - gear.root_radius_m, 2), apart, torque, stress});
    document.move_down(bench_row_mm);
  };
  for (std::size_t i = 0; i < meshes.size(); ++i) {
    const bool screw = meshes[i].pinion == 1;
    write("wheel", meshes[i].wheel, screw ? "" : in_mm(motor::axes_apart_m(train, i), 2),
          fmt::format("{:.3g}", meshes[i].wheel_torque_n_m),
          fmt::format("{:.3g}", 1e-6 * meshes[i].bending_pa));
    if (!screw) write("pinion", meshes[i].pinion, "", "", "");
    thin_rule(pages, here(document));
  }
  document.move_down(2.0);
}

void add_train(PackDocument& document, const box::Box& box,
               const std::vector<motor::Mesh>& meshes) {
  const Drawing drawing = train_drawing(box);
  const Box2 around = bounds(drawing);
  const double width = to_mm(around.high.x - around.low.x);
  const double height = to_mm(around.high.y - around.low.y);
  const double scale = std::min({1.0, document.width() / width, 90.0 / height});
  document.heading("The train", scale * height + 10.0);
  paint(document.pages(), drawing, around,
        {document.left() - scale * to_mm(around.low.x), document.y() + scale * to_mm(around.high.y),
         scale});
  document.move_down(scale * height + 2.0);
  document.paragraph(
      fmt::format("At {:.0f} % of true size (train.dxf has it whole): the barrel's wheel at the "
                  "left, the governor at the right, the axes as far apart as shown, in whatever "
                  "directions the plates allow. Module {} throughout. Blanks are for full-depth "
                  "teeth, one module beyond the pitch circle; cutters of another shape have their "
                  "own.",
                  100.0 * scale, to_text(box.train.module_m, Dimension::length)),
      small);
  add_wheels(document, box.train, meshes);
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
       fmt::format("set up {:.3g} turns from run down, then {:.3g} are used and {:.3g} left before "
                   "the strip is tight on the arbor; {} down to {}",
                   m.last_turns - m.spring.least_turns(), p.winding.key_turns,
                   m.spring.full_turns() - m.full_turns,
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
  for (const auto& [name, words] : motor_facts(box, motor))
    document.entry(name, words, motor_names_mm);
  add_caution_box(document, motor_cautions());
  document.move_down(2.0);
  for (const LinePlot& plot : {torque_plot(motor), tempo_plot(motor)}) {
    if (plot.lines.front().size() < 2) continue;
    document.need(plot_mm);
    draw_line_plot(document.pages(),
                   {document.left(), document.y(), document.width(), plot_mm - 4.0}, plot);
    document.move_down(plot_mm);
  }
  add_train(document, box, motor.meshes);
  document.paragraph(
      "Set the governor by the time of a turn half-way through the wind, the values here are where "
      "to begin: friction and drag are estimates until they are measured.");
}

}  // namespace combwright::draw
