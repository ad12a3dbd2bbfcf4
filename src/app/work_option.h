// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "records/records.h"

namespace combwright::app {

// Adds what an option says was clipped or filed; nothing if it is not given or is 0. Throws Error
// that names the option for a length that is not from 1 um to below 100 mm.
void add_work(std::vector<records::Work>& work, const char* option, const std::string& text,
              records::WorkKind kind);

}  // namespace combwright::app
