// SPDX-License-Identifier: Apache-2.0
// Any bytes are readings of a tooth, of which there is then an advice that keeps its promises, or
// an Error with one line of text.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <vector>

#include "base/error.h"
#include "box/box.h"
#include "steel/comb.h"
#include "steel/modes.h"
#include "tuner/reading_reader.h"
#include "tuner/tune.h"

namespace {

using namespace combwright;

void require(bool condition) {
  if (!condition) std::abort();
}

struct Workshop {
  box::Box box;
  box::Shop shop;
  std::vector<steel::CombDesign> designs;
};

// One comb of one tooth near C4, 50 cents flat.
Workshop workshop() {
  Workshop made;
  made.box.combs = {{.name = "front",
                     .thinnest_m = 2e-4,
                     .root_yield = 0.44,
                     .root_yield_spread = 0.1,
                     .safety_factor = 1.5}};
  made.box.steel = {.modulus_pa = 205e9,
                    .modulus_spread = 0.015,
                    .density_kg_m3 = 7850.0,
                    .poisson_ratio = 0.29,
                    .strength_pa = 1340e6};
  made.box.lead.density_kg_m3 = 11340.0;
  made.box.lead.density_spread = 0.02;
  made.box.learnt.scatter_cents = 5.0;
  steel::CombTooth tooth{.track = 1, .midi = 60};
  tooth.as_cut = steel::plain_tooth(0.045, 0.0016, 0.001, 0.0008);
  tooth.as_cut.root = steel::yielding_root(205e9, 0.0016, 0.001, 0.44);
  tooth.as_cut.leads = {steel::lead_block(tooth.as_cut, 3e-4, 0.036, 0.016)};
  tooth.target_hz = steel::first_mode_hz(tooth.as_cut) * std::exp2(50.0 / 1200.0);
  tooth.in_tune = tooth.as_cut;
  tooth.flat_cents = 50.0;
  tooth.lift_m = 8e-4;
  made.designs = {{.name = "front", .teeth = {tooth}}};
  return made;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Workshop made = workshop();
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  std::vector<tuner::Reading> readings;
  try {
    readings = tuner::read_readings(text, "r.json");
    require(!readings.empty() && readings.size() <= tuner::most_readings);
  } catch (const Error& error) {
    const std::string_view told = error.what();
    require(told.starts_with("r.json") && told.find('\n') == std::string_view::npos);
    return 0;
  }
  try {
    const tuner::Tuning tuning = tuner::tune({made.box, made.shop, made.designs, 0, 0}, readings);
    const tuner::Advice& advice = tuning.advice;
    require(std::isfinite(tuning.known_cents.value) && std::isfinite(advice.expect_cents));
    require(advice.overshoot_probability >= 0.0 && advice.overshoot_probability <= 1.0);
    if (!advice.work) return 0;
    require(advice.amount_m > 0.0 && std::isfinite(advice.amount_m));
    if (*advice.work != tuner::Work::file_root) require(advice.overshoot_probability < 0.0051);
  } catch (const Error& error) {
    require(std::string_view(error.what()).find("over an octave") != std::string_view::npos);
  }
  return 0;
}
