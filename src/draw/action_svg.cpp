// SPDX-License-Identifier: Apache-2.0
#include "draw/action_svg.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numbers>
#include <utility>

#include <fmt/core.h>
#include <fmt/format.h>

#include "action/action.h"
#include "action/passage.h"
#include "action/strike.h"
#include "base/quantity.h"
#include "box/measures.h"
#include "box/star_drive.h"
#include "draw/plain_text.h"
#include "music/pitch.h"

namespace combwright::draw {
namespace {

constexpr std::string_view ink = "#222222";
constexpr std::string_view faint = "#777777";
constexpr std::string_view disc_colour = "#b9c4cc";
constexpr std::string_view wheel_colour = "#e8d8a8";
constexpr std::string_view steel_colour = "#cfd6dc";
constexpr std::string_view damper_colour = "#2e7d32";
constexpr std::array<std::string_view, 2> comb_colours{"#1f4e9c", "#b5482a"};
constexpr double text_mm = 4.0;

std::string escaped(std::string_view text) {
  std::string out;
  for (const char letter : label(text)) {
    if (letter == '&')
      out += "&amp;";
    else if (letter == '<')
      out += "&lt;";
    else
      out += letter;
  }
  return out;
}

struct Place {
  double x = 0.0;
  double y = 0.0;
};

// An SVG whose user unit is a millimetre on paper.
class Sheet {
 public:
  Sheet(double width, double height, const std::string& title) {
    write("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    write(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0:.2f}mm\" "
        "height=\"{1:.2f}mm\" viewBox=\"0 0 {0:.2f} {1:.2f}\" role=\"img\" "
        "aria-labelledby=\"title\">\n<title id=\"title\">{2}</title>\n",
        width, height, escaped(title));
    write("<desc>combwright</desc>\n<rect width=\"{:.2f}\" height=\"{:.2f}\" fill=\"white\"/>\n",
          width, height);
    write("<g font-family=\"DejaVu Sans, sans-serif\" font-size=\"{:.2f}\" fill=\"{}\">\n", text_mm,
          ink);
  }

  template <typename... Args>
  void write(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(out_), format, std::forward<Args>(args)...);
  }

  void text(Place at, std::string_view words, std::string_view anchor = "start",
            std::string_view colour = ink, double size = text_mm) {
    write(
        "<text x=\"{:.3f}\" y=\"{:.3f}\" text-anchor=\"{}\" fill=\"{}\" font-size=\"{:.2f}\">{}"
        "</text>\n",
        at.x, at.y, anchor, colour, size, escaped(words));
  }

  void line(Place from, Place to, std::string_view colour, double width,
            std::string_view dashes = "none") {
    write(
        "<line x1=\"{:.3f}\" y1=\"{:.3f}\" x2=\"{:.3f}\" y2=\"{:.3f}\" stroke=\"{}\" "
        "stroke-width=\"{:.2f}\" stroke-dasharray=\"{}\"/>\n",
        from.x, from.y, to.x, to.y, colour, width, dashes);
  }

  void shape(const std::vector<Place>& points, std::string_view fill, std::string_view stroke,
             double width, bool closed = true, std::string_view dashes = "none") {
    write("<{} points=\"", closed ? "polygon" : "polyline");
    for (const Place& point : points) write("{:.2f},{:.2f} ", point.x, point.y);
    write(
        "\" fill=\"{}\" stroke=\"{}\" stroke-width=\"{:.2f}\" stroke-linejoin=\"round\" "
        "stroke-dasharray=\"{}\"/>\n",
        fill, stroke, width, dashes);
  }

  void circle(Place at, double radius, std::string_view fill, std::string_view stroke, double width,
              std::string_view dashes = "none") {
    write(
        "<circle cx=\"{:.3f}\" cy=\"{:.3f}\" r=\"{:.3f}\" fill=\"{}\" stroke=\"{}\" "
        "stroke-width=\"{:.2f}\" stroke-dasharray=\"{}\"/>\n",
        at.x, at.y, radius, fill, stroke, width, dashes);
  }

  std::string take() {
    out_ += "</g>\n</svg>\n";
    return std::move(out_);
  }

