// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>

namespace combwright::records {

// The first bytes of a regular file, fewer if it has not as many; nothing of it or beside it is
// touched. Read through SQLite's own files: closing one of ours would let go every lock that this
// process holds on the same file (sqlite.org, "How To Corrupt An SQLite Database File", 2.2).
// Throws Error with the path if it is missing, no regular file, or cannot be read.
std::string head_of(const std::string& path, std::size_t bytes);

}  // namespace combwright::records
