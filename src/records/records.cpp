// SPDX-License-Identifier: Apache-2.0
#include "records/records.h"

#include <map>
#include <utility>

namespace combwright::records {

std::vector<FiledReading> counting(const std::vector<FiledReading>& readings) {
  std::vector<FiledReading> counted;
  std::map<std::pair<std::int64_t, int>, std::vector<Work>> left;  // by comb and track
  for (const FiledReading& filed : readings) {
    std::vector<Work>& before = left[{filed.comb_number, filed.tooth.track}];
    if (!filed.work_struck) before.insert(before.end(), filed.work.begin(), filed.work.end());
    if (!filed.struck.empty()) continue;
    counted.push_back(filed);
    counted.back().work = std::exchange(before, {});
  }
  return counted;
}

double taken_m(const std::vector<Work>& work, WorkKind kind) {
  double length_m = 0.0;
  for (const Work& one : work)
    if (one.kind == kind) length_m += one.length_m;
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