 private:
  std::string out_;
};

// What happens on the way, by travel since first touch.
struct Event {
  double travel_m = 0.0;
  std::string words;
  std::string_view colour = ink;
};

struct Stage {
  box::StarDrive drive;
  action::TrackAction track;
  std::vector<action::Strike> strikes;
  std::vector<double> stiffness_n_m;
  double from_m = 0.0;    // of the projection's face, at first touch
  double travel_m = 0.0;  // until it slips off
};

Stage stage_of(const ActionScene& scene) {
  const box::Box& box = scene.box;
  Stage stage{.drive = box::star_drive(box)};
  const auto place = static_cast<std::size_t>(scene.track - 1);
  stage.track = action::action(box, box.motor.turn_time_s)[place];
  for (std::size_t comb = 0; comb < box.combs.size(); ++comb) {
    stage.strikes.push_back(
        action::strike(box, stage.drive, comb, action::place_of(box, scene.track)));
    stage.stiffness_n_m.push_back(scene.combs[comb].teeth[place].tip_stiffness_n_m);
  }
  stage.from_m = stage.drive.face_m(stage.drive.rest_rad);
  stage.travel_m = stage.drive.face_m(stage.drive.leave_rad) - stage.from_m;
  return stage;
}

std::vector<Event> events_of(const ActionScene& scene, const Stage& stage) {
  std::vector<Event> events{{0.0, "first touch"}, {stage.travel_m, "slips off"}};
  const box::Box& box = scene.box;
  const double speed = 2.0 * std::numbers::pi * stage.track.radius_m / box.motor.turn_time_s;
  events.push_back({stage.track.release_arc_m - stage.track.damper_lead_s * speed, "damper touches",
                    damper_colour});
  const double off = stage.drive.rest_rad + box.damper.reach_m / box.star_wheel.tip_radius_m;
  if (off < stage.drive.leave_rad)
    events.push_back({stage.drive.face_m(off) - stage.from_m, "damper off", damper_colour});
  const bool together = std::abs(stage.track.pair_apart_s) * speed < 5e-6;
  for (std::size_t i = 0; i < stage.track.teeth.size(); ++i) {
    if (i > 0 && together) break;
    const bool named = stage.track.teeth.size() > 1 && !together;
    const std::string whose = named ? " " + box.combs[i].name : "";
    const std::string_view colour = comb_colours.at(i % comb_colours.size());
    events.push_back({stage.track.teeth[i].meet_arc_m, "met" + whose, colour});
    events.push_back({stage.track.teeth[i].release_arc_m, "let go" + whose, colour});
  }
  std::sort(events.begin(), events.end(),
            [](const Event& a, const Event& b) { return a.travel_m < b.travel_m; });
  return events;
}

std::string heading_of(const ActionScene& scene) {
  const box::Track track = box::tracks(scene.box)[static_cast<std::size_t>(scene.track - 1)];
  return fmt::format("{}: track {}, {}", scene.box.name, scene.track, music::note_name(track.midi));
}

std::string mm_words(double length_m) {
  return fmt::format("{:.2f} mm", length_m * 1e3);
}

// Words over a line of travel, each at its place but clear of those before it, in as many rows as
// that takes; a thread leads from each to its place.
class EventLine {
 public:
  EventLine(Sheet& sheet, double left, double right, double y, double travel_m)
      : sheet_(sheet), left_(left), right_(right), y_(y), travel_m_(travel_m) {}

  double x(double travel_m) const { return left_ + (right_ - left_) * travel_m / travel_m_; }

  void draw(const std::vector<Event>& events) {
    std::array<double, 3> ends{left_ - 60.0, left_ - 60.0, left_ - 60.0};
    std::vector<std::pair<Place, const Event*>> labels;
    std::vector<double> widths;
    for (const Event& event : events) {
      const double at = x(event.travel_m);
      const double width = 0.62 * 3.4 * static_cast<double>(event.words.size()) + 3.0;
      const double begin = std::clamp(at - 0.5 * width, left_ - 8.0, right_ + 8.0 - width);
      std::size_t row = 0;
      while (row + 1 < ends.size() && ends.at(row) > begin) ++row;
      ends.at(row) = begin + width;
      const double text_y = y_ - 5.0 - 5.5 * static_cast<double>(row);
      sheet_.line({at, y_}, {at, text_y + 0.8}, event.colour, 0.3);
      labels.emplace_back(Place{begin + 0.5 * width, text_y}, &event);
      widths.push_back(width);
    }
    // Over the threads of all.
    for (std::size_t i = 0; i < labels.size(); ++i) {
      const auto& [at, event] = labels[i];
      sheet_.write(
          "<rect x=\"{:.3f}\" y=\"{:.3f}\" width=\"{:.3f}\" height=\"4.6\" fill=\"white\"/>\n",
          at.x - 0.5 * widths[i], at.y - 3.4, widths[i]);
      sheet_.text(at, event->words, "middle", event->colour, 3.4);
    }
  }

