// SPDX-License-Identifier: Apache-2.0
#include "box/box_check.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "base/quantity.h"
#include "box/barrel_turns.h"
#include "box/correlation.h"
#include "box/hold_down.h"
#include "box/measures.h"
#include "box/star_drive.h"

namespace combwright::box {
namespace {

// "9 on line 50, 14 on line 51": how the notes lie in the file.
std::string by_line(const std::vector<NoteCount>& lists) {
  std::map<std::size_t, std::size_t> lines;
  for (const NoteCount& list : lists) lines[list.place.line.value_or(0)] += list.notes;
  std::vector<std::string> words;
  words.reserve(lines.size());
  for (const auto& [line, notes] : lines)
    words.push_back(fmt::format("{} on line {}", notes, line));
  constexpr std::size_t most = 12;
  if (words.size() > most) {
    words.resize(most);
    words.emplace_back("...");
  }
  return fmt::format("{}", fmt::join(words, ", "));
}

// The text with which the count goes beyond `most`; the last, if it never does.
Place where_too_many(const std::vector<NoteCount>& lists, std::size_t most, const Place& whole) {
  std::size_t notes = 0;
  for (const NoteCount& list : lists)
    if ((notes += list.notes) > most) return list.place;
  return lists.empty() ? whole : lists.back().place;
}

void check_scale(const Box& box, const Places& places) {
  const auto count = static_cast<std::size_t>(box.tracks.count);
  if (box.scale.midi.size() == count) return;
  throw Error(where_too_many(places.notes(), count, places.of("scale", "notes")),
              fmt::format("scale.notes has {} notes for {} tracks; give one for each track ({})",
                          box.scale.midi.size(), count, by_line(places.notes())));
}

// How far out holes of the outermost track lie.
double outer_reach_m(const Box& box) {
  return hole_ring(box, outer_radius_m(box)).outer_m;
}

void check_disc(const Box& box, const Places& places) {
  const double half_width = 0.5 * box.projection.width_m;
  const double reach = outer_reach_m(box) + box.disc.edge_margin_m;
  if (reach > 0.5 * box.disc.diameter_m + same_length_m) {
    throw Error(places.of("disc", "diameter"),
                fmt::format("disc.diameter is {}; the outermost track with its margin needs {}",
                            mm(box.disc.diameter_m), mm(2.0 * reach)));
  }
  const double hole = 0.5 * box.disc.centre_hole_diameter_m;
  const double inner_edge = box.tracks.inner_radius_m - half_width - box.projection.web_m;
  if (hole > inner_edge) {
    throw Error(places.of("disc", "centre_hole_diameter"),
                fmt::format("disc.centre_hole_diameter is {}; the innermost track leaves room for "
                            "at most {}",
                            mm(2.0 * hole), mm(std::max(0.0, 2.0 * inner_edge))));
  }
}

void check_drive_holes(const Box& box, const Places& places) {
  const Disc& disc = box.disc;
  if (disc.drive_hole_count == 0) return;
  const double half = 0.5 * disc.drive_hole_diameter_m;
  const double web = std::max(box.projection.web_m, disc.thickness_m);
  const double track_half = 0.5 * box.projection.width_m + web;
  const double from = disc.drive_hole_radius_m - half;
  const double to = disc.drive_hole_radius_m + half;
  const bool inside = to <= box.tracks.inner_radius_m - track_half;
  const bool outside = from >= outer_reach_m(box) + web;
  const Place place = places.of("disc", "drive_hole_radius");
  if (!inside && !outside) {
    throw Error(place, fmt::format("disc.drive_hole_radius is {}: the holes cut into the tracks; "
                                   "inside them it can be at most {}",
                                   mm(disc.drive_hole_radius_m),
                                   mm(box.tracks.inner_radius_m - track_half - half)));
  }
  const double least = 0.5 * disc.centre_hole_diameter_m + web + half;
  if (disc.drive_hole_radius_m < least) {
    throw Error(place, fmt::format("disc.drive_hole_radius is {}: the holes cut into the centre "
                                   "hole; it must be at least {}",
                                   mm(disc.drive_hole_radius_m), mm(least)));
  }
  const double greatest = 0.5 * disc.diameter_m - web - half;
  if (disc.drive_hole_radius_m > greatest) {
    throw Error(place, fmt::format("disc.drive_hole_radius is {}: the holes cut into the edge; it "
                                   "can be at most {}",
                                   mm(disc.drive_hole_radius_m), mm(greatest)));
  }
  const double apart = 2.0 * disc.drive_hole_radius_m * std::sin(pi / disc.drive_hole_count);
  if (disc.drive_hole_count > 1 && apart < 2.0 * half + web) {
    throw Error(places.of("disc", "drive_holes"),
                fmt::format("disc.drive_holes is {}: the holes stand {} apart, middle to middle; "
                            "they need {}",
                            disc.drive_hole_count, mm(apart), mm(2.0 * half + web)));
  }
}

void check_start_gap(const Box& box, const Places& places) {
  const double least = least_arc_m(box) / box.tracks.inner_radius_m;
  if (box.disc.start_gap_rad < least) {
    throw Error(places.of("disc", "start_gap"),
                fmt::format("disc.start_gap is {}: a tooth of the innermost track could not be "
                            "plucked at the end of a turn and again at its start; it needs {}",
                            to_text(box.disc.start_gap_rad, Dimension::angle),
                            to_text(least, Dimension::angle)));
  }
}

void check_star_wheel(const Box& box, const Places& places) {
  const StarWheel& wheel = box.star_wheel;
  const double height = box.projection.height_m;
  if (wheel.tip_rounding_m >= 0.5 * wheel.tip_radius_m) {
    throw Error(places.of("star_wheel", "tip_rounding"),
                fmt::format("star_wheel.tip_rounding is {}; it must be less than half of the tip "
                            "radius, {}",
                            mm(wheel.tip_rounding_m), mm(wheel.tip_radius_m)));
  }
  if (wheel.thickness_m >= box.tracks.pitch_m) {
    throw Error(places.of("star_wheel", "thickness"),
                fmt::format("star_wheel.thickness is {}; wheels side by side have {} each, the "
                            "pitch of the tracks",
                            mm(wheel.thickness_m), mm(box.tracks.pitch_m)));
  }
  const double widest_corner = std::min(0.5 * box.projection.length_m, height);
  if (box.projection.corner_m > widest_corner + same_length_m) {
    throw Error(places.of("projection", "corner"),
                fmt::format("projection.corner is {}; a projection {} long and {} high has room "
                            "for {} at most",
                            mm(box.projection.corner_m), mm(box.projection.length_m), mm(height),
                            mm(widest_corner)));
  }
  if (wheel.axis_below_disc_m <= wheel.tip_radius_m) {
    throw Error(places.of("star_wheel", "axis_below_disc"),
                fmt::format("star_wheel.axis_below_disc is {}: the points rub on the plain disc; "
                            "it must be more than the tip radius, {}",
                            mm(wheel.axis_below_disc_m), mm(wheel.tip_radius_m)));
  }
  if (height >= wheel.axis_below_disc_m) {
    throw Error(places.of("projection", "height"),
                fmt::format("projection.height is {}: it reaches the axis of the star wheel; it "
                            "must be less than {}",
                            mm(height), mm(wheel.axis_below_disc_m)));
  }
  // Only a projection that still holds the point half a pitch past the axis turns the wheel by a
  // whole point.
  const double least = least_height_m(wheel);
  if (height < least) {
    throw Error(places.of("projection", "height"),
                fmt::format("projection.height is {}: it lets go of the star wheel before it has "
                            "turned by one point; it must be at least {}",
                            mm(height), mm(least)));
  }
  // The wheel rests with the point that was let go at the lower edge's level: one two pitches
  // behind it must not stand as high.
  const double two_points = two_point_height_m(wheel);
  if (height >= two_points) {
    throw Error(places.of("projection", "height"),
                fmt::format("projection.height is {}: it turns the star wheel by two points at "
                            "once; it must be less than {}, or the wheel have fewer points",
                            mm(height), mm(two_points)));
  }
  const StarDrive drive = star_drive(box);
  if (drive.root_m() >= drive.depth_m) {
    throw Error(places.of("star_wheel", "flank"),
                fmt::format("star_wheel.flank is {}: points so stout meet {} from the axis, where "
                            "the projections pass at {}; make them slimmer",
                            to_text(wheel.flank_rad, Dimension::angle), mm(drive.root_m()),
                            mm(drive.depth_m)));
  }
  const double longest = drive.longest_projection_m();
  if (box.projection.length_m >= longest) {
    throw Error(places.of("projection", "length"),
                fmt::format("projection.length is {}: it is longer than the room between two "
                            "points of the star wheel and jams; at most {}",
                            mm(box.projection.length_m), mm(longest)));
  }
  if (wheel.tooth_overlap_m >= 0.5 * wheel.tip_radius_m) {
    throw Error(places.of("star_wheel", "tooth_overlap"),
                fmt::format("star_wheel.tooth_overlap is {}; it must be less than half of the tip "
                            "radius, {}",
                            mm(wheel.tooth_overlap_m), mm(0.5 * wheel.tip_radius_m)));
  }
}

void check_damper(const Box& box, const Places& places) {
  const Damper& damper = box.damper;
  if (!(damper.reach_m > 0.0) || damper.stands_m < damper.reach_m) return;
  throw Error(places.of("damper", "stands"),
              fmt::format("damper.stands is {}; it must be less than damper.reach, {}, or the tip "
                          "never takes the damper along",
                          mm(damper.stands_m), mm(damper.reach_m)));
}

void check_lines(const Comb& comb, const Place& place) {
  if (comb.lines.empty()) return;
  constexpr std::size_t shares = 6;
  if (comb.lines.size() != shares) {
    throw Error(place, fmt::format("comb.lines has {} shares; it must have {}, as comb prints them",
                                   comb.lines.size(), shares));
  }
  // All but the bend are ratios of thicknesses and lengths.
  constexpr double least = 1e-3;
  for (std::size_t i = 1; i < shares; ++i) {
    if (comb.lines[i] >= least) continue;
    throw Error(place, fmt::format("comb.lines has {} in place {}; only the first may be less than "
                                   "{}",
                                   to_text(comb.lines[i], Dimension::ratio), i + 1,
                                   to_text(least, Dimension::ratio)));
  }
}

void check_combs(const Box& box, const Places& places) {
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    const Comb& comb = box.combs[i];
    const double pitch = comb.tooth_width_m + comb.tooth_gap_m;
    if (std::fabs(pitch - box.tracks.pitch_m) > same_length_m) {
      throw Error(places.of("comb", "tooth_width", i),
                  fmt::format("a tooth and its gap are {} wide; they must be as wide as the pitch "
                              "of the tracks, {}",
                              mm(pitch), mm(box.tracks.pitch_m)));
    }
    if (comb.longest_tooth_m < comb.shortest_tooth_m) {
      throw Error(places.of("comb", "longest_tooth", i),
                  fmt::format("comb.longest_tooth is {}; it can't be shorter than shortest_tooth, "
                              "{}",
                              mm(comb.longest_tooth_m), mm(comb.shortest_tooth_m)));
    }
    if (!(comb.least_flat_cents < comb.most_flat_cents)) {
      throw Error(places.of("comb", "most_flat", i),
                  fmt::format("comb.most_flat is {}; it must be more than least_flat, {}",
                              to_text(comb.most_flat_cents, Dimension::interval),
                              to_text(comb.least_flat_cents, Dimension::interval)));
    }
    // Without a point's reach past its tip at that level the tooth is never struck.
    const double r = box.star_wheel.tip_radius_m;
    const double beside = r - box.star_wheel.tooth_overlap_m;
    const double most_level = std::sqrt(r * r - beside * beside);
    if (std::fabs(comb.level_m) >= most_level) {
      throw Error(places.of("comb", "level", i),
                  fmt::format("comb.level is {}: the points don't reach the teeth there; either "
                              "way less than {} would do",
                              mm(comb.level_m), mm(most_level)));
    }
    if (i > 0 && comb.plucked == box.combs[0].plucked) {
      throw Error(places.of("comb", "plucked", i),
                  fmt::format("comb.plucked is {} for both combs; they lie on either side of the "
                              "star wheels, so that one is plucked down and one up",
                              to_text(comb.plucked)));
    }
    check_lines(comb, places.of("comb", "lines", i));
    if (comb.thinnest_m >= comb.plate_thickness_m) {
      throw Error(places.of("comb", "thinnest", i),
                  fmt::format("comb.thinnest is {}; it must be less than the plate's thickness, {}",
                              mm(comb.thinnest_m), mm(comb.plate_thickness_m)));
    }
  }
}

void check_correlation(const Box& box, const Places& places) {
  const std::size_t count = box.learnt.correlation.size();
  if (count == 0) return;
  const std::size_t unknowns = box.combs.size() + 2;
  const Place place = places.of("learnt", "correlation");
  if (const std::size_t due = unknowns * (unknowns - 1) / 2; count != due) {
    throw Error(place, fmt::format("learnt.correlation has {} values; with {} comb{} it has {}, "
                                   "copied as comb --learn prints them",
                                   count, box.combs.size(), box.combs.size() == 1 ? "" : "s", due));
  }
  if (!positive_definite(correlation(box))) {
    throw Error(place,
                "learnt.correlation has values that contradict each other (not positive "
                "definite); copy them as comb --learn prints them, or leave them out");
  }
}

void check_spring(const Box& box, const Places& places) {
  const Spring& spring = box.spring;
  if (spring.arbor_radius_m >= spring.barrel_radius_m) {
    throw Error(places.of("spring", "arbor_radius"),
                fmt::format("spring.arbor_radius is {}; it must be less than barrel_radius, {}",
                            mm(spring.arbor_radius_m), mm(spring.barrel_radius_m)));
  }
  const double room = pi * (spring.barrel_radius_m * spring.barrel_radius_m -
                            spring.arbor_radius_m * spring.arbor_radius_m);
  const double longest = room / spring.strip_thickness_m;
  if (spring.strip_length_m >= longest) {
    throw Error(places.of("spring", "strip_length"),
                fmt::format("spring.strip_length is {}; the barrel holds less than {}, and half of "
                            "that gives most turns",
                            mm(spring.strip_length_m), mm(longest)));
  }
  const double turns = barrel_turns(spring);
  if (!(spring.turns_used <= turns)) {
    throw Error(places.of("spring", "turns_used"),
                fmt::format("spring.turns_used is {}; {} of this strip in this barrel give at most "
                            "{:.4g} turns; {} would give most",
                            spring.turns_used, mm(spring.strip_length_m), std::max(0.0, turns),
                            mm(0.5 * longest)));
  }
  constexpr double most_plays = 500.0;
  if (!(spring.turns_used <= most_plays * spring.turns_per_disc_turn)) {
    throw Error(
        places.of("spring", "turns_per_disc_turn"),
        fmt::format("spring.turns_per_disc_turn is {:.4g}; with turns_used of {:.4g} that is "
                    "more than {:.0f} turns of the disc on one wind",
                    spring.turns_per_disc_turn, spring.turns_used, most_plays));
  }
  const double kept = spring.turns_used + spring.turns_left_full;
  if (!(kept <= turns)) {
    throw Error(places.of("spring", "turns_left_full"),
                fmt::format("spring.turns_left_full and turns_used are {:.4g} together; this strip "
                            "in this barrel gives at most {:.4g} turns",
                            kept, turns));
  }
}

void check_train(const Box& box, const Places& places) {
  const Train& train = box.train;
  constexpr std::size_t most_stages = 8;
  if (train.wheel_teeth.size() != train.pinion_teeth.size()) {
    throw Error(places.of("train", "pinions"),
                fmt::format("train has {} wheels and {} pinions; every wheel drives one pinion",
                            train.wheel_teeth.size(), train.pinion_teeth.size()));
  }
  if (train.wheel_teeth.empty() || train.wheel_teeth.size() > most_stages)
    throw Error(places.of("train", "wheels"), fmt::format("train has {} wheels; give 1 to {}",
                                                          train.wheel_teeth.size(), most_stages));
  if (box.governor.vane_inner_radius_m >= box.governor.vane_outer_radius_m) {
    throw Error(
        places.of("governor", "vane_inner_radius"),
        fmt::format("governor.vane_inner_radius is {}; it must be less than "
                    "vane_outer_radius, {}",
                    mm(box.governor.vane_inner_radius_m), mm(box.governor.vane_outer_radius_m)));
  }
}

void check_rollers(const Box& box, const Places& places) {
  const double half = 0.5 * box.hold_down.roller_width_m;
  for (const double radius : box.hold_down.roller_radius_m) {
    if (radius - half < 0.5 * box.disc.centre_hole_diameter_m ||
        radius + half > 0.5 * box.disc.diameter_m + same_length_m) {
      throw Error(places.of("hold_down", "rollers"),
                  fmt::format("hold_down.rollers has one at {} that does not run on the disc; they "
                              "can stand from {} to {}",
                              mm(radius), mm(0.5 * box.disc.centre_hole_diameter_m + half),
                              mm(0.5 * box.disc.diameter_m - half)));
    }
  }
}

}  // namespace

void check_whole(const Box& box, const Places& places) {
  check_scale(box, places);
  check_disc(box, places);
  check_drive_holes(box, places);
  check_star_wheel(box, places);
  check_damper(box, places);
  check_start_gap(box, places);
  check_combs(box, places);
  check_correlation(box, places);
  check_spring(box, places);
  check_train(box, places);
  check_rollers(box, places);
}

}  // namespace combwright::box
