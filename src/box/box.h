// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "music/temperament.h"

namespace combwright::box {

// The way the disc turns, seen from the side the punch strikes (from above in the box).
enum class Turning { clockwise, counter_clockwise };

// "clockwise" or "counter-clockwise".
std::string_view to_text(Turning turning);

// Which end of the comb lies at the innermost track.
enum class BassSide { inner, outer };

struct Disc {
  double diameter_m = 0.0;
  double thickness_m = 0.0;
  double centre_hole_diameter_m = 0.0;
  int drive_hole_count = 0;
  double drive_hole_diameter_m = 0.0;
  double drive_hole_radius_m = 0.0;   // of the circle that they lie on
  double drive_hole_angle_rad = 0.0;  // of the first one, from the start line
  double edge_margin_m = 0.0;         // plain sheet outside the outermost projection
  double start_gap_rad = 0.0;  // first part of the turn, from the start line on, that stays plain
  double yield_strength_pa = 0.0;  // of the sheet
  Turning turning = Turning::clockwise;

  bool operator==(const Disc&) const = default;
};

// What one stroke of the punch leaves: a rectangle along the track, standing out under the disc.
struct Projection {
  double length_m = 0.0;  // along the track
  double width_m = 0.0;   // along the radius
  double height_m = 0.0;  // below the disc
  double web_m = 0.0;     // least sheet to leave between two projections
  double corner_m = 0.0;  // radius of its lower corners

  bool operator==(const Projection&) const = default;
};

struct Tracks {
  int count = 0;
  double inner_radius_m = 0.0;  // of the innermost track
  double pitch_m = 0.0;         // from track to track
  BassSide bass = BassSide::inner;

  bool operator==(const Tracks&) const = default;
};

struct StarWheel {
  int points = 0;
  double tip_radius_m = 0.0;       // axis to tip of a point
  double axis_below_disc_m = 0.0;  // from the disc's under side down to the axis
  double tooth_overlap_m = 0.0;    // how far the tip of a point reaches past the tip of a tooth
  double tip_rounding_m = 0.0;     // radius to which the tip of a point is rounded
  double flank_rad = 0.0;          // between each flank of a point and its middle line
  double thickness_m = 0.0;        // along the axis
  double density_kg_m3 = 0.0;
  double friction = 0.0;         // coefficient, where points rub on projections and teeth
  double brake_torque_nm = 0.0;  // of the brake that holds the wheel where it was left

  bool operator==(const StarWheel&) const = default;
};

// Which way the points of the star wheels pluck a comb's teeth: down on the side from which the
// tracks run away, up on the side from which they come.
enum class Plucked { down, up };

// "down" or "up".
std::string_view to_text(Plucked plucked);

// One comb; a box with two has a pair of teeth on every star wheel.
struct Comb {
  std::string name;
  double offset_cents = 0.0;  // of all its teeth from the scale
  double beat_low_hz = 0.0;   // above that, at the lowest note and at the highest, and between them
  double beat_high_hz = 0.0;  // in proportion to the semitones
  double tooth_width_m = 0.0;
  double tooth_gap_m = 0.0;  // the saw's kerf
  double plate_thickness_m = 0.0;
  double bar_depth_m = 0.0;  // of plate behind the longest tooth
  int screws = 0;            // that hold the plate, in a row along the middle of that
  double screw_hole_m = 0.0;
  double longest_tooth_m = 0.0;
  double shortest_tooth_m = 0.0;
  double thinnest_m = 0.0;  // that a tooth may be ground and filed
  double root_yield = 0.0;  // by so much of its thickness a tooth is longer than to its root line
  double root_yield_spread = 0.0;  // how well that is known: one standard deviation, in the same
  double safety_factor = 0.0;      // against fatigue
  double least_flat_cents = 0.0;   // how far below its pitch a tooth is cut
  double most_flat_cents = 0.0;
  // The three lines that its teeth follow, as shares: bend of the root line; thickness at the root
  // to length of the highest, middle and lowest tooth; thickness at the tip to that at the root of
  // the highest and the lowest. Empty if they are to be found.
  std::vector<double> lines;
  double room_below_m = 0.0;  // under the teeth, down to the bedplate
  double clearance_m = 0.0;   // least air around what swings
  Plucked plucked = Plucked::down;
  // From the star wheels' axis to the face of the teeth that the points strike, against the way the
  // points move there: above it for teeth plucked down, below it for those plucked up.
  double level_m = 0.0;

