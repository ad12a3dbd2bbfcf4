// SPDX-License-Identifier: Apache-2.0
#include "disc/checks.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <initializer_list>
#include <numbers>
#include <string>
#include <tuple>
#include <vector>

#include <fmt/format.h>

#include "action/action.h"
#include "base/angle.h"
#include "base/quantity.h"
#include "box/hold_down.h"
#include "disc/finding_kind.h"
#include "disc/polygon.h"
#include "disc/turning.h"

namespace combwright::disc {
namespace {

std::string millimetres(double length_m) {
  return fmt::format("{:.2f} mm", length_m * 1e3);
}
std::string degrees(double angle_rad) {
  return fmt::format("{:.3f} deg", angle_rad * 180.0 / std::numbers::pi);
}

// One hit with all that the checks ask about it.
struct Hit {
  const Projection* projection = nullptr;
  Rectangle shape{};
  Reach reach;
  double touch_s = 0.0;
};

class Checker {
 public:
  Checker(const box::Box& box, const Disc& disc) : box_(box), disc_(disc) {
    for (const Projection& projection : disc.projections) {
      const Rectangle shape = footprint(box, projection.radius_m, projection.angle_rad);
      hits_.push_back(
          {.projection = &projection,
           .shape = shape,
           .reach = reach(shape),
           .touch_s = touch_time_s(box.disc.turning, projection.angle_rad, disc.turn_time_s)});
    }
    std::sort(hits_.begin(), hits_.end(), [](const Hit& a, const Hit& b) {
      return std::tie(a.touch_s, a.projection->track) < std::tie(b.touch_s, b.projection->track);
    });
  }

  Findings run() {
    check_webs();
    check_arcs();
    check_start_gap();
    check_edge();
    check_own_holes();
    check_rollers();
    check_motor();
    if (compared_ > most_comparisons) {
      findings_.push_back({Level::fault, "disc",
                           "so many holes lie on top of each other that not all were compared",
                           "leave out or move what is named above, and check again"});
    }
    return std::move(findings_);
  }

 private:
  std::string where(const Projection& projection) const {
    std::string text = fmt::format("track {}, {}, {:.2f} s", projection.track,
                                   degrees(projection.angle_rad), projection.time_s);
    if (projection.bar > 0) text += fmt::format(", bar {}", projection.bar);
    return text;
  }

  // The hits that a finding concerns, the one that it begins with first.
  Spot spot(std::initializer_list<const Projection*> projections) const {
    Spot at{.track = (*projections.begin())->track};
    for (const Projection* projection : projections) at.hits.push_back(number(projection));
    return at;
  }

  int number(const Projection* projection) const {
    return static_cast<int>(projection - disc_.projections.data()) + 1;
  }

  // The angle that the disc turns from one hit to another, 0..one turn.
  double turned_rad(const Hit& from, const Hit& to, bool past_start_line) const {
    const double turns = (to.touch_s - from.touch_s) / disc_.turn_time_s;
    return two_pi * (past_start_line ? turns + 1.0 : turns);
  }

  // False once too many pairs have been measured.
  bool may_compare() { return ++compared_ <= most_comparisons; }

  // How far the disc turns at most between hits of two tracks whose holes come near each other.
  double near_rad(const Hit& a, const Hit& b) const {
    const double size_m = std::hypot(box_.projection.length_m, box_.projection.width_m);
    const double near_m = 2.0 * size_m + box_.projection.web_m;
    const double inner_m = std::min(a.projection->radius_m, b.projection->radius_m);
    return near_m < 2.0 * inner_m ? 2.0 * std::asin(near_m / (2.0 * inner_m)) : std::numbers::pi;
  }

  bool tracks_apart(const Hit& a, const Hit& b) const {
    const double apart_m =
        std::max(a.reach.inner_m, b.reach.inner_m) - std::min(a.reach.outer_m, b.reach.outer_m);
    return apart_m > 0.0 && apart_m >= box_.projection.web_m - length_slack_m;
  }

  void check_webs() {
    FindingKind overlaps(Level::fault, "leave out or move one of the two plucks");
    FindingKind webs(Level::fault, "leave out or move one of the two plucks");
    const std::vector<std::vector<const Hit*>> tracks = hits_by_track();
    for (const auto& track : tracks) {
      for (const auto& other : tracks) {
        if (!track.empty() && !other.empty() && !tracks_apart(*track[0], *other[0]))
          check_tracks(track, other, overlaps, webs);
      }
    }
    overlaps.append_to(findings_);
    webs.append_to(findings_);
  }

