// SPDX-License-Identifier: Apache-2.0
#include "draw/train_drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include <fmt/format.h>

#include "base/angle.h"
#include "motor/train.h"

namespace combwright::draw {
namespace {

constexpr double letters_m = 0.002;
constexpr double line_m = 1.6 * letters_m;

class TrainDrawer {
 public:
  TrainDrawer(Drawing& drawing, const box::Train& train) : drawing_(drawing), train_(train) {
    for (const int teeth : train.wheel_teeth)
      reach_m_ = std::max(reach_m_, motor::gear(teeth, train.module_m).blank_radius_m);
  }

  double reach_m() const { return reach_m_; }

  void draw() {
    add_axis(0.0);
    double x = 0.0;
    for (std::size_t i = 0; i < train_.wheel_teeth.size(); ++i) {
      const int leaves = train_.pinion_teeth[i];
      const motor::Gear wheel = motor::gear(train_.wheel_teeth[i], train_.module_m);
      add_gear(wheel, x);
      add_words(x, -reach_m_ - 2.0 * letters_m, "wheel", wheel);
      const double next = x + (leaves == 1 ? wheel.pitch_radius_m + screw_room_m(i)
                                           : motor::axes_apart_m(train_, i));
      if (leaves == 1) {
        add_screw(x + wheel.pitch_radius_m);
      } else {
        const motor::Gear pinion = motor::gear(leaves, train_.module_m);
        add_axis(next);
        add_gear(pinion, next);
        add_words(next, reach_m_ + 2.0 * letters_m + line_m, "pinion", pinion);
        add_distance(x, next);
      }
      x = next;
    }
  }

 private:
  // Beyond a screw its arbor's own wheel needs room to be drawn.
  double screw_room_m(std::size_t i) const {
    if (i + 1 == train_.wheel_teeth.size()) return 0.0;
    return motor::gear(train_.wheel_teeth[i + 1], train_.module_m).blank_radius_m + 2.0 * letters_m;
  }

  void add_text(double x_m, double y_m, const std::string& words) {
    drawing_.add(Layer::text, Text{point(x_m, y_m), to_lattice(letters_m), Anchor::middle, words});
  }

  void add_circle(Layer layer, double x_m, double radius_m) {
    drawing_.add(layer, Circle{point(x_m, 0.0), to_lattice(radius_m)});
  }

  void add_axis(double x_m) { drawing_.add(Layer::axes, Dot{point(x_m, 0.0)}); }

  void add_gear(const motor::Gear& gear, double x_m) {
    add_circle(Layer::edge, x_m, gear.blank_radius_m);
    add_circle(Layer::marks, x_m, gear.pitch_radius_m);
    add_circle(Layer::marks, x_m, gear.root_radius_m);
    for (int tooth = 0; tooth < gear.teeth; ++tooth) {
      const double angle = two_pi * tooth / gear.teeth;
      const double c = std::cos(angle);
      const double s = std::sin(angle);
      drawing_.add(Layer::marks,
                   Line{point(x_m + gear.pitch_radius_m * c, gear.pitch_radius_m * s),
                        point(x_m + gear.blank_radius_m * c, gear.blank_radius_m * s)});
    }
  }

  void add_screw(double x_m) {
    drawing_.add(Layer::marks, Line{point(x_m, -0.5 * reach_m_), point(x_m, 0.5 * reach_m_)});
    add_text(x_m, reach_m_ + 2.0 * letters_m + line_m, "endless screw");
    add_text(x_m, reach_m_ + 2.0 * letters_m,
             fmt::format("pitch {:.3f} mm", 1e3 * std::numbers::pi * train_.module_m));
  }

  void add_words(double x_m, double y_m, const char* part, const motor::Gear& gear) {
    add_text(x_m, y_m, fmt::format("{} of {}", part, gear.teeth));
    add_text(x_m, y_m - line_m, fmt::format("{:.2f} mm", 2e3 * gear.blank_radius_m));
  }

  void add_distance(double from_m, double to_m) {
    const double y = -reach_m_ - 2.0 * letters_m - 3.5 * line_m;
    drawing_.add(Layer::marks, Line{point(from_m, y), point(to_m, y)});
    for (const double x : {from_m, to_m})
      drawing_.add(Layer::marks,
                   Line{point(x, y - 0.5 * letters_m), point(x, y + 0.5 * letters_m)});
    add_text(0.5 * (from_m + to_m), y - line_m, fmt::format("{:.2f} mm", 1e3 * (to_m - from_m)));
  }

  Drawing& drawing_;
  const box::Train& train_;
  double reach_m_ = 0.0;
};

}  // namespace

Drawing train_drawing(const box::Box& box) {
  Drawing drawing{.title = fmt::format("train of {}", box.name), .items = {}};
  TrainDrawer drawer(drawing, box.train);
  // First of all, so that the file is soon known for what it is.
  drawing.add(Layer::text,
              Text{point(-drawer.reach_m(), drawer.reach_m() + 4.0 * line_m), to_lattice(letters_m),
                   Anchor::start, drawing.title + ", by combwright"});
  drawer.draw();
  return drawing;
}

}  // namespace combwright::draw
