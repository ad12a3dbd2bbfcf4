// SPDX-License-Identifier: Apache-2.0
#include "tuner/simulated_tooth.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "action/action.h"
#include "base/file.h"
#include "box/box_reader.h"
#include "music/pitch.h"
#include "steel/modes.h"
#include "steel/tuning.h"

namespace combwright::tuner::simulation {
namespace {

constexpr int most_cuts = 60;

Workshop designed(box::Box box) {
  Workshop workshop{.box = std::move(box)};
  workshop.designs =
      steel::design_combs(workshop.box, workshop.shop, action::lifts_m(workshop.box));
  return workshop;
}

// What a strategy without a model does with the design's own slope.
template <class Worth>
Outcome by_worth(const Workshop& workshop, const ToothOf& of, Bench bench, const Worth& worth) {
  const steel::CombTooth& tooth = of.designs[of.comb].teeth[of.tooth];
  const double tolerance = workshop.shop.tolerance.pitch_cents;
  const double cents_per_m = tooth.step_cents / steel::lead_step_m;
  const steel::Lead& lead = tooth.as_cut.leads.front();
  const double smallest_m = workshop.shop.lead.smallest_clip_kg / (lead.mass_kg / lead.length_m);
  Outcome outcome;
  outcome.cut_sharp = bench.true_cents() > tolerance;
  for (int i = 0; i < most_cuts; ++i) {
    const Reading reading = bench.hear();
    ++outcome.readings;
    const double offset = music::cents(reading.frequency_hz / tooth.target_hz);
    if (offset >= -tolerance) {
      outcome.ended = std::abs(offset) <= tolerance;
      break;
    }
    bench.take(Work::clip, std::max(smallest_m, worth(-offset) / cents_per_m));
    ++outcome.clips;
    if (bench.true_cents() > tolerance) outcome.overshot = true;
  }
  outcome.end_cents = bench.true_cents();
  return outcome;
}

}  // namespace

Workshop workshop(const std::string& box_path) {
  return designed(box::read_box(as_text(read_file(box_path)), box_path).box);
}

Workshop bramble() {
  const std::string path = COMBWRIGHT_SOURCE_DIR "/examples/bramble.toml";
  box::Box box = box::read_box(as_text(read_file(path)), path).box;
  box.combs.front().lines = {0.0, 0.028815, 0.026073, 0.024189, 0.45, 0.925};
  return designed(std::move(box));
}

Spreads times(Spreads spreads, double factor) {
  for (double* spread : {&spreads.modulus, &spreads.root_yield, &spreads.thickness, &spreads.weight,
                         &spreads.clip, &spreads.clip_bias, &spreads.file})
    *spread *= factor;
  return spreads;
}

void tell(Workshop& workshop, const Spreads& spreads) {
  workshop.box.steel.modulus_spread = spreads.modulus;
  for (box::Comb& comb : workshop.box.combs) comb.root_yield_spread = spreads.root_yield;
  workshop.box.lead.density_spread = spreads.weight;
  workshop.shop.lead.section_spread = 0.0;
  workshop.shop.hand.clip_scatter = spreads.clip;
  workshop.shop.hand.file_scatter = spreads.file;
}

Bench::Bench(const Workshop& workshop, std::size_t comb, std::size_t tooth, const Spreads& spreads,
             std::uint64_t seed)
    : spreads_(spreads), tooth_(workshop.designs[comb].teeth[tooth]), random_(seed) {
  steel::Tooth& steel = tooth_.as_cut;
  steel.steel.modulus_pa *= 1.0 + spreads.modulus * normal();
  const double thicker = 1.0 + spreads.thickness * normal();
  for (steel::Section& section : steel.sections) {
    section.root_thickness_m *= thicker;
    section.tip_thickness_m *= thicker;
  }
  const steel::Section& root = steel.sections.front();
  steel.root = steel::yielding_root(
      steel.steel.modulus_pa, root.root_width_m, root.root_thickness_m,
      std::max(0.0, workshop.box.combs[comb].root_yield + spreads.root_yield * normal()));
  for (steel::Lead& lead : steel.leads) lead.mass_kg *= 1.0 + spreads.weight * normal();
  bias_ = spreads.clip_bias * normal();
}

double Bench::true_cents() const {
  return pitch_cents(tooth_, off_);
}

Reading Bench::hear() {
  const double hz = steel::first_mode_hz(worked(tooth_, off_)) *
                    std::exp2(spreads_.noise_cents * normal() / 1200.0);
  const Reading reading{.frequency_hz = hz,
                        .stderr_hz = hz * (std::exp2(spreads_.noise_cents / 1200.0) - 1.0),
                        .since = told_};
  told_ = {};
  return reading;
}

void Bench::take(Work work, double told_m) {
  const double share =
      work == Work::clip ? 1.0 + bias_ + spreads_.clip * normal() : 1.0 + spreads_.file * normal();
  part(off_, work) += told_m * std::max(0.1, share);
  part(told_, work) += told_m;
}

Outcome by_advice(const Workshop& workshop, const ToothOf& of, Bench bench,
                  const Request& request) {
  constexpr int most_plucks = 10;  // of a tooth that is near the edge
  const double tolerance = workshop.shop.tolerance.pitch_cents;
  Outcome outcome;
  outcome.cut_sharp = bench.true_cents() > tolerance;
  std::vector<Reading> readings;
  int again = 0;
  while (outcome.cuts() < most_cuts) {
    readings.push_back(bench.hear());
    ++outcome.readings;
    const Tuning tuning = tune(of, readings, request);
    const Advice& advice = tuning.advice;
    if (!advice.work) {
      const bool near_edge =
          std::any_of(tuning.findings.begin(), tuning.findings.end(),
                      [](const Finding& finding) { return finding.remedy.starts_with("pluck"); });
      if (near_edge && ++again < most_plucks) continue;
      outcome.ended = !has_fault(tuning.findings);
      break;
    }
    bench.take(*advice.work, advice.amount_m);
    ++(*advice.work == Work::clip ? outcome.clips : outcome.files);
    if (*advice.work != Work::file_root && bench.true_cents() > tolerance) outcome.overshot = true;
  }
  outcome.end_cents = bench.true_cents();
  return outcome;
}

Outcome by_fixed_steps(const Workshop& workshop, const ToothOf& of, Bench bench) {
  return by_worth(workshop, of, bench, [](double) { return 3.0; });
}

Outcome by_halving(const Workshop& workshop, const ToothOf& of, Bench bench) {
  return by_worth(workshop, of, bench, [](double flat) { return 0.5 * flat; });
}

}  // namespace combwright::tuner::simulation