  // A sweep around the disc: each hit of one track with those of the other, or of the same, that
  // come after it and can be near. The far half is seen from the other hit.
  void check_tracks(const std::vector<const Hit*>& track, const std::vector<const Hit*>& other,
                    FindingKind& overlaps, FindingKind& webs) {
    const double near = near_rad(*track[0], *other[0]);
    std::size_t first = 0;
    for (const Hit* hit : track) {
      while (first < other.size() && other[first] <= hit) ++first;
      for (std::size_t ahead = 0; ahead < other.size(); ++ahead) {
        const bool around = first + ahead >= other.size();
        const Hit* next = other[around ? first + ahead - other.size() : first + ahead];
        if (next == hit || turned_rad(*hit, *next, around) > near) break;
        if (!may_compare()) return;
        check_web(*hit, *next, overlaps, webs);
      }
    }
  }

  void check_web(const Hit& hit, const Hit& other, FindingKind& overlaps, FindingKind& webs) const {
    const double apart_m = distance_m(hit.shape, other.shape);
    if (apart_m == 0.0) {
      overlaps.add([&] {
        return Finding{
            .where = where(*other.projection),
            .what = fmt::format("the hole runs into the one at {}", where(*hit.projection)),
            .at = spot({other.projection, hit.projection})};
      });
    } else if (apart_m < box_.projection.web_m - length_slack_m) {
      webs.add([&] {
        return Finding{.where = where(*other.projection),
                       .what = fmt::format("only {} of sheet to the hole at {}; the box asks for "
                                           "{}",
                                           millimetres(apart_m), where(*hit.projection),
                                           millimetres(box_.projection.web_m)),
                       .at = spot({other.projection, hit.projection})};
      });
    }
  }

  // Each track's hits in order; they point into hits_.
  std::vector<std::vector<const Hit*>> hits_by_track() const {
    std::vector<std::vector<const Hit*>> result(static_cast<std::size_t>(box_.tracks.count));
    for (const Hit& hit : hits_) {
      assert(hit.projection->track >= 1 && hit.projection->track <= box_.tracks.count);
      result[static_cast<std::size_t>(hit.projection->track - 1)].push_back(&hit);
    }
    return result;
  }

  // The star wheel must be at rest again when the next projection comes, round the start line
  // too.
  void check_arcs() {
    FindingKind kind(Level::fault,
                     "leave out one of the two plucks, or use a duplicate of the note");
    const std::vector<action::TrackAction> action = action::action(box_, disc_.turn_time_s);
    for (const std::vector<const Hit*>& track : hits_by_track()) {
      for (std::size_t i = 0; i < track.size() && track.size() > 1; ++i) {
        const bool around = i + 1 == track.size();
        const Hit& hit = *track[i];
        const Hit& next = *track[around ? 0 : i + 1];
        const double least_m =
            action[static_cast<std::size_t>(hit.projection->track - 1)].min_arc_m;
        const double arc_m = turned_rad(hit, next, around) * hit.projection->radius_m;
        if (arc_m >= least_m - length_slack_m) continue;
        kind.add([&] {
          return Finding{
              .where = where(*next.projection),
              .what = fmt::format("{} after the projection at {}{}; the star wheel needs {}",
                                  millimetres(arc_m), where(*hit.projection),
                                  around ? ", as the disc plays on" : "", millimetres(least_m)),
              .at = spot({next.projection, hit.projection})};
        });
      }
    }
    kind.append_to(findings_);
  }

  // The gap is the first part of the turn; a projection just before the start line must not trail
  // across it.
  void check_start_gap() {
    const double gap = box_.disc.start_gap_rad;
    FindingKind kind(Level::fault,
                     "fit the tune into less of the turn, or make the start gap smaller");
    for (const Hit& hit : hits_) {
      const double begin = two_pi * hit.touch_s / disc_.turn_time_s;
      const double end =
          begin + action::trailing_angle_rad(box_.projection, hit.projection->radius_m);
      const double inside = std::max(gap - begin, end - two_pi);
      if (inside * hit.projection->radius_m <= length_slack_m) continue;
      kind.add([&] {
        return Finding{.where = where(*hit.projection),
                       .what = fmt::format("reaches {} into the start gap of {}", degrees(inside),
                                           degrees(gap)),
                       .at = spot({hit.projection})};
      });
    }
    kind.append_to(findings_);
  }

  void check_edge() {
    FindingKind kind(Level::fault, "use a larger disc, or move the tracks inwards");
    const double limit_m = box_.disc.diameter_m / 2.0 - box_.disc.edge_margin_m;
    for (const std::vector<const Hit*>& track : hits_by_track()) {
      if (track.empty() || track[0]->reach.outer_m <= limit_m + length_slack_m) continue;
      kind.add([&] {
        return Finding{
            .where = where(*track[0]->projection),
            .what = fmt::format("holes of this track reach out to {}; the edge margin starts at {}",
                                millimetres(track[0]->reach.outer_m), millimetres(limit_m)),
            .at = {.track = track[0]->projection->track}};
      });
    }
    kind.append_to(findings_);
  }

