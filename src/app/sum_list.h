// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>

#include "app/output.h"

namespace combwright::app {

// What the list of sums of a folder says.
struct SumList {
  std::string box;
  std::string tune;
  std::map<std::string, std::string> sums;  // by name of the file
};

// The list for these files, whose sums stand in the same order.
std::string write_sum_list(const OutputFolder& folder, const std::vector<OutputFile>& files,
                           const std::vector<std::string>& sums);

// The list of a text; lines that are none of ours, and names with a path, are passed over.
SumList read_sum_list(std::string_view text);

// Whether the list is that of the same box and tune.
bool is_of(const SumList& list, const OutputFolder& folder);

}  // namespace combwright::app
