// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "arrange/arrangement.h"
#include "box/box.h"
#include "disc/disc.h"
#include "draw/stamp.h"

namespace combwright::draw_test {

// An invented box and tune: enough of each to draw, without the stages that would make them.
struct MadeDisc {
  box::Box box;
  arrange::Arrangement arrangement;
  disc::Disc disc;
  std::vector<double> release_arc_m;  // by track, the first is track 1
  draw::Stamp stamp{"2024-05-17",
                    "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08"};
};

struct Wish {
  box::Turning turning = box::Turning::clockwise;
  std::string title = "Greensleeves";
  std::string box_name = "Salon 76";
  int notes = 600;
};

inline constexpr double turn = 2.0 * std::numbers::pi;

inline box::Box made_box(const Wish& wish) {
  box::Box box;
  box.name = wish.box_name;
  box.disc = {.diameter_m = 0.396,
              .thickness_m = 0.0006,
              .centre_hole_diameter_m = 0.0095,
              .drive_hole_count = 4,
              .drive_hole_diameter_m = 0.004,
              .drive_hole_radius_m = 0.018,
              .drive_hole_angle_rad = 0.3,
              .edge_margin_m = 0.006,
              .start_gap_rad = turn / 36.0,
              .turning = wish.turning};
  box.projection = {.length_m = 0.002, .width_m = 0.001, .height_m = 0.0015, .web_m = 0.001};
  box.star_wheel = {
      .points = 8, .tip_radius_m = 0.0033, .axis_below_disc_m = 0.004, .tooth_overlap_m = 0.0001};
  box.damper.lead_time_s = 0.06;
  box.tracks = {.count = 76, .inner_radius_m = 0.042, .pitch_m = 0.002};
  constexpr int steps[] = {0, 2, 4, 5, 7, 9, 11};
  for (int i = 0; i < box.tracks.count; ++i) {
    const int place = i / 2;
    box.scale.midi.push_back(48 + place / 7 * 12 + steps[place % 7]);
  }
  return box;
}

// Projections lie in the way the design states: the leading edge meets the star wheel a release
// arc before the pluck.
inline disc::Projection made_projection(const MadeDisc& made, const arrange::Pluck& pluck) {
  const auto& track = made.arrangement.tracks.at(static_cast<std::size_t>(pluck.track - 1));
  const double arc_rad =
      made.release_arc_m.at(static_cast<std::size_t>(pluck.track - 1)) / track.radius_m;
  const double travelled = turn * pluck.time_s / made.arrangement.turn_time_s - arc_rad;
  const double sense = made.box.disc.turning == box::Turning::clockwise ? 1.0 : -1.0;
  const double angle = std::fmod(sense * travelled + turn, turn);
  return {track.track, track.midi, track.radius_m, angle, pluck.time_s, pluck.note};
}

inline MadeDisc made_disc(const Wish& wish = {}) {
  MadeDisc made;
  made.box = made_box(wish);
  auto& arrangement = made.arrangement;
  arrangement.box_name = wish.box_name;
  arrangement.title = wish.title;
  arrangement.transpose_semitones = -5;
  arrangement.tempo_factor = 1.08;
  arrangement.turn_time_s = 66.0;
  arrangement.last_bar = 28;
  for (const auto& track : box::tracks(made.box)) {
    const double speed_m_s = turn * track.radius_m / arrangement.turn_time_s;
    arrangement.tracks.push_back({track.number, track.midi, track.radius_m, 0.004 / speed_m_s});
    made.release_arc_m.push_back(0.0011 + 0.00001 * track.number);
  }
  std::mt19937 random(76);  // its bits are the standard's, unlike those of the distributions
  const double step_s = 62.0 / wish.notes;
  for (int i = 0; i < wish.notes; ++i) {
    const int track = 1 + static_cast<int>(random() % 76);
    arrange::ArrangedNote note;
    note.index = i;
    note.onset_s = 0.8 + i * step_s;
    note.duration_s = 0.2 + 0.1 * static_cast<int>(random() % 5);
    note.midi = arrangement.tracks[static_cast<std::size_t>(track - 1)].midi + 5;
    note.role = static_cast<arrange::Role>(random() % 3);
    note.weight = note.role == arrange::Role::melody ? 1.0 : 0.4;
    note.bar = 1 + static_cast<int>(note.onset_s / 2.25);
    note.beat = 1.0 + std::floor((note.onset_s / 2.25 - note.bar + 1) * 6.0) / 2.0;
    const auto chance = random() % 20;
    note.fate = arrange::Fate::kept;
    if (chance == 0) {
      note.fate = arrange::Fate::dropped;
      note.midi += 1;
      note.why = i % 40 == 0 ? "E4 on track 17 is plucked 0.23 s away and needs 0.54 s"
                             : "no tooth for a black key";
    } else if (chance == 1) {
      note.fate = arrange::Fate::octave;
      note.midi += 12;
      note.why = "no tooth so high; played an octave lower";
    } else if (chance == 2) {
      note.fate = arrange::Fate::moved;
      note.why = "too little sheet beside track 31 for G4; moved 14 ms later";
    }
    if (note.fate != arrange::Fate::dropped) {
      arrangement.plucks.push_back({note.onset_s, track, i});
    }
    arrangement.notes.push_back(note);
  }
  arrangement.fidelity = 0.931;
  arrangement.fidelity_bound = 0.948;
  arrangement.findings.push_back(
      {Level::note, "tempo", "played 8.0 % faster than written", "ask for a slower motor"});
  made.disc = {wish.box_name, wish.title, {}, 0.192, 66.0, {214.0, 203.5}, {}};
  made.disc.findings.push_back({Level::warning, "track 17, 12.3 s",
                                "web of 0.8 mm to the next projection",
                                "leave 1 mm or take thicker sheet"});
  // Any order that is not the order of time will do for a tour.
  for (std::size_t i = 0; i < arrangement.plucks.size(); ++i) {
    const auto place = i * 7 % arrangement.plucks.size();
    made.disc.projections.push_back(made_projection(made, arrangement.plucks[place]));
  }
  return made;
}

}  // namespace combwright::draw_test
