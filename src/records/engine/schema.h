// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "records/engine/connection.h"

namespace combwright::records {

// "CwRe" in the file's header: what tells our records from other SQLite files.
inline constexpr std::int32_t application_id = 0x43775265;

// Step i brings records of version i to version i + 1; step 0 makes empty ones. A step that has
// been in use never changes.
std::span<const char* const> migrations();

// Takes the steps that are missing, all in one transaction, also if another program does the same.
void bring_up_to_date(Connection& connection, std::span<const char* const> steps);

std::int64_t version_of(Connection& connection);

// Throws Error (request) if anything is broken: pages, indexes, kinds of values, rules, links
// between tables.
void check_sound(Connection& connection);

// Throws Error (request) if there is any table, index or other thing that the present version does
// not have, or one is missing.
void check_schema(Connection& connection);

}  // namespace combwright::records
