// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace combwright::app {

// What lies at a path that is to be written, links followed; `not_found` if nothing does. Throws
// Error naming the `shown` path, with the system's reason and the remedy, if that can't be told.
std::filesystem::file_type path_type(const std::filesystem::path& path, const std::string& shown,
                                     std::string_view remedy);

}  // namespace combwright::app
