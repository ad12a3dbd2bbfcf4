// SPDX-License-Identifier: Apache-2.0
#include "steel/comb_lists.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>

namespace combwright::steel {
namespace {

// In steps of 0.1 um, so that equal leads are found equal.
auto sizes(const LeadCut& cut) {
  const auto steps = [](double length_m) { return std::llround(1e7 * length_m); };
  return std::tuple(steps(cut.height_m), steps(cut.width_m), steps(cut.length_m));
}

}  // namespace

std::vector<SawCut> saw_cuts(const box::Box& box, const box::Comb& comb, const CombDesign& design) {
  const std::vector<box::Track> tracks = box::tracks(box);
  assert(tracks.size() == design.teeth.size() && !tracks.empty());
  const auto length = [&](std::size_t i) { return length_m(design.teeth[i].as_cut); };
  const double inner_edge_m = plate(box, comb, design).inner_radius_m;
  const auto cut = [&](int track, double radius_m, double length_m) {
    return SawCut{track, radius_m, radius_m - inner_edge_m, length_m};
  };
  std::vector<SawCut> cuts{cut(0, tracks[0].radius_m - 0.5 * box.tracks.pitch_m, length(0))};
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    const std::size_t next = std::min(i + 1, tracks.size() - 1);
    cuts.push_back(cut(tracks[i].number, tracks[i].radius_m + 0.5 * box.tracks.pitch_m,
                       0.5 * (length(i) + length(next))));
  }
  return cuts;
}

Plate plate(const box::Box& box, const box::Comb& comb, const CombDesign& design) {
  double longest_m = 0.0;
  for (const CombTooth& tooth : design.teeth)
    longest_m = std::max(longest_m, length_m(tooth.as_cut));
  const double teeth_m = box.tracks.count * box.tracks.pitch_m;
  Plate plate{.inner_radius_m =
                  box.tracks.inner_radius_m - 0.5 * box.tracks.pitch_m - 0.5 * comb.tooth_gap_m,
              .width_m = teeth_m + comb.tooth_gap_m,
              .depth_m = longest_m + comb.bar_depth_m,
              .screws_from_tips_m = longest_m + 0.5 * comb.bar_depth_m};
  for (int i = 0; i < comb.screws; ++i)
    plate.screw_radius_m.push_back(plate.inner_radius_m + plate.width_m * (i + 0.5) / comb.screws);
  return plate;
}

std::vector<LeadCut> lead_cuts(const std::vector<CombDesign>& designs) {
  std::vector<LeadCut> cuts;
  for (std::size_t comb = 0; comb < designs.size(); ++comb) {
    for (const CombTooth& tooth : designs[comb].teeth) {
      for (const Lead& lead : tooth.as_cut.leads) {
        cuts.push_back({lead.height_m,
                        lead.width_m,
                        lead.length_m,
                        lead.mass_kg,
                        {ToothPlace{comb, tooth.track}}});
      }
    }
  }
  std::stable_sort(cuts.begin(), cuts.end(),
                   [](const LeadCut& a, const LeadCut& b) { return sizes(a) < sizes(b); });
  std::vector<LeadCut> merged;
  for (const LeadCut& cut : cuts) {
    if (!merged.empty() && sizes(merged.back()) == sizes(cut))
      merged.back().teeth.push_back(cut.teeth.front());
    else
      merged.push_back(cut);
  }
  return merged;
}

}  // namespace combwright::steel
