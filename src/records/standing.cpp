// SPDX-License-Identifier: Apache-2.0
#include "records/standing.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace combwright::records {

Standing standing(const ToothSummary& tooth, double tolerance_cents) {
  if (!tooth.final_cents) return Standing::not_read;
  if (std::abs(*tooth.final_cents) <= tolerance_cents) return Standing::in_tune;
  return *tooth.final_cents < 0.0 ? Standing::flat : Standing::sharp;
}

std::string to_text(Standing standing) {
  switch (standing) {
    case Standing::not_read:
      return "not_read";
    case Standing::flat:
      return "flat";
    case Standing::in_tune:
      return "in_tune";
    case Standing::sharp:
      break;
  }
  return "sharp";
}

std::optional<int> next_to_tune(const std::vector<ToothSummary>& teeth, int track,
                                double tolerance_cents) {
  const auto at = std::find_if(teeth.begin(), teeth.end(), [track](const ToothSummary& tooth) {
    return tooth.tooth.track == track;
  });
  const auto wanted = [&](const ToothSummary& tooth) {
    return tooth.tooth.track != track && standing(tooth, tolerance_cents) != Standing::in_tune;
  };
  auto next = std::find_if(at, teeth.end(), wanted);
  if (next == teeth.end()) {
    next = std::find_if(teeth.begin(), at, wanted);
    if (next == at) return std::nullopt;
  }
  return next->tooth.track;
}

}  // namespace combwright::records
