// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "action/action.h"
#include "action/passage.h"
#include "action/tolerance.h"
#include "base/quantity.h"
#include "box/measures.h"
#include "box/star_drive.h"

namespace combwright::action {
namespace {

// A pair let go further apart is heard as two: well under what is heard of two notes (about 20 ms,
// common practice, no source).
constexpr double most_apart_s = 0.010;

// The least that a waiting wheel should have to turn before a projection finds another point, and
// the least hold of a projection on it: what play and wear take (common practice, no source).
constexpr double least_drift_rad = 3.0 * std::numbers::pi / 180.0;
constexpr double least_catch_m = 1e-4;

// `track` is the one that the finding names, 0 for none.
void warn(Findings& findings, Level level, const char* where, std::string what, std::string remedy,
          int track = 0) {
  findings.push_back({.level = level,
                      .where = where,
                      .what = std::move(what),
                      .remedy = std::move(remedy),
                      .at = {.track = track}});
}

std::string angle_text(double angle_rad) {
  return to_text(angle_rad, Dimension::angle);
}

void find_late_dampers(const box::Box& box, const std::vector<TrackAction>& tracks,
                       Findings& findings) {
  const TrackAction* least = nullptr;
  std::size_t late = 0;
  for (const TrackAction& track : tracks) {
    if (track.damper_lead_s >= box.damper.lead_time_s * (1.0 - 1e-12)) continue;
    ++late;
    if (least == nullptr || track.damper_lead_s < least->damper_lead_s) least = &track;
  }
  if (late == 0) return;
  warn(findings, Level::warning, "damper.lead_time",
       fmt::format("on {} of {} tracks the damper cannot touch {} before the pluck, since the "
                   "projection meets the wheel later; with a damper that rests on the tooth, "
                   "{} on track {}",
                   late, tracks.size(), to_text(box.damper.lead_time_s, Dimension::time),
                   to_text(least->damper_lead_s, Dimension::time), least->track),
       "ask for less, or let those dampers rest on their teeth", least->track);
}

void find_not_let_go(const std::vector<TrackAction>& tracks, Findings& findings) {
  std::size_t held = 0;
  int track = 0;
  for (const TrackAction& each : tracks) {
    if (std::all_of(each.teeth.begin(), each.teeth.end(),
                    [](const ToothAction& tooth) { return tooth.let_go; }))
      continue;
    if (held++ == 0) track = each.track;
  }
  if (held == 0) return;
  warn(findings, Level::fault, "projection.height",
       fmt::format("on {} of {} tracks (first track {}) the projection slips off the star wheel "
                   "before the tooth is let go",
                   held, tracks.size(), track),
       "make the projections higher, or star_wheel.tooth_overlap or comb.level less", track);
}

void find_pairs_apart(const std::vector<TrackAction>& tracks, Findings& findings) {
  const auto worst = std::max_element(tracks.begin(), tracks.end(),
                                      [](const TrackAction& a, const TrackAction& b) {
                                        return std::abs(a.pair_apart_s) < std::abs(b.pair_apart_s);
                                      });
  if (worst == tracks.end() || std::abs(worst->pair_apart_s) <= most_apart_s) return;
  warn(findings, Level::warning, "comb.level",
       fmt::format("the two teeth of a pair are let go up to {} apart (track {})",
                   to_text(std::abs(worst->pair_apart_s), Dimension::time), worst->track),
       "an even number of points, and combs of one root line on one comb.level, let them go "
       "together",
       worst->track);
}

// A pair whose teeth are struck so differently does not sound as one (a judgement, no source).
constexpr double most_unequal_db = 3.0;

void find_pairs_unequal(const std::vector<TrackAction>& tracks, Findings& findings) {
  double worst_db = 0.0;
  const TrackAction* worst = nullptr;
  for (const TrackAction& track : tracks) {
    if (track.teeth.size() < 2) continue;
    const double db =
        std::abs(20.0 * std::log10(track.teeth.front().lift_m / track.teeth.back().lift_m));
    if (db > worst_db) {
      worst_db = db;
      worst = &track;
    }
  }
  if (worst_db <= most_unequal_db) return;
  warn(findings, Level::warning, "comb.level",
       fmt::format("the two teeth of a pair are lifted by {} and {} (track {}): one drowns the "
                   "other by {:.0f} dB",
                   box::mm(worst->teeth.front().lift_m), box::mm(worst->teeth.back().lift_m),
                   worst->track, worst_db),
       "bring the combs to one level, or their teeth to one length", worst->track);
}

void find_damper_reach(const box::Box& box, const std::vector<TrackAction>& tracks,
                       Findings& findings) {
  const box::Damper& damper = box.damper;
  if (!(damper.reach_m > 0.0)) return;
  const box::StarDrive drive = box::star_drive(box);
  const double sideways = damper.ratio * (damper.reach_m - damper.stands_m);
  const double slips_off =
      drive.face_m(std::min(drive.leave_rad,
                            drive.rest_rad + damper.reach_m / box.star_wheel.tip_radius_m)) -
      drive.face_m(drive.rest_rad);
  int never = 0;
  int after = 0;
  for (const TrackAction& track : tracks) {
    if (sideways <= track.gap_m && never == 0) never = track.track;
    for (const ToothAction& tooth : track.teeth)
      if (slips_off > tooth.release_arc_m && after == 0) after = track.track;
  }
  if (never != 0) {
    warn(findings, Level::fault, "damper.reach",
         fmt::format("the damper slips off its point after {} sideways, before it has gone through "
                     "its gap (first on track {})",
                     box::mm(std::max(0.0, sideways)), never),
         "make damper.reach longer or damper.ratio greater", never);
  }
  if (after != 0) {
    warn(findings, Level::fault, "damper.reach",
         fmt::format("the damper is still on the tooth when that is let go (first on track {})",
                     after),
         "make damper.reach shorter", after);
  }
}

// The least air between a ringing tooth and the point that waits for it, of all teeth.
struct Air {
  double least_m = 0.0;
  int track = 0;
};

Air least_air(const box::Box& box) {
  Air air{.least_m = 1.0};
  for (const std::vector<double>& comb : airs_m(box)) {
    for (std::size_t i = 0; i < comb.size(); ++i)
      if (comb[i] < air.least_m) air = {comb[i], static_cast<int>(i) + 1};
  }
  return air;
}

void find_knocks(const box::Box& box, Findings& findings) {
  const Air air = least_air(box);
  if (air.least_m >= 0.0) return;
  // The lower the projections, the further from the tooth the next point waits.
  box::Box lower = box;
  double low = box::least_height_m(box.star_wheel);
  double high = box.projection.height_m;
  lower.projection.height_m = low;
  const bool helps = least_air(lower).least_m >= 0.0;
  constexpr int steps = 12;
  for (int i = 0; helps && i < steps; ++i) {
    lower.projection.height_m = 0.5 * (low + high);
    (least_air(lower).least_m >= 0.0 ? low : high) = lower.projection.height_m;
  }
  warn(findings, Level::warning, "projection.height",
       fmt::format("a ringing tooth knocks against the point that waits for its next pluck: at the "
                   "worst, on track {}, {} too near",
                   air.track, box::mm(-air.least_m)),
       helps ? fmt::format("make the projections {} high at most, so that the wheel waits further "
                           "back, or star_wheel.tooth_overlap less",
                           box::mm(std::floor(1e5 * low) * 1e-5))
             : std::string("make star_wheel.tooth_overlap less"),
       air.track);
}

void find_loose_hold(const box::Box& box, Findings& findings) {
  const WheelAction wheel = wheel_action(box);
  if (wheel.catch_m < least_catch_m) {
    warn(findings, Level::warning, "projection.height",
         fmt::format("the waiting point stands only {} above the lower edge of the projections; "
                     "less than {} is soon worn away",
                     box::mm(wheel.catch_m), box::mm(least_catch_m)),
         "make the projections higher");
  }
  const double drift = std::min(wheel.drift_on_rad, wheel.drift_back_rad);
  if (drift >= least_drift_rad) return;
  warn(findings, Level::warning, "projection.height",
       fmt::format("a waiting star wheel that turns {} by only {} meets the next projection with "
                   "another point",
                   wheel.drift_on_rad < wheel.drift_back_rad ? "on" : "back", angle_text(drift)),
       wheel.drift_on_rad < wheel.drift_back_rad ? "make the projections lower"
                                                 : "make the projections higher");
}

}  // namespace

Findings findings(const box::Box& box, const std::vector<TrackAction>& tracks) {
  Findings findings;
  find_not_let_go(tracks, findings);
  find_damper_reach(box, tracks, findings);
  find_late_dampers(box, tracks, findings);
  find_pairs_apart(tracks, findings);
  find_pairs_unequal(tracks, findings);
  if (!box.combs.empty()) {
    find_knocks(box, findings);
    find_loose_hold(box, findings);
  }
  return findings;
}

namespace {

// What to change where a passage asks too much: its greatest part, or the sheet.
std::string heaviest_remedy(const Passage& passage) {
  const double lift = passage.teeth_j;
  if (passage.brake_j > std::max(lift, passage.damper_j))
    return "loosen star_wheel.brake: it takes most of that";
  if (passage.damper_j > lift)
    return "take a softer damper (damper.stiffness): it takes most of that";
  return "take thicker or stronger sheet, make the projections wider or lower, or lift the teeth "
         "less";
}

}  // namespace

Findings findings(const box::Box& box, const std::vector<Passage>& passages) {
  Findings found;
  const auto most = [&](double Passage::*quantity) {
    return std::max_element(
        passages.begin(), passages.end(),
        [&](const Passage& a, const Passage& b) { return a.*quantity < b.*quantity; });
  };
  if (passages.empty()) return found;
  const auto jam = std::find_if(passages.begin(), passages.end(),
                                [](const Passage& passage) { return passage.jams; });
  if (jam != passages.end()) {
    found.push_back({Level::fault,
                     "star_wheel.friction",
                     fmt::format("friction holds the point fast before the tooth is let go (first "
                                 "on track {})",
                                 jam->track),
                     "polish or oil the points, make star_wheel.flank less or the projections "
                     "higher",
                     {.track = jam->track}});
  }
  const auto bent = most(&Passage::bending_stress_pa);
  if (bent->bending_stress_pa > box.disc.yield_strength_pa) {
    found.push_back(
        {Level::warning,
         "projection.height",
         fmt::format("a projection on track {} is pushed with {} and bent at its root by {}; the "
                     "sheet yields at {}",
                     bent->track, to_text(bent->peak_force_n, Dimension::force),
                     to_text(bent->bending_stress_pa, Dimension::pressure),
                     to_text(box.disc.yield_strength_pa, Dimension::pressure)),
         heaviest_remedy(*bent),
         {.track = bent->track}});
  }
  const WheelAction wheel = wheel_action(box);
  const auto run = most(&Passage::run_out_rad);
  if (run->run_out_rad > 0.5 * wheel.drift_on_rad) {
    found.push_back(
        {Level::warning,
         "star_wheel.brake",
         std::isinf(run->run_out_rad)
             ? std::string("nothing holds the star wheels where a projection has left them")
             : fmt::format("the star wheel of track {} runs on by up to {} when it is let go; from "
                           "{} on the next projection would find another point",
                           run->track, to_text(run->run_out_rad, Dimension::angle),
                           to_text(wheel.drift_on_rad, Dimension::angle)),
         "give the wheels a stronger brake",
         {.track = std::isinf(run->run_out_rad) ? 0 : run->track}});
  }
  return found;
}

Findings findings(const Trials& trials, const std::vector<Contribution>& ranked) {
  // One tooth of a hundred boxes of hundred teeth is nobody's worry.
  constexpr double let_pass = 1e-4;
  if (trials.missed <= let_pass || ranked.empty()) return {};
  constexpr double fault = 0.01;
  return {{trials.missed > fault ? Level::fault : Level::warning, "tolerance",
           fmt::format("with these tolerances {:.2g} % of the teeth are missed by their point or "
                       "not let go",
                       100.0 * trials.missed),
           fmt::format("hold {} tighter first, or make star_wheel.tooth_overlap greater",
                       to_text(ranked.front().deviation))}};
}

}  // namespace combwright::action
