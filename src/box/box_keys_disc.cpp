// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "box/box_key_parts.h"
#include "box/key_binding.h"
#include "box/star_drive.h"

namespace combwright::box {
namespace {

using D = Dimension;
using enum Otherwise;

// From where the driven point waits until the one that plucks stands level with the axis, and on to
// half the angle of the lift.
Value damper_reach(const Box& box, std::size_t) {
  const StarDrive drive = star_drive(box);
  const double side = (box.combs[0].plucked == Plucked::down ? 0.5 : -0.5) * std::numbers::pi;
  const double turns = (side - drive.rest_rad) / drive.pitch_rad;
  const double to_level = (turns - std::floor(turns)) * drive.pitch_rad;
  const double share = box.star_wheel.tooth_overlap_m / box.star_wheel.tip_radius_m;
  return box.star_wheel.tip_radius_m *
         (to_level + 0.5 * std::acos(std::clamp(1.0 - share, -1.0, 1.0)));
}

}  // namespace

BoxKeys top_keys() {
  return {
      {{"", "name", Kind::text, {}, "", "", required, "", "What the box is called."},
       set_own<&Box::name>},
  };
}

BoxKeys disc_keys() {
  return {
      {{"disc", "diameter", Kind::quantity, D::length, "40 mm", "1 m", required, "",
        "Outer diameter."},
       set<&Box::disc, &Disc::diameter_m>},
      {{"disc", "thickness", Kind::quantity, D::length, "0.1 mm", "3 mm", fallback, "0.5 mm",
        "Of the sheet."},
       set<&Box::disc, &Disc::thickness_m>},
      {{"disc", "centre_hole_diameter", Kind::quantity, D::length, "1 mm", "100 mm", required, "",
        "Of the hole that fits the spindle."},
       set<&Box::disc, &Disc::centre_hole_diameter_m>},
      {{"disc",
        "drive_holes",
        Kind::integer,
        {},
        "0",
        "360",
        fallback,
        "0",
        "How many holes the drive catches in."},
       set<&Box::disc, &Disc::drive_hole_count>},
      {{"disc", "drive_hole_diameter", Kind::quantity, D::length, "0.5 mm", "50 mm", fallback,
        "4 mm", "Of each of them."},
       set<&Box::disc, &Disc::drive_hole_diameter_m>},
      {{"disc", "drive_hole_radius", Kind::quantity, D::length, "1 mm", "500 mm", derived,
        "halfway between centre hole and innermost track", "Of the circle that they lie on."},
       set<&Box::disc, &Disc::drive_hole_radius_m>,
       [](const Box& box, std::size_t) -> Value {
         return 0.5 * (0.5 * box.disc.centre_hole_diameter_m + box.tracks.inner_radius_m);
       }},
      {{"disc", "drive_hole_angle", Kind::quantity, D::angle, "0 deg", "360 deg", fallback, "0 deg",
        "Of the first one, counter-clockwise from the start line."},
       set<&Box::disc, &Disc::drive_hole_angle_rad>},
      {{"disc", "edge_margin", Kind::quantity, D::length, "0 mm", "100 mm", fallback, "3 mm",
        "Plain sheet to leave outside the outermost projections."},
       set<&Box::disc, &Disc::edge_margin_m>},
      {{"disc", "start_gap", Kind::quantity, D::angle, "0 deg", "180 deg", fallback, "6 deg",
        "Sector at the start line that stays plain."},
       set<&Box::disc, &Disc::start_gap_rad>},
      {{"disc",
        "turns",
        Kind::choice,
        {},
        "",
        "",
        fallback,
        "clockwise",
        "The way it turns, seen from the side the punch strikes.",
        {"clockwise", "counter-clockwise"}},
       set<&Box::disc, &Disc::turning>},
      {{"disc", "yield_strength", Kind::quantity, D::pressure, "10 MPa", "2000 MPa", fallback,
        "200 MPa", "Of the sheet; the default is mild steel's, from memory."},
       set<&Box::disc, &Disc::yield_strength_pa>},
      {{"projection", "length", Kind::quantity, D::length, "0.2 mm", "20 mm", required, "",
        "Along the track."},
       set<&Box::projection, &Projection::length_m>},
      {{"projection", "width", Kind::quantity, D::length, "0.2 mm", "20 mm", required, "",
        "Along the radius."},
       set<&Box::projection, &Projection::width_m>},
      {{"projection", "height", Kind::quantity, D::length, "0.1 mm", "10 mm", required, "",
        "How far it stands out under the disc."},
       set<&Box::projection, &Projection::height_m>},
      {{"projection", "web", Kind::quantity, D::length, "0 mm", "20 mm", derived,
        "the sheet's thickness", "Least sheet to leave between two projections."},
       set<&Box::projection, &Projection::web_m>,
       [](const Box& box, std::size_t) -> Value { return box.disc.thickness_m; }},
      {{"projection", "corner", Kind::quantity, D::length, "0 mm", "5 mm", fallback, "0 mm",
        "Radius of its lower corners; 0 if they are sharp."},
       set<&Box::projection, &Projection::corner_m>},
  };
}

BoxKeys track_keys() {
  return {
      {{"tracks",
        "count",
        Kind::integer,
        {},
        "1",
        "400",
        derived,
        "one for each note of the scale",
        "How many tracks, and star wheels."},
       set<&Box::tracks, &Tracks::count>,
       [](const Box& box, std::size_t) -> Value {
         return static_cast<int>(box.scale.midi.size());
       }},
      {{"tracks", "inner_radius", Kind::quantity, D::length, "5 mm", "500 mm", required, "",
        "Of the innermost track's middle."},
       set<&Box::tracks, &Tracks::inner_radius_m>},
      {{"tracks", "pitch", Kind::quantity, D::length, "0.5 mm", "20 mm", required, "",
        "From track to track."},
       set<&Box::tracks, &Tracks::pitch_m>},
      {{"tracks",
        "bass",
        Kind::choice,
        {},
        "",
        "",
        fallback,
        "inner",
        "At which end the low notes lie.",
        {"inner", "outer"}},
       set<&Box::tracks, &Tracks::bass>},
      {{"star_wheel",
        "points",
        Kind::integer,
        {},
        "3",
        "60",
        fallback,
        "8",
        "How many points a star wheel has."},
       set<&Box::star_wheel, &StarWheel::points>},
      {{"star_wheel", "tip_radius", Kind::quantity, D::length, "0.5 mm", "30 mm", required, "",
        "From its axis to the tip of a point."},
       set<&Box::star_wheel, &StarWheel::tip_radius_m>},
      {{"star_wheel", "axis_below_disc", Kind::quantity, D::length, "0.5 mm", "40 mm", required, "",
        "From the disc's under side down to the axis."},
       set<&Box::star_wheel, &StarWheel::axis_below_disc_m>},
      {{"star_wheel", "tooth_overlap", Kind::quantity, D::length, "0.005 mm", "5 mm", required, "",
        "How far the tip of a point reaches past the tip of a tooth; it sets the lift."},
       set<&Box::star_wheel, &StarWheel::tooth_overlap_m>},
      {{"star_wheel", "tip_rounding", Kind::quantity, D::length, "0 mm", "5 mm", fallback,
        "0.05 mm", "Radius of the tip of a point."},
       set<&Box::star_wheel, &StarWheel::tip_rounding_m>},
      {{"star_wheel", "flank", Kind::quantity, D::angle, "0 deg", "40 deg", fallback, "8 deg",
        "Of each flank of a point, from its middle line."},
       set<&Box::star_wheel, &StarWheel::flank_rad>},
      {{"star_wheel", "thickness", Kind::quantity, D::length, "0.05 mm", "20 mm", fallback,
        "0.8 mm", "Along the axis."},
       set<&Box::star_wheel, &StarWheel::thickness_m>},
      {{"star_wheel", "density", Kind::quantity, D::density, "500 kg/m3", "20000 kg/m3", fallback,
        "8500 kg/m3", "The default is brass's, from memory."},
       set<&Box::star_wheel, &StarWheel::density_kg_m3>},
      {{"star_wheel",
        "friction",
        Kind::number,
        {},
        "0",
        "0.5",
        fallback,
        "0.15",
        "Coefficient where points rub on projections and teeth (common practice, no source)."},
       set<&Box::star_wheel, &StarWheel::friction>},
      {{"star_wheel", "brake", Kind::quantity, D::torque, "0 N m", "0.1 N m", fallback,
        "0.0001 N m",
        "Torque of the brake that holds a wheel where it was left (common practice, no source)."},
       set<&Box::star_wheel, &StarWheel::brake_torque_nm>},
  };
}

BoxKeys comb_keys() {
  return {
      {{"comb",
        "name",
        Kind::text,
        {},
        "",
        "",
        derived,
        "comb 1, comb 2",
        "What it is called in the papers."},
       set_row<&Box::combs, &Comb::name>,
       [](const Box&, std::size_t row) -> Value { return fmt::format("comb {}", row + 1); }},
      {{"comb", "offset", Kind::quantity, D::interval, "-100 cent", "100 cent", fallback, "0 cent",
        "Of all its teeth from the scale; a few cents between two combs make the pairs beat."},
       set_row<&Box::combs, &Comb::offset_cents>},
      {{"comb", "beat_low", Kind::quantity, D::frequency, "-5 Hz", "5 Hz", fallback, "0 Hz",
        "Above scale and offset at the lowest note; from there to beat_high in proportion to the "
        "semitones."},
       set_row<&Box::combs, &Comb::beat_low_hz>},
      {{"comb", "beat_high", Kind::quantity, D::frequency, "-5 Hz", "5 Hz", fallback, "0 Hz",
        "The same at the highest note."},
       set_row<&Box::combs, &Comb::beat_high_hz>},
      {{"comb",
        "plucked",
        Kind::choice,
        {},
        "",
        "",
        derived,
        "the first down, the second up",
        "Which way its teeth are plucked: down where the disc runs away from the star wheels, up "
        "where it comes.",
        {"down", "up"}},
       set_row<&Box::combs, &Comb::plucked>,
       [](const Box& box, std::size_t row) -> Value {
         if (row == 0) return static_cast<int>(Plucked::down);
         return static_cast<int>(box.combs[0].plucked == Plucked::down ? Plucked::up
                                                                       : Plucked::down);
       }},
      {{"comb", "level", Kind::quantity, D::length, "-5 mm", "5 mm", fallback, "0 mm",
        "From the axis of the star wheels to the face of the teeth that the points strike: above "
        "it for teeth plucked down, below it for those plucked up."},
       set_row<&Box::combs, &Comb::level_m>},
  };
}

BoxKeys scale_keys() {
  return {
      {{"scale",
        "notes",
        Kind::notes,
        {},
        "",
        "",
        required,
        "",
        "The notes from low to high, one for each track; a repeated note is a duplicate."},
       set<&Box::scale, &Scale::midi>},
      {{"scale", "a4", Kind::quantity, D::frequency, "380 Hz", "500 Hz", fallback, "440 Hz",
        "Pitch of A4 (ISO 16 has 440 Hz)."},
       set<&Box::scale, &Scale::a4_hz>},
      {{"scale",
        "temperament",
        Kind::choice,
        {},
        "",
        "",
        fallback,
        "equal",
        "How the twelve notes of an octave lie; A4 keeps its pitch.",
        {"equal", "quarter-comma meantone", "Werckmeister III", "Vallotti"}},
       set<&Box::scale, &Scale::temperament>},
      {{"scale",
        "scl",
        Kind::text,
        {},
        "",
        "",
        derived,
        "none",
        "Instead of a named temperament: a scale file (.scl) of twelve notes, its path from the "
        "folder of the box file."},
       set<&Box::scale, &Scale::scl>,
       [](const Box&, std::size_t) -> Value { return std::string(); }},
      {{"scale",
        "tonic",
        Kind::choice,
        {},
        "",
        "",
        fallback,
        "C",
        "The note that temperament or scale file begins on.",
        {"C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"}},
       set<&Box::scale, &Scale::tonic>},
  };
}

BoxKeys damper_keys() {
  return {
      {{"damper", "lead_time", Kind::quantity, D::time, "1 ms", "1 s", fallback, "60 ms",
        "It touches this long before its tooth is plucked again, and earlier where the star "
        "wheel's point would meet the ringing tooth first."},
       set<&Box::damper, &Damper::lead_time_s>},
      {{"damper", "stands", Kind::quantity, D::length, "0 mm", "10 mm", fallback, "0 mm",
        "From the tip of the waiting point to the damper that it takes along."},
       set<&Box::damper, &Damper::stands_m>},
      {{"damper", "reach", Kind::quantity, D::length, "0.05 mm", "20 mm", derived,
        "up to where the first comb's teeth are half lifted",
        "Way of the tip, from where it waits, until the damper slips off it."},
       set<&Box::damper, &Damper::reach_m>,
       damper_reach},
      {{"damper", "ratio", Kind::quantity, D::ratio, "1 %", "1000 %", fallback, "100 %",
        "How far it goes sideways, as a share of the way of the tip."},
       set<&Box::damper, &Damper::ratio>},
      {{"damper", "stiffness", Kind::quantity, D::stiffness, "0 N/m", "100000 N/m", fallback,
        "20 N/m", "Where it touches the tooth (common practice, no source)."},
       set<&Box::damper, &Damper::stiffness_n_m>},
  };
}

}  // namespace combwright::box
