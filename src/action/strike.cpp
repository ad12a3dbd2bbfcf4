// SPDX-License-Identifier: Apache-2.0
#include "action/strike.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "box/measures.h"

namespace combwright::action {
namespace {

// Of the end of the tooth lifted by that much.
double end_m(const Strike& strike, double lift_m) {
  return strike.tip_radius_m - strike.overlap_m + box::draw_back_m(strike.length_m, lift_m);
}

double centre_m(const Strike& strike) {
  return strike.tip_radius_m - strike.rounding_m;
}

// From the axis to the line of a flank.
double flank_m(const Strike& strike) {
  return centre_m(strike) * std::sin(strike.flank_rad) + strike.rounding_m;
}

// Where a point that stands `past_level` past the axis' level holds a tooth that ends at s: as far
// along its way as any of its outline from s outwards.
Touch held(const Strike& strike, double past_level, double s) {
  const double tip_s = centre_m(strike) * std::cos(past_level);
  const double tip_z = centre_m(strike) * std::sin(past_level);
  Touch touch;
  if (past_level >= strike.flank_rad && s <= tip_s) {
    // By the rounded tip, on the face.
    touch = {.s_m = tip_s, .z_m = tip_z + strike.rounding_m};
  } else {
    // By the flank, on the end of the tooth.
    const double lean = strike.flank_rad - past_level;
    const double sine = std::sin(lean);
    const double cosine = std::cos(lean);
    touch = {.s_m = s,
             .z_m = (flank_m(strike) - s * sine) / cosine,
             .ns = sine,
             .nz = cosine,
             .at_end = true};
    // Further out than where the flank ends, by the rounding.
    if (s * cosine - touch.z_m * sine > centre_m(strike) * std::cos(strike.flank_rad)) {
      touch.ns =
          strike.rounding_m > 0.0 ? std::clamp((s - tip_s) / strike.rounding_m, -1.0, 1.0) : 0.0;
      touch.nz = std::sqrt(1.0 - touch.ns * touch.ns);
      touch.z_m = tip_z + strike.rounding_m * touch.nz;
    }
  }
  touch.lift_m = touch.z_m + strike.level_m;
  return touch;
}

// The same of a tooth whose end has drawn back by what the lift makes of it. The further it has,
// the less it is lifted, so that halving finds both.
Touch touch_past_level(const Strike& strike, double past_level) {
  double low = 0.0;
  double high = std::max(0.0, held(strike, past_level, end_m(strike, 0.0)).lift_m);
  constexpr int steps = 60;
  for (int i = 0; i < steps && low < high; ++i) {
    const double lift = 0.5 * (low + high);
    if (held(strike, past_level, end_m(strike, lift)).lift_m > lift)
      low = lift;
    else
      high = lift;
  }
  Touch touch = held(strike, past_level, end_m(strike, high));
  touch.lift_m = high;
  return touch;
}

// Where a point coming from far before the level first touches the resting tooth: its flank meets
// the tooth's end, or its tip the face.
double meet_past_level(const Strike& strike) {
  const double end = end_m(strike, 0.0);
  const double z = -strike.level_m;
  const double sine = std::clamp(flank_m(strike) / std::hypot(end, z), -1.0, 1.0);
  const double on_flank = strike.flank_rad - (std::asin(sine) - std::atan2(z, end));
  const double lean = strike.flank_rad - on_flank;
  if (end * std::cos(lean) - z * std::sin(lean) <= centre_m(strike) * std::cos(strike.flank_rad) &&
      on_flank <= strike.flank_rad)
    return on_flank;
  // On the rounding: its middle at that distance from the end of the tooth, or, if that is past the
  // lowest place of the tip, the tip on the face.
  const double on_face =
      std::asin(std::clamp((z - strike.rounding_m) / centre_m(strike), -1.0, 1.0));
  if (on_face >= strike.flank_rad && centre_m(strike) * std::cos(on_face) >= end) return on_face;
  const double r = centre_m(strike);
  const double far = std::hypot(end, z);
  const double cosine =
      (r * r + far * far - strike.rounding_m * strike.rounding_m) / (2.0 * r * far);
  return std::atan2(z, end) - std::acos(std::clamp(cosine, -1.0, 1.0));
}

// Distance from a place to the outline of a point that stands `past_level` past the level, seen
// from its leading side; negative within.
double distance_m(const Strike& strike, double past_level, double s, double z) {
  const double lean = strike.flank_rad - past_level;
  const double along = s * std::cos(lean) - z * std::sin(lean);
  if (along <= centre_m(strike) * std::cos(strike.flank_rad))
    return s * std::sin(lean) + z * std::cos(lean) - flank_m(strike);
  return std::hypot(s - centre_m(strike) * std::cos(past_level),
                    z - centre_m(strike) * std::sin(past_level)) -
         strike.rounding_m;
}

}  // namespace

Touch Strike::touch(double angle_rad) const {
  if (angle_rad < meet_rad || angle_rad > slip_rad) return {};
  return touch_past_level(*this, angle_rad - level_rad);
}

double Strike::lift_at_m(double angle_rad) const {
  return touch(angle_rad).lift_m;
}

double Strike::air_to_waiting_m(double rest_rad) const {
  // The point that will pluck next, if the wheel has come to rest behind this one's letting go.
  const double waits = rest_rad - level_rad;
  constexpr int steps = 200;
  double least = std::numeric_limits<double>::infinity();
  for (int i = 0; i <= steps; ++i) {
    const double swing = lift_m * i / steps;
    least = std::min(least, distance_m(*this, waits, end_m(*this, swing), -level_m - swing));
  }
  return least;
}

int place_of(const box::Box& box, int track) {
  return box.tracks.bass == box::BassSide::inner ? track - 1 : box.tracks.count - track;
}

Strike strike(const box::Box& box, const box::StarDrive& drive, std::size_t comb, int place) {
  const bool any = comb < box.combs.size();
  const double length = any ? box::tooth_length_m(box, box.combs[comb], place) : 0.0;
  Strike result{.tip_radius_m = box.star_wheel.tip_radius_m,
                .rounding_m = box.star_wheel.tip_rounding_m,
                .flank_rad = box.star_wheel.flank_rad,
                .overlap_m = box.star_wheel.tooth_overlap_m,
                .length_m = length > 0.0 ? length : std::numeric_limits<double>::infinity(),
                .level_m = any ? box.combs[comb].level_m : 0.0};
  const double slip =
      box::slip_rad(result.tip_radius_m, result.overlap_m, result.length_m, result.level_m);
  result.lift_m =
      box::lift_m(result.tip_radius_m, result.overlap_m, result.length_m, result.level_m);
  const double meet = meet_past_level(result);
  const bool up = any && box.combs[comb].plucked == box::Plucked::up;
  // The point that is the next to meet the tooth when the wheel turns on from its rest.
  const double side = up ? -0.5 * std::numbers::pi : 0.5 * std::numbers::pi;
  constexpr double at_once = 1e-9;
  const double ahead = (drive.rest_rad - at_once - meet - side) / drive.pitch_rad;
  result.level_rad = side + std::ceil(ahead) * drive.pitch_rad;
  result.meet_rad = result.level_rad + meet;
  result.slip_rad = result.level_rad + slip;
  return result;
}

}  // namespace combwright::action
