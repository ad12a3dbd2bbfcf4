// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/angle.h"
#include "draw/section_figures.h"
#include "motor/train.h"

namespace combwright::draw {
namespace {

struct Axes {
  std::vector<double> at;  // of the barrel, then of each pinion, in millimetres
  double reach = 0.0;      // of the largest wheel
};

// In a row; an endless screw lies where it touches its wheel, and the wheel of its arbor beside it.
Axes axes_of(const box::Train& train) {
  Axes axes{.at = {0.0}};
  for (std::size_t i = 0; i < train.wheel_teeth.size(); ++i) {
    const motor::Gear wheel = motor::gear(train.wheel_teeth[i], train.module_m);
    axes.reach = std::max(axes.reach, wheel.blank_radius_m * mm_per_m);
    double apart_m = 0.0;
    if (train.pinion_teeth[i] > 1) {
      apart_m = motor::axes_apart_m(train, i);
    } else {
      apart_m = wheel.pitch_radius_m;
      if (i + 1 < train.wheel_teeth.size())
        apart_m += motor::gear(train.wheel_teeth[i + 1], train.module_m).blank_radius_m;
    }
    axes.at.push_back(axes.at.back() + apart_m * mm_per_m);
  }
  return axes;
}

double governor_reach(const box::Governor& governor) {
  return mm_per_m * (governor.kind == box::GovernorKind::friction
                         ? std::max(governor.weight_radius_m, governor.pad_radius_m)
                         : governor.vane_outer_radius_m);
}

void draw_train(SectionSheet& sheet, const box::Train& train, const Axes& axes) {
  sheet.begin("train", "train.wheels");
  for (std::size_t i = 0; i < train.wheel_teeth.size(); ++i) {
    const motor::Gear wheel = motor::gear(train.wheel_teeth[i], train.module_m);
    sheet.circle({axes.at[i], 0.0}, wheel.blank_radius_m * mm_per_m, no_fill);
    sheet.dashed_circle({axes.at[i], 0.0}, wheel.pitch_radius_m * mm_per_m);
    sheet.words({axes.at[i], axes.reach + 0.8 * sheet.letters()},
                fmt::format("wheel of {}", train.wheel_teeth[i]), "middle");
  }
  sheet.end();
  sheet.begin("train", "train.pinions");
  for (std::size_t i = 0; i < train.pinion_teeth.size(); ++i) {
    const double x = axes.at[i + 1];
    if (train.pinion_teeth[i] > 1)
      sheet.circle({x, 0.0},
                   motor::gear(train.pinion_teeth[i], train.module_m).blank_radius_m * mm_per_m,
                   steel_fill);
    sheet.axis({x - 0.6 * sheet.letters(), 0.0}, {x + 0.6 * sheet.letters(), 0.0});
    sheet.axis({x, -0.6 * sheet.letters()}, {x, 0.6 * sheet.letters()});
    sheet.words({x, -axes.reach - 1.6 * sheet.letters()},
                train.pinion_teeth[i] > 1 ? fmt::format("pinion of {}", train.pinion_teeth[i])
                                          : std::string("endless screw"),
                "middle");
  }
  sheet.end();
}

// Barrel, arbor, and the strip run down: its coils against the wall take its length times its
// thickness.
void draw_barrel(SectionSheet& sheet, const box::Spring& spring) {
  const double radius = spring.barrel_radius_m * mm_per_m;
  const double strip = spring.strip_length_m * spring.strip_thickness_m * mm_per_m * mm_per_m;
  const double inside = std::sqrt(std::max(0.0, radius * radius - strip / std::numbers::pi));
  sheet.begin("spring", "spring.barrel_radius");
  sheet.circle({0.0, 0.0}, radius, steel_fill);
  sheet.end();
  sheet.begin("spring", "spring.strip_length");
  sheet.circle({0.0, 0.0}, inside, "white");
  sheet.end();
  sheet.begin("spring", "spring.arbor_radius");
  sheet.circle({0.0, 0.0}, spring.arbor_radius_m * mm_per_m, brass_fill);
  sheet.end();
}

void draw_governor(SectionSheet& sheet, const box::Governor& governor, double x) {
  const auto turned = [&](double radius, double angle) {
    return Place{x + radius * std::cos(angle), radius * std::sin(angle)};
  };
  if (governor.kind == box::GovernorKind::friction) {
    sheet.begin("governor", "governor.pad_radius");
    sheet.dashed_circle({x, 0.0}, governor.pad_radius_m * mm_per_m);
    sheet.end();
    sheet.begin("governor", "governor.weight_radius");
    for (int i = 0; i < governor.weight_count; ++i)
      sheet.circle(turned(governor.weight_radius_m * mm_per_m, two_pi * i / governor.weight_count),
                   0.4 * sheet.letters(), lead_fill);
    sheet.end();
    return;
  }
  sheet.begin("governor", "governor.vane_outer_radius");
  for (int i = 0; i < governor.vane_count; ++i) {
    const double angle = two_pi * i / governor.vane_count;
    sheet.line(turned(governor.vane_inner_radius_m * mm_per_m, angle),
               turned(governor.vane_outer_radius_m * mm_per_m, angle));
  }
  sheet.end();
}

// The barrel from the side.
void draw_side(SectionSheet& sheet, const box::Spring& spring, double high) {
  const double radius = spring.barrel_radius_m * mm_per_m;
  const double arbor = spring.arbor_radius_m * mm_per_m;
  const double low = high - spring.strip_width_m * mm_per_m;
  const double letters = sheet.letters();
  sheet.begin("spring", "spring.strip_width");
  sheet.rectangle(-radius, radius, low, high, steel_fill);
  sheet.measure_up(low, high, radius + letters, radius,
                   fmt::format("strip {} wide", length_words(spring.strip_width_m)));
  sheet.end();
  sheet.begin("spring", "spring.arbor_radius");
  sheet.rectangle(-arbor, arbor, low, high, brass_fill);
  sheet.end();
  sheet.begin("spring", "spring.barrel_radius");
  sheet.measure_across(-radius, radius, low - 1.8 * letters, low,
                       fmt::format("barrel inside {}", length_words(2.0 * spring.barrel_radius_m)));
  sheet.end();
  sheet.axis({0.0, low - letters}, {0.0, high + letters});
}

}  // namespace

Figure motor_figure(const SectionScene& scene) {
  const box::Box& box = scene.box;
  const Axes axes = axes_of(box.train);
  const double first =
      motor::gear(box.train.wheel_teeth.front(), box.train.module_m).blank_radius_m * mm_per_m;
  const double left = -std::max(first, box.spring.barrel_radius_m * mm_per_m);
  double right = axes.at.back() + governor_reach(box.governor);
  for (std::size_t i = 0; i < box.train.wheel_teeth.size(); ++i)
    right = std::max(
        right,
        axes.at[i] +
            motor::gear(box.train.wheel_teeth[i], box.train.module_m).blank_radius_m * mm_per_m);
  const double letters = (right - left) / 44.0;
  const double up = std::max({axes.reach, -left, governor_reach(box.governor)});
  const double side = -up - 3.5 * letters;
  Figure figure{.name = "motor",
                .title = fmt::format("{}: the motor, its axes in a row", box.name)};
  SectionSheet sheet(
      {left - 4.0 * letters, right + 4.0 * letters,
       side - box.spring.strip_width_m * mm_per_m - 4.5 * letters, up + 3.0 * letters},
      figure.title, "motor-title");
  draw_barrel(sheet, box.spring);
  draw_train(sheet, box.train, axes);
  draw_governor(sheet, box.governor, axes.at.back());
  sheet.words({axes.at.back(), -up - 3.0 * letters}, "governor", "middle");
  draw_side(sheet, box.spring, side);
  sheet.scale_bar();
  figure.svg = sheet.take();
  return figure;
}

}  // namespace combwright::draw
