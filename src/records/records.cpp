// SPDX-License-Identifier: Apache-2.0
#include "records/records.h"

namespace combwright::records {

double clipped_length_m(const std::vector<Work>& work) {
  double length_m = 0.0;
  for (const Work& one : work)
    if (one.kind == WorkKind::clip) length_m += one.length_m;
  return length_m;
}

std::string to_text(WorkKind kind) {
  switch (kind) {
    case WorkKind::clip:
      return "clip";
    case WorkKind::file_root:
      return "file_root";
    case WorkKind::file_tip:
      return "file_tip";
  }
  return {};
}

}  // namespace combwright::records
