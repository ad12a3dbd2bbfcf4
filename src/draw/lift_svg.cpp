// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "action/passage.h"
#include "draw/action_stage.h"
#include "draw/plot_axis.h"

namespace combwright::draw {
namespace {

struct Panel {
  double left, right, top, bottom;
  PlotAxis axis;  // from 0 at the bottom

  double y(double value) const { return bottom - (bottom - top) * value / axis.high; }
};

void draw_axis(SvgSheet& out, const Panel& panel, std::string_view words) {
  each_tick(panel.axis, [&](double value) {
    const double y = panel.y(value);
    const bool base = value == 0.0;
    out.line({panel.left, y}, {panel.right, y}, base ? svg_ink : "#dddddd", base ? 0.4 : 0.2);
    out.text({panel.left - 2.0, y + 1.3}, fmt::format("{:g}", value), "end", svg_faint, 3.4);
  });
  out.text({panel.left, panel.top - 2.5}, words, "start", svg_ink);
}

}  // namespace

std::string write_lift_svg(const ActionScene& scene) {
  const box::Box& box = scene.box;
  const Stage stage = stage_of(scene);
  constexpr std::size_t count = 601;
  const std::vector<action::Moment> moments =
      action::moments(box, scene.track, stage.stiffness_n_m, count);
  constexpr double width = 220.0;
  constexpr double left = 22.0;
  constexpr double right = width - 14.0;
  SvgSheet out(width, 190.0, action_title(box));
  out.text({8.0, 9.0}, heading_of(scene), "start", svg_ink, 5.5);

  double lift = 0.0;
  double force = 0.0;
  for (const action::Moment& moment : moments) {
    for (const double each : moment.lift_m) lift = std::max(lift, each);
    force = std::max(force, moment.force_n);
  }
  constexpr double ticks = 5.0;
  const Panel lifts{left, right, 46.0, 102.0, tick_axis(0.0, lift * 1e3, ticks)};
  const Panel forces{left, right, 116.0, 172.0, tick_axis(0.0, force, ticks)};
  EventLine line(out, left, right, lifts.top - 9.0, stage.travel_m);
  draw_axis(out, lifts, "lift, mm");
  draw_axis(out, forces, "force at the projection, N");
  const std::vector<Event> events = events_of(scene, stage);
  for (const Event& event : events) {
    const double x = line.x(event.travel_m);
    out.line({x, lifts.top}, {x, lifts.bottom}, event.colour, 0.15, "1.5 1");
    out.line({x, forces.top}, {x, forces.bottom}, event.colour, 0.15, "1.5 1");
  }
  line.draw(events);

  for (std::size_t comb = stage.strikes.size(); comb-- > 0;) {
    std::vector<Place> curve;
    curve.reserve(moments.size());
    for (const action::Moment& moment : moments)
      curve.push_back({line.x(moment.travel_m), lifts.y(moment.lift_m[comb] * 1e3)});
    // Of two combs that move alike, the one behind looks out.
    out.shape(curve, "none", comb_colour(comb), comb == 0 ? 0.5 : 1.2, false);
  }
  if (stage.strikes.size() > 1) {
    out.text({right - 46.0, lifts.top - 2.5}, box::comb_words(box.combs[0].name), "end",
             comb_colour(0));
    out.text({right, lifts.top - 2.5}, box::comb_words(box.combs[1].name), "end", comb_colour(1));
  }
  std::vector<Place> curve;
  curve.reserve(moments.size());
  for (const action::Moment& moment : moments)
    curve.push_back({line.x(moment.travel_m), forces.y(moment.force_n)});
  out.shape(curve, "none", svg_ink, 0.6, false);

  const double step = tick_axis(0.0, stage.travel_m * 1e3, 6.0).step;
  for (int i = 0; i * step <= stage.travel_m * 1e3 * (1.0 + 1e-9); ++i) {
    const double x = line.x(i * step * 1e-3);
    out.line({x, forces.bottom}, {x, forces.bottom + 1.5}, svg_ink, 0.3);
    out.text({x, forces.bottom + 5.5}, fmt::format("{:g}", i * step), "middle", svg_faint, 3.4);
  }
  out.text({0.5 * (left + right), forces.bottom + 12.0}, "travel of the disc since first touch, mm",
           "middle");
  return out.take();
}

}  // namespace combwright::draw
