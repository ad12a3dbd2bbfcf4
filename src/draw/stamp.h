// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace combwright::draw {

// What ties a sheet of paper or a program to the plan it was made from.
struct PackStamp {
  std::string date;           // of the plan, ISO 8601: "2024-05-17"
  std::string plan_checksum;  // SHA-256 of the plan in hexadecimal
};

// The first 12 letters of the checksum, enough to compare by eye.
std::string short_checksum(const PackStamp& stamp);

}  // namespace combwright::draw