 private:
  Sheet& sheet_;
  double left_;
  double right_;
  double y_;
  double travel_m_;
};

// From the mechanism's metres, the axis as origin and y up, to the paper.
struct View {
  double scale = 0.0;  // millimetres on paper for a metre
  Place axis;

  Place at(double x_m, double y_m) const { return {axis.x + x_m * scale, axis.y - y_m * scale}; }
};

std::vector<Place> wheel_outline(const box::StarDrive& drive, double driven_rad, const View& view) {
  std::vector<Place> outline;
  const int points = static_cast<int>(std::lround(2.0 * std::numbers::pi / drive.pitch_rad));
  const double root = drive.root_m();
  for (int i = 0; i < points; ++i) {
    const double angle = driven_rad + i * drive.pitch_rad;
    const auto put = [&](double out, double aside) {
      outline.push_back(view.at(out * std::sin(angle) + aside * std::cos(angle),
                                out * std::cos(angle) - aside * std::sin(angle)));
    };
    const double before = angle - 0.5 * drive.pitch_rad;
    outline.push_back(view.at(root * std::sin(before), root * std::cos(before)));
    constexpr int steps = 10;
    const double half = 0.5 * std::numbers::pi - drive.flank_rad;
    for (int step = 0; step <= steps; ++step) {
      const double around = -half + 2.0 * half * step / steps;
      put(drive.centre_m + drive.rounding_m * std::cos(around),
          drive.rounding_m * std::sin(around));
    }
  }
  return outline;
}

std::vector<Place> projection_outline(const box::Box& box, double face_m, double disc_m,
                                      const View& view) {
  const double depth = box.star_wheel.axis_below_disc_m - box.projection.height_m;
  const double corner = box.projection.corner_m;
  const double back = face_m - box.projection.length_m;
  std::vector<Place> outline{view.at(back, disc_m)};
  constexpr int steps = 8;
  for (int i = 0; i <= steps; ++i) {
    const double turn = 0.5 * std::numbers::pi * i / steps;
    outline.push_back(
        view.at(back + corner * (1.0 - std::cos(turn)), depth + corner * (1.0 - std::sin(turn))));
  }
  for (int i = 0; i <= steps; ++i) {
    const double turn = 0.5 * std::numbers::pi * i / steps;
    outline.push_back(
        view.at(face_m - corner * (1.0 - std::sin(turn)), depth + corner * (1.0 - std::cos(turn))));
  }
  outline.push_back(view.at(face_m, disc_m));
  return outline;
}

// The end of a tooth of that thickness, bent as a cantilever pulled at its end.
std::vector<Place> tooth_outline(const action::Strike& strike, box::Plucked plucked, double lift_m,
                                 double thickness_m, double shown_m, const View& view) {
  const double side = plucked == box::Plucked::down ? 1.0 : -1.0;
  const double end =
      strike.tip_radius_m - strike.overlap_m + box::draw_back_m(strike.length_m, lift_m);
  std::vector<Place> struck;
  std::vector<Place> other;
  constexpr int steps = 12;
  for (int i = 0; i <= steps; ++i) {
    const double from_tip = shown_m * i / steps;
    const double share =
        std::isfinite(strike.length_m) ? std::max(0.0, 1.0 - from_tip / strike.length_m) : 1.0;
    const double bent = lift_m * 0.5 * share * share * (3.0 - share);
    const double z = -strike.level_m + bent;
    struck.push_back(view.at(side * (end + from_tip), -side * z));
    other.push_back(view.at(side * (end + from_tip), -side * (z + thickness_m)));
  }
  // Open at the far end, where the tooth goes on.
  std::reverse(struck.begin(), struck.end());
  struck.insert(struck.end(), other.begin(), other.end());
  return struck;
}

}  // namespace

std::string action_title(const box::Box& box) {
  return fmt::format("action of {}", box.name);
}

