// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/keys.h"

namespace combwright::box {

// The keys of one section as a Markdown table: key, what to write, bounds, default, meaning.
std::string markdown_table(const std::vector<KeyInfo>& keys);

// The whole reference: every section as a heading, what it is about and its table.
std::string markdown_reference(const std::vector<SectionInfo>& sections,
                               const std::vector<KeyInfo>& keys);

}  // namespace combwright::box
