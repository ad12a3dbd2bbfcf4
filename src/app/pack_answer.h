// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/disc_job.h"
#include "app/json.h"
#include "app/output.h"

namespace combwright::app {

// The answer of `pack`.
Json pack_json(const TuneJob& job, const std::vector<OutputFile>& files, const std::string& folder);

}  // namespace combwright::app
