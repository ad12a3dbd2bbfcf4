// SPDX-License-Identifier: Apache-2.0
#include "records/offset.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "base/reference.h"
#include "music/pitch.h"
#include "steel/tuning.h"

namespace combwright::records {
namespace {

void add(ToothSummary& tooth, const FiledReading& filed) {
  if (tooth.readings == 0 && filed.work.empty()) tooth.as_cut_cents = offset_cents(filed);
  ++tooth.readings;
  tooth.final_cents = offset_cents(filed);
  tooth.final_stderr_cents = stderr_cents(filed);
  tooth.decay_s = filed.reading.decay_s;
  tooth.temperature_c = filed.reading.temperature_c;
  tooth.clipped_length_m += taken_m(filed.work, WorkKind::clip);
  for (const Work& work : filed.work)
    if (work.kind != WorkKind::clip) tooth.filed = true;
}

}  // namespace

double frequency_hz_at(const Reading& reading, double temperature_c) {
  const double read_at_c = reading.temperature_c.value_or(reference_c);
  const double cents = steel::cents_per_k() * (temperature_c - read_at_c);
  return reading.frequency_hz * std::exp2(cents / 1200.0);
}

double offset_cents(const FiledReading& filed) {
  return music::cents(frequency_hz_at(filed.reading, filed.in_tune_c) / filed.tooth.target_hz);
}

double stderr_cents(const FiledReading& filed) {
  const Reading& reading = filed.reading;
  const double heard = reading.stderr_hz > 0.0
                           ? music::cents(1.0 + reading.stderr_hz / reading.frequency_hz)
                           : good_reading_cents;
  return std::hypot(heard,
                    common_spread_cents(steel::cents_per_k(), reading.temperature_c.has_value()));
}

std::vector<FiledReading> as_cut(const std::vector<FiledReading>& readings) {
  std::vector<FiledReading> first;
  std::set<std::pair<std::int64_t, int>> seen;
  for (const FiledReading& filed : counting(readings)) {
    if (!seen.insert({filed.comb_number, filed.tooth.track}).second) continue;
    if (filed.work.empty()) first.push_back(filed);
  }
  return first;
}

std::vector<ToothSummary> summary(const FiledComb& comb) {
  std::vector<ToothSummary> teeth;
  for (const PlannedTooth& planned : comb.plan.teeth) teeth.push_back({.tooth = planned});
  for (const FiledReading& filed : comb.readings) {
    const auto tooth = std::find_if(teeth.begin(), teeth.end(), [&](const ToothSummary& one) {
      return one.tooth.track == filed.tooth.track;
    });
    if (tooth != teeth.end()) add(*tooth, filed);
  }
  return teeth;
}

}  // namespace combwright::records
