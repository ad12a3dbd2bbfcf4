// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "base/error.h"
#include "records/database.h"
#include "records/filing.h"
#include "records/records.h"

namespace combwright::records::testing {

// A test with a folder of its own, which goes when the test ends.
class RecordsTest : public ::testing::Test {
 protected:
  RecordsTest() {
    std::string name = (std::filesystem::temp_directory_path() / "combwright.XXXXXX").string();
    root_ = ::mkdtemp(name.data());
  }
  ~RecordsTest() override { std::filesystem::remove_all(root_); }

  std::string path(const std::string& name = "records.db") const { return (root_ / name).string(); }

  std::string contents(const std::string& name = "records.db") const {
    std::ostringstream text;
    text << std::ifstream(root_ / name, std::ios::binary).rdbuf();
    return text.str();
  }

  void put(const std::string& name, const std::string& text) const {
    std::ofstream(root_ / name, std::ios::binary) << text;
  }

  std::filesystem::path root_;
};

inline PlannedComb made_comb(const std::string& box = "larkspur",
                             const std::string& comb = "front") {
  return {.box = box,
          .box_sha256 = std::string(64, 'a'),
          .comb = comb,
          .in_tune_c = 20.0,
          .teeth = {{1, 60, 261.63}, {2, 62, 293.66}, {3, 64, 329.63}}};
}

inline Reading made_reading(double frequency_hz = 258.25) {
  Reading reading;
  reading.frequency_hz = frequency_hz;
  reading.stderr_hz = 0.015625;
  reading.at = "2024-05-17T09:30:00Z";
  return reading;
}

// What an Error says; empty if there was none.
template <typename Call>
std::string refusal(const Call& call) {
  try {
    call();
    return "";
  } catch (const Error& error) {
    return error.message();
  }
}

}  // namespace combwright::records::testing
