// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include <fmt/format.h>

#include "action/setting.h"
#include "app/action_answers.h"
#include "app/report.h"
#include "base/quantity.h"

namespace combwright::app {
namespace {

constexpr double degrees_per_rad = 57.29577951308232;

std::string in_mm(double length_m) {
  return fmt::format("{:.2f} mm", length_m * 1e3);
}

std::string in_degrees(double angle_rad) {
  return fmt::format("{:.1f} deg", angle_rad * degrees_per_rad);
}

std::string tracks_text(const std::vector<action::TrackAction>& tracks) {
  Table rows({"Track", "Radius", "Lift", "Release arc", "Delay", "Damper lead", "Gap", "Feeler",
              "Repeat"});
  for (const action::TrackAction& track : tracks) {
    if (in_a_new_ten(track.track)) rows.begin_group();
    rows.add({fmt::format("{}", track.track), in_mm(track.radius_m), in_mm(track.lift_m),
              in_mm(track.release_arc_m), interval_text(track.release_delay_s, 1),
              interval_text(track.damper_lead_s), in_mm(track.gap_m),
              in_mm(action::feeler_m(track.gap_m)), interval_text(track.min_interval_s)});
  }
  return rows.text() +
         "\nDelay: from first touch to letting go, over the release arc. Damper lead: from its "
         "touch to\nletting go. Gap: between damper and tooth; at 0 it rests on the tooth. Feeler: "
         "the gap to set\nwith a feeler gauge, the step below. Repeat: least time to the tooth's "
         "next pluck.\n";
}

std::string passages_text(const std::vector<action::Passage>& passages) {
  Table rows({"Track", "Force", "at", "Work", "teeth", "damper", "brake", "friction", "Bending"});
  for (const action::Passage& passage : passages) {
    if (in_a_new_ten(passage.track)) rows.begin_group();
    const auto uj = [](double energy_j) { return fmt::format("{:.0f}", energy_j * 1e6); };
    rows.add({fmt::format("{}", passage.track), fmt::format("{:.2f} N", passage.peak_force_n),
              in_mm(passage.peak_travel_m), uj(passage.work_j), uj(passage.teeth_j),
              uj(passage.damper_j), uj(passage.brake_j), uj(passage.friction_j),
              fmt::format("{:.0f} MPa", passage.bending_stress_pa * 1e-6)});
  }
  return rows.text() +
         "\nForce: the greatest at the projection, along the track, at that travel since first "
         "touch. Work of\na passage and where it goes in microjoules. Bending: of the projection "
         "at its root.\n";
}

std::string tolerances_text(const box::Box& box, const box::Shop& shop, const ToleranceJob& job) {
  Table rows({"Hold tight first", "one of each", "Within", "Loudness", "share", "Timing", "share"});
  for (const action::Contribution& part : job.ranked) {
    rows.add({std::string(to_text(part.deviation)), std::string(owner_of(part.deviation)),
              fmt::format("{:.3g} mm", tolerance_m(shop.action_tolerance, part.deviation) * 1e3),
              fmt::format("{:.2f} dB", part.spread.loudness_db), percent(part.loudness_share),
              fmt::format("{:.2f} ms", part.spread.timing_s * 1e3), percent(part.timing_share)});
  }
  Table teeth(
      {"Track", "Comb", "Lift", "+-", "Loudness +-", "Timing +-", "by closed form", "and timing"});
  for (std::size_t i = 0; i < job.teeth.size(); ++i) {
    const action::ToothSpread& tooth = job.teeth[i];
    const action::TrialTooth& tried = job.trials.teeth[i];
    if (in_a_new_ten(tooth.track)) teeth.begin_group();
    teeth.add({fmt::format("{}", tooth.track), box.combs[tooth.comb].name, in_mm(tried.mean_lift_m),
               fmt::format("{:.3f} mm", tried.all.lift_m * 1e3),
               fmt::format("{:.2f} dB", tried.all.loudness_db),
               fmt::format("{:.2f} ms", tried.all.timing_s * 1e3),
               fmt::format("{:.2f} dB", tooth.all.loudness_db),
               fmt::format("{:.2f} ms", tooth.all.timing_s * 1e3)});
  }
  return "\nTolerances: what each does by itself, one standard deviation over all teeth\n" +
         rows.text() +
         fmt::format("\n{} boxes drawn at random (seed {}); teeth not plucked: {}\n",
                     job.options.boxes, job.options.seed, percent(job.trials.missed)) +
         teeth.text();
}

}  // namespace

std::string action_text(const box::Box& box, const box::Shop& shop, const ActionJob& job) {
  const action::WheelAction& wheel = job.survey.wheel;
  std::string text =
      facts(
          {{"Box", box.name},
           {"Turn", to_text(job.survey.turn_time_s, Dimension::time)},
           {"Star wheel", fmt::format("waits {} before upright, is let go {} past it",
                                      in_degrees(-wheel.rest_rad), in_degrees(wheel.leave_rad))},
           {"Hold", fmt::format("the waiting tip {} above the projections' lower edge; it may "
                                "turn {} on or {} back",
                                to_text(wheel.catch_m, Dimension::length),
                                in_degrees(wheel.drift_on_rad), in_degrees(wheel.drift_back_rad))},
           {"Passing", fmt::format("{} between projection and next point",
                                   to_text(wheel.passing_m, Dimension::length))}}) +
      findings_text(job.findings);
  if (job.tolerances) return text + tolerances_text(box, shop, *job.tolerances);
  return text + "\n" + tracks_text(job.survey.tracks) + "\n" + passages_text(job.survey.passages);
}

}  // namespace combwright::app
