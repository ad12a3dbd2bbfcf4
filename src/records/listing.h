// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
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

// The combs of the filter's box, name and number, without their readings, in the order of filing.
std::vector<FiledComb> list_combs(const Database& database, const Filter& filter);

// How much of a list is wanted: the last `most` of those filed before the number, 0 for the end.
struct Part {
  std::int64_t most = 0;  // from 1
  std::int64_t combs_before = 0;
  std::int64_t readings_before = 0;
  std::int64_t tests_before = 0;
};

// A part of what the three lists give, each in the order of filing, and how much there is in all.
struct Listing {
  std::vector<FiledComb> combs;
  std::vector<FiledReading> readings;
  std::vector<FiledTest> tests;
  std::int64_t combs_in_all = 0;
  std::int64_t readings_in_all = 0;
  std::int64_t tests_in_all = 0;
  std::vector<std::string> people;  // who filed any reading or test, by name; at most Part::most
};
Listing list_part(const Database& database, const Filter& filter, const Part& part);

// How many readings the filter asks for.
std::int64_t count_readings(const Database& database, const Filter& filter);

// All readings that count of one tooth of the comb in use, each with what was done before it, in
// the order of filing: what the advice on the next cut is made from. Empty if there are none.
std::vector<FiledReading> tooth_history(const Database& database, const std::string& box,
                                        const std::string& comb, int track);

// The comb in use with its readings; nothing if there is none.
std::optional<FiledComb> find_comb(const Database& database, const std::string& box,
                                   const std::string& comb);

// The comb of that number with its readings, be it scrapped; nothing if there is none.
std::optional<FiledComb> find_comb(const Database& database, std::int64_t number);

}  // namespace combwright::records