std::string write_action_svg(const ActionScene& scene, std::optional<double> travel_m) {
  const box::Box& box = scene.box;
  const Stage stage = stage_of(scene);
  constexpr double just_before_m = 1e-8;
  const double travel =
      std::clamp(travel_m.value_or(stage.track.release_arc_m - just_before_m), 0.0, stage.travel_m);
  const double face = stage.from_m + travel;
  const double angle = stage.drive.angle_rad(face);

  constexpr double width = 300.0;
  constexpr double edge = 10.0;
  const double tip = box.star_wheel.tip_radius_m;
  const double sheet = std::max(box.disc.thickness_m, 0.2e-3);
  const double shown = 0.9 * tip;  // of each tooth
  // A round scale that fills the width.
  double scale = 1.0;
  for (const double tried : {2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 100.0})
    if (2.0 * (tip + shown) * tried * 1e3 <= width - 2.0 * edge) scale = tried;
  const double up = box.star_wheel.axis_below_disc_m + sheet;
  constexpr double head = 16.0;
  constexpr double foot = 44.0;
  const View view{scale * 1e3, {0.5 * width, head + 4.0 + up * scale * 1e3}};
  const double below = view.axis.y + tip * view.scale + 6.0;
  Sheet out(width, below + foot, action_title(box));

  out.text({edge, 9.0}, heading_of(scene), "start", ink, 5.5);
  out.text({width - edge, 9.0}, fmt::format("scale {:g} : 1", scale), "end", faint);

  // The disc, and the projection as it touched first.
  const double half = (0.5 * width - edge) / view.scale;
  const double disc = box.star_wheel.axis_below_disc_m;
  out.shape(projection_outline(box, stage.from_m, disc, view), "none", faint, 0.3, true, "1.5 1.5");
  out.shape(projection_outline(box, face, disc, view), disc_colour, ink, 0.4);
  out.shape({view.at(-half, disc), view.at(half, disc), view.at(half, disc + sheet),
             view.at(-half, disc + sheet)},
            disc_colour, ink, 0.4);
  const Place arrow = view.at(-half, disc + 0.5 * sheet);
  out.text({arrow.x + 3.0, arrow.y + 1.4}, "disc runs this way \u2192", "start", ink, 3.6);

  // Teeth at rest, dashed, and as they stand; under the wheel, which reaches over them.
  for (std::size_t i = 0; i < stage.strikes.size(); ++i) {
    const auto& tooth = scene.combs[i].teeth[static_cast<std::size_t>(scene.track - 1)];
    const double thickness = tooth.in_tune.sections.front().tip_thickness_m;
    const std::string_view colour = comb_colours.at(i % comb_colours.size());
    const action::Strike& strike = stage.strikes[i];
    const box::Plucked plucked = box.combs[i].plucked;
    const double lift = strike.lift_at_m(angle);
    if (lift > 0.0)
      out.shape(tooth_outline(strike, plucked, 0.0, thickness, shown, view), "none", faint, 0.3,
                false, "1.5 1.5");
    out.shape(tooth_outline(strike, plucked, lift, thickness, shown, view), steel_colour, colour,
              0.5, false);
    const double side = plucked == box::Plucked::down ? 1.0 : -1.0;
    // Beyond the thickness, clear of the wheel.
    const double beyond = thickness - strike.level_m + strike.lift_m;
    const Place words = view.at(side * half, -side * beyond);
    const double y = words.y + (side > 0.0 ? 6.0 : -3.0);
    out.text({words.x, y},
             fmt::format("{}, plucked {}: {}", box::comb_words(box.combs[i].name), to_text(plucked),
                         lift > 0.0 ? "lifted by " + mm_words(lift) : std::string("at rest")),
             side > 0.0 ? "end" : "start", colour);
  }

  // The wheel.
  out.circle(view.axis, tip * view.scale, "none", faint, 0.2, "1 2");
  out.shape(wheel_outline(stage.drive, angle, view), wheel_colour, ink, 0.4);
  out.circle(view.axis, 0.35 * stage.drive.root_m() * view.scale, "white", ink, 0.4);
  out.line({view.axis.x - 2.0, view.axis.y}, {view.axis.x + 2.0, view.axis.y}, ink, 0.2);
  out.line({view.axis.x, view.axis.y - 2.0}, {view.axis.x, view.axis.y + 2.0}, ink, 0.2);

  // The way of the tip that moves the damper.
  std::vector<Place> way;
  constexpr int steps = 30;
  const double from = stage.drive.rest_rad + box.damper.stands_m / tip;
  const double to = stage.drive.rest_rad + box.damper.reach_m / tip;
  const double around = tip + 1.6 / view.scale;
  for (int i = 0; i <= steps; ++i) {
    const double turn = std::lerp(from, to, static_cast<double>(i) / steps) + stage.drive.pitch_rad;
    way.push_back(view.at(around * std::sin(turn), around * std::cos(turn)));
  }
  out.shape(way, "none", damper_colour, 1.0, false);
  const double label_turn = to + stage.drive.pitch_rad;
  const Place label_at = view.at((around + 2.0 / view.scale) * std::sin(label_turn),
                                 (around + 2.0 / view.scale) * std::cos(label_turn));
  out.text({label_at.x, label_at.y - 1.0}, "on this way the tip takes the damper along", "start",
           damper_colour, 3.6);

  // Where on its way that is.
  const double left = edge + 14.0;
  const double right = width - edge - 14.0;
  const double y = below + 26.0;
  EventLine line(out, left, right, y, stage.travel_m);
  out.line({left, y}, {right, y}, ink, 0.4);
  line.draw(events_of(scene, stage));
  const double here = line.x(travel);
  out.shape({{here, y + 0.5}, {here - 2.0, y + 4.5}, {here + 2.0, y + 4.5}}, ink, ink, 0.2);
  out.text({std::clamp(here, left + 40.0, right - 40.0), y + 10.0},
           fmt::format("travel {} of {}, point {:.1f}\u00b0 {} upright", mm_words(travel),
                       mm_words(stage.travel_m), std::abs(angle) * 180.0 / std::numbers::pi,
                       angle < 0.0 ? "before" : "past"),
           "middle");
  return out.take();
}

