// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "base/file_calls.h"

namespace combwright::app {

// A hidden folder that takes files before they are all there, and vanishes with what is left in it.
class Stage {
 public:
  // Makes it in `parent`; errors name the `shown` path. Throws Error if this machine can't.
  Stage(const std::filesystem::path& parent, const std::string& shown);
  Stage(const Stage&) = delete;
  Stage& operator=(const Stage&) = delete;
  ~Stage();

  // A folder in it, made with those above it. Throws Error if this machine can't.
  std::filesystem::path folder(const std::filesystem::path& relative) const;

  // Leaves it where it is.
  void keep() { kept_ = true; }

  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
  std::string shown_;
  bool kept_ = false;
};

// Renamings that can be undone.
class Moves {
 public:
  explicit Moves(const FileCalls& calls) : calls_(calls) {}

  // Throws Error with the system's reason, naming the `shown` path.
  void move(const std::filesystem::path& from, const std::filesystem::path& to,
            const std::string& shown);

  // The last first; false if the machine refuses one of them.
  bool undo();

 private:
  const FileCalls& calls_;
  std::vector<std::pair<std::filesystem::path, std::filesystem::path>> done_;
};

}  // namespace combwright::app