  bool operator==(const Comb&) const = default;
};

// How the twelve notes of an octave lie.
enum class NamedTemperament { equal, quarter_comma_meantone, werckmeister_3, vallotti };

// "equal", "quarter-comma meantone", "Werckmeister III" or "Vallotti".
std::string_view to_text(NamedTemperament temperament);

// The notes of the comb from low to high, one for each track; a note that stands more than once
// has duplicates.
struct Scale {
  std::vector<int> midi;
  double a4_hz = 440.0;
  NamedTemperament temperament = NamedTemperament::equal;
  std::string scl;  // path of a scale file, from the folder of the box file; empty without one
  std::optional<music::Temperament> scl_notes;  // what it holds
  int tonic = 0;                                // semitones above C of the temperament's first note
  double temperature_c = 20.0;                  // at which the comb is in tune

  bool operator==(const Scale&) const = default;
};

// What the combs are cut from.
struct Steel {
  double modulus_pa = 0.0;
  double modulus_spread = 0.0;  // how well it is known: one standard deviation, as a share of it
  double density_kg_m3 = 0.0;
  double poisson_ratio = 0.0;
  double strength_pa = 0.0;  // tensile

  bool operator==(const Steel&) const = default;
};

enum class WeightMetal { lead, tungsten, tin_bismuth };

// "lead", "tungsten" or "tin-bismuth".
std::string_view to_text(WeightMetal metal);

// What the tuning weights are cut from, and where they sit.
struct Lead {
  WeightMetal metal = WeightMetal::lead;
  double modulus_pa = 0.0;
  double density_kg_m3 = 0.0;
  double density_spread = 0.0;       // how well it is known: one standard deviation, as a share
  double tip_gap_m = 0.0;            // from its tip end, as first fitted, to the tooth's tip
  double longest = 0.0;              // share of the tooth that it may cover
  double coarsest_step_cents = 0.0;  // most that a tenth of a millimetre of it may be worth

  bool operator==(const Lead&) const = default;
};

// What the pitches of an earlier comb told beside the spreads; see docs/comb.md.
struct Learnt {
  double scatter_cents = 0.0;  // of one tooth's pitch from the others', one standard deviation
  // Between the root yields, comb by comb, the steel's modulus and the weights' density: the upper
  // triangle, row by row. Empty: they are independent.
  std::vector<double> correlation;

  bool operator==(const Learnt&) const = default;
};

// A wire or tongue at the side of the tooth. The tip of a star wheel's point takes it along and so
// pushes it against the tooth, until it slips off.
struct Damper {
  double lead_time_s = 0.0;    // it touches this long before its tooth is plucked again
  double stands_m = 0.0;       // from the tip of the waiting point to it
  double reach_m = 0.0;        // way of the tip, from where it waits, until the damper slips off
  double ratio = 1.0;          // its way to that of the tip
  double stiffness_n_m = 0.0;  // where it touches the tooth

  bool operator==(const Damper&) const = default;
};

// What arranger, layout and winder ask of the motor; spring, train and governor are kept beside it.
struct Motor {
  double turn_time_s = 0.0;
  double slowest_tempo = 0.0;  // least and greatest factor on the tune's own tempo
  double fastest_tempo = 0.0;
  int most_plucks = 0;  // that the motor can take within pluck_window_s, counted as notes
  double pluck_window_s = 0.0;
  double tempo_drop = 0.0;  // greatest loss of speed over the wind used, as a share
  double key_arm_m = 0.0;   // of the winding key, from its axis to the hand

  bool operator==(const Motor&) const = default;
};

struct Spring {
  double strip_width_m = 0.0;
  double strip_thickness_m = 0.0;
  double strip_length_m = 0.0;
  double barrel_radius_m = 0.0;  // inside
  double arbor_radius_m = 0.0;
  double modulus_pa = 0.0;
  double stress_limit_pa = 0.0;      // bending, that the strip stands without setting further
  double turns_used = 0.0;           // of the barrel, let by the stopwork
  double turns_per_disc_turn = 0.0;  // barrel turns for one turn of the disc
  double turns_left_full = 0.0;      // of the barrel, kept unused at the full end
  double coil_friction = 0.0;        // share of the torque that the coils take by rubbing, 0..1
  double tensile_strength_pa = 0.0;  // of the strip