namespace {

// A step of 1, 2 or 5 times a power of ten that divides a range into about so many parts.
double round_step(double range, double parts) {
  const double rough = range / parts;
  const double ten = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double step : {1.0, 2.0, 5.0})
    if (step * ten >= rough) return step * ten;
  return 10.0 * ten;
}

struct Panel {
  double left, right, top, bottom;
  double most = 1.0;  // at the top; 0 at the bottom

  double y(double value) const { return bottom - (bottom - top) * value / most; }
};

void draw_axis(Sheet& out, const Panel& panel, std::string_view words) {
  const double step = round_step(panel.most, 5.0);
  for (int i = 0; i * step <= panel.most * (1.0 + 1e-9); ++i) {
    const double y = panel.y(i * step);
    out.line({panel.left, y}, {panel.right, y}, i == 0 ? ink : "#dddddd", i == 0 ? 0.4 : 0.2);
    out.text({panel.left - 2.0, y + 1.3}, fmt::format("{:g}", i * step), "end", faint, 3.4);
  }
  out.text({panel.left, panel.top - 2.5}, words, "start", ink);
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
  Sheet out(width, 190.0, action_title(box));
  out.text({8.0, 9.0}, heading_of(scene), "start", ink, 5.5);

  double lift = 0.0;
  double force = 0.0;
  for (const action::Moment& moment : moments) {
    for (const double each : moment.lift_m) lift = std::max(lift, each);
    force = std::max(force, moment.force_n);
  }
  const auto ceiling = [](double most) {
    const double step = round_step(std::max(most, 1e-9), 5.0);
    return std::ceil(most / step) * step;
  };
  const Panel lifts{left, right, 46.0, 102.0, ceiling(lift * 1e3)};
  const Panel forces{left, right, 116.0, 172.0, ceiling(force)};
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
    out.shape(curve, "none", comb_colours.at(comb % comb_colours.size()), comb == 0 ? 0.5 : 1.2,
              false);
  }
  if (stage.strikes.size() > 1) {
    out.text({right - 46.0, lifts.top - 2.5}, box::comb_words(box.combs[0].name), "end",
             comb_colours[0]);
    out.text({right, lifts.top - 2.5}, box::comb_words(box.combs[1].name), "end", comb_colours[1]);
  }
  std::vector<Place> curve;
  curve.reserve(moments.size());
  for (const action::Moment& moment : moments)
    curve.push_back({line.x(moment.travel_m), forces.y(moment.force_n)});
  out.shape(curve, "none", ink, 0.6, false);

  const double step = round_step(stage.travel_m * 1e3, 6.0);
  for (int i = 0; i * step <= stage.travel_m * 1e3 * (1.0 + 1e-9); ++i) {
    const double x = line.x(i * step * 1e-3);
    out.line({x, forces.bottom}, {x, forces.bottom + 1.5}, ink, 0.3);
    out.text({x, forces.bottom + 5.5}, fmt::format("{:g}", i * step), "middle", faint, 3.4);
  }
  out.text({0.5 * (left + right), forces.bottom + 12.0}, "travel of the disc since first touch, mm",
           "middle");
  return out.take();
}

}  // namespace combwright::draw
