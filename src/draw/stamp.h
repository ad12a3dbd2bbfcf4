// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace combwright::draw {

// What ties a sheet of paper or a program to the file it was made from.
struct Stamp {
  std::string date;                // ISO 8601: "2024-05-17"
  std::string checksum;            // SHA-256 of that file in hexadecimal
  std::string made_from = "plan";  // what the file is
};

// "plan 0123456789ab": the first 12 letters of the checksum, enough to compare by eye.
std::string source_words(const Stamp& stamp);

}  // namespace combwright::draw
