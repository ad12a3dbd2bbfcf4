// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "app/commands.h"

namespace combwright::program {

// The command that the line asks for, ready to run; --help and --version are commands too. Throws
// Error in one line, with a suggestion where a word is mistyped.
app::Run parse_command_line(int argc, const char* const* argv);

}  // namespace combwright::program
