// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <sys/types.h>

namespace combwright::program {

// The ways to open an address, the preferred first, each as an argument list: what $BROWSER names
// (a list divided by colons, as common practice has it: words divided by blanks, %s for the
// address), then xdg-open, the desktop's own.
std::vector<std::vector<std::string>> browser_calls(const std::string& named,
                                                    const std::string& address);

// Starts the first of them that is there, without a shell, away from this terminal and its signals.
// Gives its process; nothing if none can be started.
std::optional<pid_t> open_browser(const std::string& address);

}  // namespace combwright::program
