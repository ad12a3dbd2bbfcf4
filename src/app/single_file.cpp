// SPDX-License-Identifier: Apache-2.0
#include "app/single_file.h"

#include <filesystem>
#include <fstream>

#include "app/path_type.h"
#include "base/file.h"

namespace combwright::app {
namespace {

namespace fs = std::filesystem;

std::string head_of(const std::string& path) {
  constexpr std::size_t enough = 65536;
  std::string head(enough, '\0');
  std::ifstream file(path, std::ios::binary);
  file.read(head.data(), static_cast<std::streamsize>(enough));
  head.resize(static_cast<std::size_t>(file.gcount()));
  return head;
}

}  // namespace

void check_single(const SingleFile& file) {
  const fs::file_type type = path_type(file.path, file.path, "name another file");
  if (type == fs::file_type::directory)
    throw Error({.file = file.path}, "is a folder; name a file");
  if (type != fs::file_type::regular && type != fs::file_type::not_found)
    throw Error({.file = file.path}, "is a device or a pipe, not a file; name a file");
  for (const std::string& input : file.inputs) {
    std::error_code unknown;  // then they are not the same
    if (!input.empty() && fs::equivalent(file.path, input, unknown))
      throw Error({.file = file.path}, "is what the command reads; name another file");
  }
  if (file.force || type == fs::file_type::not_found) return;
  const std::string head = head_of(file.path);
  const bool our_kind = head.starts_with("MThd") || head.starts_with("RIFF") ||
                        head.starts_with("0\nSECTION") || head.starts_with("# Scale for ") ||
                        head.starts_with("<?xml version=\"1.0\"");
  if (!our_kind || head.find("combwright") == std::string::npos) {
    throw Error({.file = file.path},
                "is there already and is not this program's work; choose another name or give "
                "--force");
  }
  if (head.find(file.title) == std::string::npos) {
    throw Error({.file = file.path},
                "is there already and holds another tune or box; choose another name or give "
                "--force");
  }
}

void write_single(const SingleFile& file, std::string_view contents) {
  check_single(file);
  write_file(file.path, contents);
}

}  // namespace combwright::app
