// SPDX-License-Identifier: Apache-2.0
#include "tuner/worked.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "music/pitch.h"
#include "steel/modes.h"
#include "steel/tuning.h"

namespace combwright::tuner {
namespace {

// Weight and steel, for differences.
double all_kg(const steel::Tooth& tooth) {
  return std::accumulate(tooth.leads.begin(), tooth.leads.end(), steel::steel_mass_kg(tooth),
                         [](double sum, const steel::Lead& lead) { return sum + lead.mass_kg; });
}

}  // namespace

Stretch stretch(const steel::CombTooth& tooth, Work work) {
  const double length = steel::length_m(tooth.as_cut);
  switch (work) {
    case Work::clip: {
      const steel::Lead& lead = tooth.as_cut.leads.front();
      return {lead.center_m - 0.5 * lead.length_m, lead.center_m + 0.5 * lead.length_m};
    }
    case Work::file_tip:
      return {tooth.leaded() ? (1.0 - filed_share) * length : 0.0, length};
    case Work::file_root:
      break;
  }
  return {0.0, filed_share * length};
}

Stretch next_cut(const steel::CombTooth& tooth, const TakenOff& off, Work work, double amount_m) {
  Stretch place = stretch(tooth, work);
  if (work != Work::clip) return place;
  place.to_m = std::max(place.from_m, place.to_m - off.clip_m);
  place.from_m = std::max(place.from_m, place.to_m - amount_m);
  return place;
}

double& part(TakenOff& off, Work work) {
  switch (work) {
    case Work::clip:
      return off.clip_m;
    case Work::file_tip:
      return off.file_tip_m;
    case Work::file_root:
      break;
  }
  return off.file_root_m;
}

double part(const TakenOff& off, Work work) {
  TakenOff copy = off;
  return part(copy, work);
}

double most(const steel::CombTooth& tooth, Work work) {
  const steel::Section& cut = tooth.as_cut.sections.front();
  switch (work) {
    case Work::clip:
      return tooth.leaded()
                 ? std::max(0.0, tooth.as_cut.leads.front().length_m - steel::lead_step_m)
                 : 0.0;
    case Work::file_tip:
      return 0.5 * cut.tip_thickness_m;
    case Work::file_root:
      break;
  }
  return 0.5 * std::min(cut.root_thickness_m,
                        steel::thickness_m(tooth.as_cut, filed_share * cut.length_m));
}

steel::Tooth worked(const steel::CombTooth& tooth, const TakenOff& off, double log_weight) {
  steel::Tooth result = tooth.as_cut;
  for (steel::Lead& lead : result.leads) lead.mass_kg *= std::exp(log_weight);
  if (tooth.leaded() && off.clip_m != 0.0) {
    const steel::Lead& lead = result.leads.front();
    const double clip = std::min(off.clip_m, most(tooth, Work::clip));
    result = steel::clipped(result, 0, lead.mass_kg * clip / lead.length_m);
  }
  if (off.file_tip_m != 0.0) {
    const double depth = std::min(off.file_tip_m, most(tooth, Work::file_tip));
    if (tooth.leaded()) {
      const Stretch at = stretch(tooth, Work::file_tip);
      result = steel::filed(result, at.from_m, at.to_m, depth);
    } else {
      result.sections.back().tip_thickness_m -= depth;
    }
  }
  if (off.file_root_m != 0.0) {
    const Stretch at = stretch(tooth, Work::file_root);
    result = steel::filed(result, at.from_m, at.to_m,
                          std::min(off.file_root_m, most(tooth, Work::file_root)));
  }
  return result;
}

double pitch_cents(const steel::CombTooth& tooth, const TakenOff& off, double log_weight) {
  return music::cents(steel::first_mode_hz(worked(tooth, off, log_weight)) / tooth.target_hz);
}

double mass_kg(const steel::CombTooth& tooth, const TakenOff& off, Work work, double amount_m,
               double log_weight) {
  TakenOff after = off;
  part(after, work) += amount_m;
  return all_kg(worked(tooth, off, log_weight)) - all_kg(worked(tooth, after, log_weight));
}

}  // namespace combwright::tuner
