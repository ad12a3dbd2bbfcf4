// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "records/database.h"
#include "records/records.h"

// Putting things into the records. Each is one transaction: done as a whole and flushed to the disk
// when the function returns, or not done at all. Each throws Error (request) if what it is given
// cannot be so (a text too long or no UTF-8, a number that is none, a date of another form), Error
// (machine) if this machine refuses.
namespace combwright::records {

// A reading of a tooth with what was done to it since the reading before. Box, comb and teeth are
// entered if they are new; targets and checksum of a comb in use become those of the plan. Throws
// Error (request) too if the plan has no such track, or a tooth of the comb has another note in the
// records: then it is another comb. Gives the reading's number.
std::int64_t file_reading(Database& database, const PlannedComb& comb, int track,
                          const Reading& reading, const std::vector<Work>& work_before);

// The same for several readings, all or none. A recording is one reading of a tooth, however often
// it is filed: another is not entered, nor is the work told with it.
struct ToothReading {
  int track = 0;
  Reading reading;
  std::vector<Work> work_before;
};
struct Entered {
  std::int64_t number = 0;
  bool known =
      false;  // by a reading that counts, of the same tooth and the same recording: that one
};
std::vector<Entered> file_readings(Database& database, const PlannedComb& comb,
                                   const std::vector<ToothReading>& readings);

// Whether it can be filed at all, before there is a database: throws Error (request) as filing
// does.
void check_reading(const PlannedComb& comb, const ToothReading& one);
void check_test(const Test& test);

// A test of a box, which is entered if it is new. Gives the test's number.
std::int64_t file_test(Database& database, const Test& test);

// The reading counts no longer; it stays in the records with the reason. What was done to the tooth
// before it stays done, and is told with the reading that follows, unless the work is struck too
// (it was another tooth). Throws Error if there is no such reading or it is struck already.
void strike_reading(Database& database, std::int64_t number, const std::string& why, bool work_too);

// What was done before a reading was told wrongly: the reading is struck together with that work
// and filed anew, with this work, in one change. Only the last reading of a tooth of a comb in use
// that counts can be corrected; throws Error for another. Gives the new number.
std::int64_t correct_work(Database& database, std::int64_t number, const std::vector<Work>& work,
                          const std::string& why);

// The comb in use is scrapped; the next reading under its name is of a new one. Throws Error if
// there is no such comb.
void scrap_comb(Database& database, const std::string& box, const std::string& comb,
                const std::string& at, const std::string& why);

// The same of the comb with that number.
void scrap_comb(Database& database, std::int64_t number, const std::string& at,
                const std::string& why);

}  // namespace combwright::records
