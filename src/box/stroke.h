// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace combwright::box {

// What stands against a shop's own line of RS-274 as part of a stroke, between the moves of a punch
// program; empty if nothing. The line may hold comments, and words with plain numbers: the codes of
// NISTIR 6556 (tables 3 and 5; M words as the machine has them) that neither move slide or table,
// nor change what the program's own words mean, nor end it.
std::string stroke_line_problem(std::string_view line);

// What stands against the lines as a whole: they leave the tool in the sheet, or touching it, as
// far as their Z words tell; empty if nothing. Requires lines without a problem of their own.
std::string stroke_end_problem(const std::vector<std::string>& lines);

}  // namespace combwright::box
