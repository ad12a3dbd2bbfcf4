// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "records/records.h"

namespace combwright::draw {

// Readings of the records as CSV (RFC 4180), one row each, in SI units. `box` is the checksum of
// the box file, `box_name` its name, so that `comb --learn` takes the table of a comb's first
// readings. A text that a spreadsheet would take for a formula gets an apostrophe before it.
std::string write_readings_table(const std::vector<records::FiledReading>& readings);

}  // namespace combwright::draw
