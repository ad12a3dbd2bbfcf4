// SPDX-License-Identifier: Apache-2.0
// Any bytes are a plan that is written and read back to the same bytes and can be checked, or an
// Error with one line of text.
#include "disc/plan.h"

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/error.h"
#include "disc/checks.h"

namespace {

using namespace combwright;

void require(bool condition) {
  if (!condition) std::abort();
}

void check_plan(const disc::Plan& plan) {
  require(plan.disc.projections.size() <= disc::max_plan_projections);
  require(plan.box.scale.midi.size() == static_cast<std::size_t>(plan.box.tracks.count));
  for (const disc::Projection& projection : plan.disc.projections) {
    require(projection.track >= 1 && projection.track <= plan.box.tracks.count);
    require(std::isfinite(projection.angle_rad) && std::isfinite(projection.time_s));
  }
  const std::string written = disc::write_plan(plan);
  require(disc::write_plan(disc::read_plan(written, "written")) == written);
  for (const Finding& finding : disc::check_disc(plan.box, plan.disc))
    require(!finding.what.empty() && !finding.remedy.empty());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  disc::Plan plan;
  try {
    plan = disc::read_plan({reinterpret_cast<const char*>(data), size}, "plan.json");
  } catch (const Error& error) {
    const std::string_view text = error.what();
    require(text.starts_with("plan.json") && text.find('\n') == std::string_view::npos);
    return 0;
  }
  check_plan(plan);
  return 0;
}
