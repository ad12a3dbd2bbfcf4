// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>

#include "records/records.h"

namespace combwright::records {

class Connection;

enum class Access {
  look,    // must be there; nothing is written to it
  change,  // must be there
  begin,   // is made if it is missing
};

// The workshop's records: one SQLite file. Several programs may have it open at once; each waits up
// to 10 s for the other's change. What a function of filing.h has given back is on the disk.
class Database {
 public:
  // Opens the records, checks the whole of them, and brings those of an older version up to date.
  // A file that cannot be written, in a folder that cannot, may still be looked at. Throws Error
  // with the path: no such file (unless `begin`), not records of this program, of a newer one, or
  // damaged (request; such a file is left as it is); this machine would not let us (machine).
  Database(const std::string& path, Access access);
  Database(Database&&) noexcept;
  Database& operator=(Database&&) noexcept;
  ~Database();

  const std::string& path() const;
  Connection& connection() const;

 private:
  std::unique_ptr<Connection> connection_;
};

// The version of the records that this program keeps.
int current_version();

Counts counts(const Database& database);

// Copies the records as they stand at one moment, while others may go on filing, into a file that
// is complete by itself, checked and flushed; gives what the copy holds. Throws Error if the copy's
// path is there already, unless `replace`, or is in use as a database, or the machine refuses; then
// no part is left.
Counts back_up(const Database& database, const std::string& copy, bool replace);

}  // namespace combwright::records
