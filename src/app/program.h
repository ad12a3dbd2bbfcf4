// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace combwright::app {

// The whole program: parses the command line, runs one command, returns the exit status.
int run(int argc, char** argv);

}  // namespace combwright::app
