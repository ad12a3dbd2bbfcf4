// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "box/box.h"
#include "disc/disc.h"

namespace combwright::disc {

// A file made together with the plan: where it lies from the plan's folder, and what it is for.
struct PlanFile {
  std::string path;
  std::string purpose;
};

// A disc to be cut again without its tune: the disc, and of its box what layout, checks and
// drawings need: name, disc, projection, tracks, star_wheel, scale.midi, damper, hold_down and of
// the motor the turn time and the plucks it takes. The rest of the box is left out.
struct Plan {
  Disc disc;
  box::Box box;
  std::string date;        // as the caller writes it, "2024-05-31"
  std::string box_sha256;  // of the box file (with its scale file) and the tune file, in
                           // lower-case hexadecimal
  std::string tune_sha256;
  Findings arrangement_findings;  // of box, tune and arrangement, which the plan doesn't hold
  std::vector<PlanFile> files;
};

// Limits on what a plan may hold; one beyond is refused.
inline constexpr std::size_t max_plan_bytes = std::size_t{16} << 20;
inline constexpr std::size_t max_plan_projections = 50'000;
inline constexpr int max_plan_tracks = 1'000;
inline constexpr std::size_t max_plan_findings = 2 * most_findings;  // of each list
inline constexpr double max_plan_time_s = 3'600.0;                   // for one turn
inline constexpr double max_plan_length_m = 10.0;                    // of anything

// The plan as JSON, keys as in `disc --json`; every number is the shortest text that reads back as
// the same double. Besides, each track's release arc for those who read times off the angles.
std::string write_plan(const Plan& plan);

// Reads a plan; `name` stands in errors. Unknown keys are passed over. Throws Error with line and
// column where the text is not JSON, and with the key where a value is missing, of the wrong kind
// or out of range, or does not agree with the others: radius and track, angle and time, radius and
// diameter of the disc. Where the contents are not those that the plan's checksum was made of, a
// warning stands among arrangement_findings. Order, tour and disc.findings are as the text has
// them; finish (layout.h) makes them anew.
Plan read_plan(std::string_view json, const std::string& name);

}  // namespace combwright::disc
