// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/disc_job.h"
#include "app/json.h"
#include "app/output.h"

namespace combwright::app {

// The files for cutting a disc. The job is looked at when a file is made: it must outlive the list,
// and may be filled in after it.
std::vector<OutputFile> disc_files(const DiscJob& job);

// Those and everything else that the workshop needs, the slowest to make first.
std::vector<OutputFile> pack_files(const TuneJob& job);

// Name and purpose of each, with the list of sums that is written beside them, for the plan.
std::vector<disc::PlanFile> list_of(const std::vector<OutputFile>& files);

// The same as `files` of an answer, with the way to the folder.
Json files_json(const std::vector<OutputFile>& files, const std::string& folder);

// The same as a table.
std::string files_text(const std::vector<OutputFile>& files, const std::string& folder);

// What can hurt someone at the punch and in the workshop, one sentence or two each; with the combs
// what they ask for too.
std::vector<std::string> cautions(const DiscJob& job);
std::vector<std::string> cautions(const TuneJob& job);

// Cautions under their heading.
std::string cautions_text(const std::vector<std::string>& cautions);

}  // namespace combwright::app
