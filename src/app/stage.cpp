// SPDX-License-Identifier: Apache-2.0
#include "app/stage.h"

#include <cstdlib>
#include <system_error>

#include "base/file.h"

namespace combwright::app {

namespace fs = std::filesystem;

Stage::Stage(const fs::path& parent, const std::string& shown) : shown_(shown) {
  std::string name = (parent / ".combwright.XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr)
    throw file_error(shown, "write", last_reason(), "name a folder that can be written to");
  path_ = name;
}

Stage::~Stage() {
  std::error_code ignored;
  if (!kept_) fs::remove_all(path_, ignored);
}

fs::path Stage::folder(const fs::path& relative) const {
  std::error_code problem;
  fs::create_directories(path_ / relative, problem);
  if (problem) throw file_error(shown_, "write", problem, "nothing was changed");
  return path_ / relative;
}

void Moves::move(const fs::path& from, const fs::path& to, const std::string& shown) {
  // Noted first: once it is done, nothing may fail before it can be undone.
  done_.emplace_back(from, to);
  try {
    if (calls_.rename(from.c_str(), to.c_str()) != 0)
      throw file_error(shown, "write", last_reason(), "nothing was changed");
  } catch (...) {
    done_.pop_back();
    throw;
  }
}

bool Moves::undo() {
  bool all = true;
  for (; !done_.empty(); done_.pop_back())
    if (calls_.rename(done_.back().second.c_str(), done_.back().first.c_str()) != 0) all = false;
  return all;
}

}  // namespace combwright::app