  void check_own_holes() {
    FindingKind kind(Level::fault, "leave out or move the pluck, or move the disc's own hole");
    check_own_hole(kind, "centre hole", {}, box_.disc.centre_hole_diameter_m);
    for (int i = 0; i < box_.disc.drive_hole_count; ++i) {
      const double angle = box_.disc.drive_hole_angle_rad + two_pi * i / box_.disc.drive_hole_count;
      const double radius_m = box_.disc.drive_hole_radius_m;
      check_own_hole(kind, fmt::format("drive hole {}", i + 1),
                     {radius_m * std::cos(angle), radius_m * std::sin(angle)},
                     box_.disc.drive_hole_diameter_m);
    }
    kind.append_to(findings_);
  }

  void check_own_hole(FindingKind& kind, const std::string& name, const Corner& centre,
                      double diameter_m) {
    if (!(diameter_m > 0.0)) return;
    const double least_m = diameter_m / 2.0 + box_.projection.web_m - length_slack_m;
    const double centre_m = std::hypot(centre.x_m, centre.y_m);
    for (const Hit& hit : hits_) {
      if (hit.reach.inner_m - centre_m >= least_m || centre_m - hit.reach.outer_m >= least_m)
        continue;
      if (!may_compare()) return;
      const double apart_m = distance_m(hit.shape, centre) - diameter_m / 2.0;
      // Touching is running into each other, also where no web is asked for.
      if (apart_m > 0.0 && apart_m >= box_.projection.web_m - length_slack_m) continue;
      kind.add([&] {
        return Finding{.where = where(*hit.projection),
                       .what = apart_m <= 0.0
                                   ? fmt::format("the hole runs into {}", name)
                                   : fmt::format("only {} of sheet to {}; the box asks for {}",
                                                 millimetres(apart_m), name,
                                                 millimetres(box_.projection.web_m)),
                       .at = spot({hit.projection})};
      });
    }
  }

  void check_rollers() {
    FindingKind kind(Level::warning, "move the roller to where no holes pass");
    for (const double roller_m : box_.hold_down.roller_radius_m) {
      for (const std::vector<const Hit*>& track : hits_by_track()) {
        if (track.empty()) continue;
        const box::HoleRing ring = box::hole_ring(box_, track[0]->projection->radius_m);
        if (!box::runs_over(box_, roller_m, ring)) continue;
        kind.add([&] {
          return Finding{
              .where = fmt::format("track {}, hold-down roller at {}", track[0]->projection->track,
                                   millimetres(roller_m)),
              .what = fmt::format("the roller runs over {} of this track's holes", track.size()),
              .at = {.track = track[0]->projection->track}};
        });
      }
    }
    kind.append_to(findings_);
  }

  // Each window starts at a pluck; after one that is too full the next begins where it ends.
  void check_motor() {
    const double window_s = box_.motor.pluck_window_s;
    const auto most = static_cast<std::size_t>(std::max(box_.motor.most_plucks, 0));
    if (most == 0 || !(window_s > 0.0)) return;
    FindingKind kind(Level::fault,
                     "thin out the chord, slow the tune down or fit a stronger motor");
    std::vector<const Projection*> plucks;
    for (const Hit& hit : hits_) plucks.push_back(hit.projection);
    std::sort(plucks.begin(), plucks.end(), [](const Projection* a, const Projection* b) {
      return std::tie(a->time_s, a->track) < std::tie(b->time_s, b->track);
    });
    std::size_t last = 0;
    for (std::size_t first = 0; first < plucks.size();) {
      const double start_s = plucks[first]->time_s;
      while (last < plucks.size() && plucks[last]->time_s - start_s <= window_s + time_slack_s)
        ++last;
      if (last - first <= most) {
        ++first;
        continue;
      }
      kind.add([&] {
        Finding finding{.where = where(*plucks[first]),
                        .what = fmt::format("{} plucks within {}; the motor takes {}", last - first,
                                            interval_text(window_s), most)};
        for (std::size_t i = first; i < last; ++i) finding.at.hits.push_back(number(plucks[i]));
        return finding;
      });
      first = last;
    }
    kind.append_to(findings_);
  }

  const box::Box& box_;
  const Disc& disc_;
  std::vector<Hit> hits_;  // by the time they meet the star wheels, then track
  std::size_t compared_ = 0;
  Findings findings_;
};

}  // namespace

Findings check_disc(const box::Box& box, const Disc& disc) {
  assert(disc.turn_time_s > 0.0);
  return Checker(box, disc).run();
}

}  // namespace combwright::disc
