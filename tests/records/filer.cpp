// SPDX-License-Identifier: Apache-2.0
// filer RECORDS COUNT WHO: files so many readings and writes the number of each, a line each, once
// it is on the disk.
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <string>

#include <fmt/core.h>

#include "records/database.h"
#include "records/filing.h"

using namespace combwright::records;

int main(int count, char** words) {
  if (count != 4) return EXIT_FAILURE;
  try {
    Database database(words[1], Access::begin);
    const PlannedComb comb{.box = "larkspur",
                           .box_sha256 = std::string(64, 'a'),
                           .comb = "front",
                           .in_tune_c = 20.0,
                           .teeth = {{1, 60, 261.63}, {2, 62, 293.66}}};
    Reading reading;
    reading.at = "2024-05-17";
    reading.who = words[3];
    reading.partials = {{1600.0, 0.2, -10.0}};
    for (int i = 0; i < std::stoi(words[2]); ++i) {
      reading.frequency_hz = 200.0 + i;
      const auto number =
          file_reading(database, comb, 1 + i % 2, reading, {{WorkKind::clip, 1e-4}});
      fmt::print("{} {}\n", number, i);
      std::fflush(stdout);
    }
    return EXIT_SUCCESS;
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return EXIT_FAILURE;
  }
}