  bool operator==(const Spring&) const = default;
};

// From the barrel up to the governor: wheel i drives pinion i, and on its arbor sits wheel i + 1.
struct Train {
  std::vector<int> wheel_teeth;
  std::vector<int> pinion_teeth;
  double module_m = 0.0;
  double mesh_efficiency = 0.0;       // of each pair, 0..1
  double disc_mesh_efficiency = 0.0;  // of the pair from the barrel to the disc
  double screw_efficiency = 0.0;      // of a wheel that drives an endless screw
  double face_width_m = 0.0;          // of the first wheel

  bool operator==(const Train&) const = default;
};

enum class GovernorKind { friction, vane };

struct Governor {
  GovernorKind kind = GovernorKind::friction;
  // Friction: weights on springs press a pad on a fixed plate once they have flown out.
  int weight_count = 0;
  double weight_mass_kg = 0.0;
  double weight_radius_m = 0.0;
  double weight_preload_n = 0.0;  // of the spring that holds each weight in
  double pad_radius_m = 0.0;
  double pad_friction = 0.0;  // coefficient
  // Vane: strips standing across the air.
  int vane_count = 0;
  double vane_mass_kg = 0.0;  // of each
  double vane_width_m = 0.0;  // along the arbor
  double vane_inner_radius_m = 0.0;
  double vane_outer_radius_m = 0.0;
  double vane_drag = 0.0;       // coefficient
  double vane_pitch_rad = 0.0;  // of the blades: a right angle stands square to their way

  bool operator==(const Governor&) const = default;
};

// What rubs beside the teeth.
struct Friction {
  double roller_force_n = 0.0;  // of each roller of the hold-down bar on the disc
  double roller = 0.0;          // force along the disc to force on it
  double spindle = 0.0;         // coefficient, disc on its spindle

  bool operator==(const Friction&) const = default;
};

struct HoldDownBar {
  std::vector<double> roller_radius_m;  // where its rollers run on the disc
  double roller_width_m = 0.0;

  bool operator==(const HoldDownBar&) const = default;
};

struct Soundboard {
  double length_m = 0.0;  // along the grain
  double width_m = 0.0;
  double thickness_m = 0.0;
  double modulus_along_pa = 0.0;  // along the grain
  double modulus_across_pa = 0.0;
  double shear_modulus_pa = 0.0;
  double poisson_ratio = 0.0;  // strain across for stress along the grain
  double density_kg_m3 = 0.0;

  bool operator==(const Soundboard&) const = default;
};

struct Cabinet {
  double length_m = 0.0;  // inside
  double width_m = 0.0;
  double height_m = 0.0;

  bool operator==(const Cabinet&) const = default;
};

// A whole instrument, resolved: every length in metres, every default filled in.
struct Box {
  std::string name;
  Disc disc;
  Projection projection;
  Tracks tracks;
  StarWheel star_wheel;
  std::vector<Comb> combs;
  Scale scale;
  Steel steel;
  Lead lead;
  Learnt learnt;
  Damper damper;
  Motor motor;
  Spring spring;
  Train train;
  Governor governor;
  Friction friction;
  HoldDownBar hold_down;
  Soundboard soundboard;
  Cabinet cabinet;

  bool operator==(const Box&) const = default;
};

// One track of the disc with the note of its teeth. Tracks are numbered from 1, innermost first.
struct Track {
  int number = 0;
  double radius_m = 0.0;
  int midi = 0;

  bool operator==(const Track&) const = default;
};

// The notes of the octave from C as the scale file has them, else the named temperament, from its
// tonic.
music::Temperament temperament(const Scale& scale);

// "equal", "Vallotti from D", "late.scl from C".
std::string temperament_words(const Scale& scale);

// "comb front", "comb 1": a comb by its name, which may say that it is one.
std::string comb_words(const std::string& name);

// The tracks in order of number.
std::vector<Track> tracks(const Box& box);

}  // namespace combwright::box
