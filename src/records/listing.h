// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "records/database.h"
#include "records/records.h"

// Looking things up in the records; each answer is of one moment.
namespace combwright::records {

// The readings that the filter asks for, those struck too, in the order of filing.
std::vector<FiledReading> list_readings(const Database& database, const Filter& filter);

// The tests likewise; a comb or track asked for leaves none.
std::vector<FiledTest> list_tests(const Database& database, const Filter& filter);

// The combs of the filter's box and name, without their readings, in the order of filing.
std::vector<FiledComb> list_combs(const Database& database, const Filter& filter);

// All readings that count of one tooth of the comb in use, each with what was done before it, in
// the order of filing: what the advice on the next cut is made from. Empty if there are none.
std::vector<FiledReading> tooth_history(const Database& database, const std::string& box,
                                        const std::string& comb, int track);

// The comb in use with its readings; nothing if there is none.
std::optional<FiledComb> find_comb(const Database& database, const std::string& box,
                                   const std::string& comb);

}  // namespace combwright::records
