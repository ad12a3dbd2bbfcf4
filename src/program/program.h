// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace combwright::program {

// The whole program: parses the command line, runs one command, returns the exit status: 0 done,
// 1 done but a fault stands, 2 the request or a file is wrong, 3 this machine would not let us.
// For 2 and 3 one line says why on standard error.
int run(int argc, char** argv);

}  // namespace combwright::program
