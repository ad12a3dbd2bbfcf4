// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "app/commands.h"

namespace combwright::program {

// Adds `workbench`, as app/commands.h.
void add_workbench(CLI::App& program, app::Run& run);

}  // namespace combwright::program
