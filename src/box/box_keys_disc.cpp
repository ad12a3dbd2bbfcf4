// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "box/box_key_parts.h"
#include "box/key_binding.h"

namespace combwright::box {
namespace {

using D = Dimension;
constexpr auto required = Otherwise::required;
constexpr auto fallback = Otherwise::fallback;
constexpr auto derived = Otherwise::derived;

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
        "It touches this long before its tooth is plucked again."},
       set<&Box::damper, &Damper::lead_time_s>},
  };
}

}  // namespace combwright::box
