// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "records/records.h"

namespace combwright::records {

// The pitch of a reading as it would be at another temperature, by steel::cents_per_k; one whose
// own was not read is taken at 20 C.
double frequency_hz_at(const Reading& reading, double temperature_c);

// How far a reading is from its tooth's target, in cents, at the temperature at which the comb is
// to be in tune.
double offset_cents(const FiledReading& filed);

// One standard deviation of that by all that is known: hearing (steel::good_hearing_cents if that
// is not known), the recorder's clock, the temperature.
double stderr_cents(const FiledReading& filed);

// Of readings in the order of filing: the first of each tooth that counts, unless something was
// done to the tooth before it. What a comb tells of its steel.
std::vector<FiledReading> as_cut(const std::vector<FiledReading>& readings);

// What all readings of one tooth come to.
struct ToothSummary {
  PlannedTooth tooth;
  int readings = 0;
  std::optional<double> as_cut_cents;  // of its first reading, if nothing was done before it
  std::optional<double> final_cents;   // of its last; nothing if there is none
  double final_stderr_cents = 0.0;
  std::optional<double> decay_s;        // of its last reading
  std::optional<double> temperature_c;  // of its last reading
  double clipped_length_m = 0.0;        // in all
  bool filed = false;                   // at its root or its tip
};

// Every tooth of the comb's plan, in the order of that.
std::vector<ToothSummary> summary(const FiledComb& comb);

}  // namespace combwright::records
