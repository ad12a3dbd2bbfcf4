// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/angle.h"
#include "box/box_check.h"
#include "box/comb_doubts.h"
#include "box/hold_down.h"
#include "box/measures.h"

namespace combwright::box {
namespace {

void warn(Findings& findings, const char* where, std::string what, std::string remedy) {
  findings.push_back({.level = Level::warning,
                      .where = where,
                      .what = std::move(what),
                      .remedy = std::move(remedy)});
}

void doubt_projections(const Box& box, Findings& findings) {
  const Projection& projection = box.projection;
  const double thickness = box.disc.thickness_m;
  if (projection.web_m < thickness) {
    warn(findings, "projection.web",
         fmt::format("the web of {} is less than the sheet's thickness of {}", mm(projection.web_m),
                     mm(thickness)),
         "leave at least the thickness between two strokes, or the sheet tears");
  }
  const double between = box.tracks.pitch_m - projection.width_m;
  if (between < projection.web_m - same_length_m) {
    warn(findings, "projection.width",
         between < 0.0
             ? fmt::format("projections on neighbouring tracks overlap by {}", mm(-between))
             : fmt::format("between projections on neighbouring tracks {} are left, not the web of "
                           "{}",
                           mm(between), mm(projection.web_m)),
         "make them narrower, or neighbouring notes will be kept apart");
  }
  // Least hole that a punch stands: the sheet's thickness, and a millimetre (design rule of sheet
  // metal work).
  const double least = std::max(thickness, 0.001);
  const double smaller = std::min(projection.length_m, projection.width_m);
  if (smaller < least) {
    warn(findings,
         projection.width_m < projection.length_m ? "projection.width" : "projection.length",
         fmt::format("its smaller side is only {}; a punch narrower than {} breaks early",
                     mm(smaller), mm(least)),
         "make length and width at least as large as that");
  }
}

// A projection stands out by drawing and bending the sheet, which tears from about so many of its
// thicknesses on (common practice, no source).
constexpr double most_thicknesses_out = 3.0;

void doubt_height(const Box& box, Findings& findings) {
  const double thickness = box.disc.thickness_m;
  const double height = box.projection.height_m;
  if (height <= most_thicknesses_out * thickness + same_length_m) return;
  warn(
      findings, "projection.height",
      fmt::format("{} is {:.3g} times the sheet's thickness of {}; a projection that stands out by "
                  "more than {:.3g} times tears easily",
                  mm(height), height / thickness, mm(thickness), most_thicknesses_out),
      fmt::format("take sheet of {} at least or lower projections, and try it on scrap",
                  mm(std::ceil(1e5 * height / most_thicknesses_out - 1e-6) * 1e-5)));
}

void doubt_damper(const Box& box, Findings& findings) {
  const double speed = two_pi * outer_radius_m(box) / box.motor.turn_time_s;
  const double repeat = least_arc_m(box) / speed;
  if (box.damper.lead_time_s > repeat) {
    warn(findings, "damper.lead_time",
         fmt::format("the damper touches {} before the pluck, but the outermost track could be "
                     "plucked every {}",
                     to_text(box.damper.lead_time_s, Dimension::time),
                     to_text(repeat, Dimension::time)),
         "set the dampers later, or accept fewer repeated notes");
  }
}

void doubt_soundboard(const Box& box, Findings& findings) {
  const bool too_long = box.soundboard.length_m > box.cabinet.length_m + same_length_m;
  if (too_long || box.soundboard.width_m > box.cabinet.width_m + same_length_m) {
    warn(findings, too_long ? "soundboard.length" : "soundboard.width",
         fmt::format("the soundboard, {} along the grain and {} across, is larger than the cabinet "
                     "inside, {} and {}",
                     mm(box.soundboard.length_m), mm(box.soundboard.width_m),
                     mm(box.cabinet.length_m), mm(box.cabinet.width_m)),
         "make the board smaller or the cabinet larger");
  }
}

// "track 3", "tracks 3 and 4", "tracks 3 to 5".
std::string tracks_words(int first, int last) {
  if (first == last) return fmt::format("track {}", first);
  return fmt::format("tracks {} {} {}", first, last == first + 1 ? "and" : "to", last);
}

// The same test as on a disc, whatever tracks a tune uses.
void doubt_rollers(const Box& box, Findings& findings) {
  for (const double roller : box.hold_down.roller_radius_m) {
    int first = 0;
    int last = 0;
    for (int track = 1; track <= box.tracks.count; ++track) {
      if (!runs_over(box, roller, hole_ring(box, track_radius_m(box, track)))) continue;
      if (first == 0) first = track;
      last = track;
    }
    if (first == 0) continue;
    warn(findings, "hold_down.rollers",
         fmt::format("the roller at {}, {} wide, runs over the holes of {}", mm(roller),
                     mm(box.hold_down.roller_width_m), tracks_words(first, last)),
         "move it to where no holes pass, or make it narrower");
  }
}

}  // namespace

Findings find_doubts(const Box& box) {
  Findings findings;
  doubt_projections(box, findings);
  doubt_height(box, findings);
  doubt_damper(box, findings);
  doubt_soundboard(box, findings);
  doubt_rollers(box, findings);
  const Findings combs = find_comb_doubts(box);
  findings.insert(findings.end(), combs.begin(), combs.end());
  return findings;
}

}  // namespace combwright::box
