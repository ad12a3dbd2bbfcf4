// SPDX-License-Identifier: Apache-2.0
#include "app/path_type.h"

#include <system_error>

#include "base/file.h"

namespace combwright::app {

std::filesystem::file_type path_type(const std::filesystem::path& path, const std::string& shown,
                                     std::string_view remedy) {
  using std::filesystem::file_type;
  std::error_code problem;
  const file_type type = std::filesystem::status(path, problem).type();
  if (type == file_type::none || type == file_type::unknown)
    throw file_error(shown, "write", problem, remedy);
  return type;
}

}  // namespace combwright::app
