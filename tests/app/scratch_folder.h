// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include <gtest/gtest.h>

namespace combwright::app::testing {

// A test with a folder of its own, which goes when the test ends.
class ScratchFolder : public ::testing::Test {
 protected:
  ScratchFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "combwright.XXXXXX").string();
    root_ = ::mkdtemp(name.data());
  }
  ~ScratchFolder() override { std::filesystem::remove_all(root_); }

  std::string path(const std::string& name) const { return (root_ / name).string(); }

  std::string contents(const std::string& name) const {
    std::ostringstream text;
    text << std::ifstream(root_ / name, std::ios::binary).rdbuf();
    return text.str();
  }

  void put(const std::string& name, const std::string& text) const {
    std::ofstream(root_ / name, std::ios::binary) << text;
  }

  std::filesystem::path root_;
};

}  // namespace combwright::app::testing
