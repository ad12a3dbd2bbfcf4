// SPDX-License-Identifier: Apache-2.0
#include "records/listing.h"

#include <algorithm>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "records/engine/connection.h"

namespace combwright::records {
namespace {

WorkKind work_kind(const std::string& text) {
  if (text == "file_root") return WorkKind::file_root;
  return text == "file_tip" ? WorkKind::file_tip : WorkKind::clip;
}

// What an empty or missing filter lets through is decided by each column's own empty value.
constexpr const char* reading_columns =
    "SELECT r.id, b.name, c.name, c.id, r.box_sha256, t.track, t.midi, t.target_hz,"
    " r.frequency_hz, r.stderr_hz, r.decay_s, r.temperature_c, r.onset_s, r.who, r.at, r.remark,"
    " r.struck, r.recording, s.file, s.sha256, s.rate_hz, s.channels, s.settings,"
    " c.in_tune_c, r.work_struck";

constexpr const char* readings_asked_for =
    " FROM readings r JOIN teeth t ON t.id = r.tooth JOIN combs c ON c.id = t.comb"
    " JOIN boxes b ON b.id = c.box LEFT JOIN recordings s ON s.id = r.recording"
    " WHERE (?1 = '' OR b.name = ?1) AND (?2 = '' OR c.name = ?2) AND (?3 = 0 OR t.track = ?3)"
    " AND (?4 = '' OR r.at >= ?4) AND (?5 = '' OR r.who = ?5)"
    " AND (?6 = 0 OR c.id = ?6)";

constexpr const char* combs_asked_for =
    " FROM combs c JOIN boxes b ON b.id = c.box"
    " WHERE (?1 = '' OR b.name = ?1) AND (?2 = '' OR c.name = ?2)"
    " AND (?3 = 0 OR c.scrapped_at IS NULL) AND (?4 = 0 OR c.id = ?4)";

constexpr const char* tests_asked_for =
    " FROM tests t JOIN boxes b ON b.id = t.box WHERE (?1 = '' OR b.name = ?1)"
    " AND (?2 = '' OR t.at >= ?2) AND (?3 = '' OR t.who = ?3)";

// The last rows of those before a number; all for neither.
struct End {
  std::int64_t before = 0;
  std::int64_t most = 0;
};

// As values of the SQL: what is below the one, at most so many rows.
std::int64_t below(const End& end) {
  return end.before > 0 ? end.before : std::numeric_limits<std::int64_t>::max();
}
std::int64_t rows_at_most(const End& end) {
  return end.most > 0 ? end.most : -1;  // SQLite: without a bound
}

FiledReading reading_of(const Statement& row) {
  FiledReading filed;
  filed.number = row.whole(0);
  filed.box = row.text(1);
  filed.comb = row.text(2);
  filed.comb_number = row.whole(3);
  filed.box_sha256 = row.text(4);
  filed.tooth = {static_cast<int>(row.whole(5)), static_cast<int>(row.whole(6)), row.real(7)};
  Reading& reading = filed.reading;
  reading.frequency_hz = row.real(8);
  reading.stderr_hz = row.real(9);
  reading.decay_s = row.maybe_real(10);
  reading.temperature_c = row.maybe_real(11);
  reading.onset_s = row.maybe_real(12);
  reading.who = row.text(13);
  reading.at = row.text(14);
  reading.remark = row.text(15);
  filed.struck = row.text(16);
  filed.in_tune_c = row.real(23);
  filed.work_struck = row.whole(24) != 0;
  if (!row.is_null(17))
    reading.recording = Recording{row.text(18), row.text(19), row.real(20),
                                  static_cast<int>(row.whole(21)), row.text(22)};
  return filed;
}

std::vector<FiledReading> readings_of(Connection& connection, const Filter& filter,
                                      const End& end = {}) {
  std::vector<FiledReading> readings;
  Statement rows(connection, fmt::format("{}{} AND r.id < ?7 ORDER BY r.id DESC LIMIT ?8",
                                         reading_columns, readings_asked_for));
  rows.with(filter.box, filter.comb, filter.track.value_or(0), filter.since, filter.who,
            filter.comb_number, below(end), rows_at_most(end));
  while (rows.step()) readings.push_back(reading_of(rows));
  std::reverse(readings.begin(), readings.end());
  Statement work(connection, "SELECT kind, length_m FROM work WHERE reading = ?1 ORDER BY place");
  Statement partials(
      connection,
      "SELECT frequency_hz, decay_s, level_db FROM partials WHERE reading = ?1 ORDER BY place");
  for (FiledReading& filed : readings) {
    work.with(filed.number);
    while (work.step()) filed.work.push_back({work_kind(work.text(0)), work.real(1)});
    partials.with(filed.number);
    while (partials.step())
      filed.reading.partials.push_back(
          {partials.real(0), partials.maybe_real(1), partials.maybe_real(2)});
  }
  return readings;
}

std::int64_t readings_in_all(Connection& connection, const Filter& filter) {
  Statement rows(connection, fmt::format("SELECT count(*){}", readings_asked_for));
  rows.with(filter.box, filter.comb, filter.track.value_or(0), filter.since, filter.who,
            filter.comb_number);
  rows.step();
  return rows.whole(0);
}

enum class Of { all, in_use };

std::vector<FiledComb> combs_of(Connection& connection, const Filter& filter, Of which,
                                const End& end = {}) {
  std::vector<FiledComb> combs;
  Statement rows(
      connection,
      fmt::format("SELECT c.id, b.name, c.name, c.box_sha256, c.scrapped_at, c.scrapped_why,"
                  " c.in_tune_c, (SELECT count(*) FROM teeth t WHERE t.comb = c.id AND EXISTS"
                  " (SELECT 1 FROM readings r WHERE r.tooth = t.id AND r.struck = ''))"
                  "{} AND c.id < ?5 ORDER BY c.id DESC LIMIT ?6",
                  combs_asked_for));
  rows.with(filter.box, filter.comb, which == Of::in_use ? 1 : 0, filter.comb_number, below(end),
            rows_at_most(end));
  while (rows.step()) {
    FiledComb comb;
    comb.number = rows.whole(0);
    comb.plan = {rows.text(1), rows.text(3), rows.text(2), rows.real(6), {}};
    comb.scrapped_at = rows.text(4);
    comb.scrapped_why = rows.text(5);
    comb.teeth_read = static_cast<int>(rows.whole(7));
    combs.push_back(std::move(comb));
  }
  std::reverse(combs.begin(), combs.end());
  Statement teeth(connection,
                  "SELECT track, midi, target_hz FROM teeth WHERE comb = ?1 ORDER BY track");
  for (FiledComb& comb : combs) {
    teeth.with(comb.number);
    while (teeth.step())
      comb.plan.teeth.push_back(
          {static_cast<int>(teeth.whole(0)), static_cast<int>(teeth.whole(1)), teeth.real(2)});
  }
  return combs;
}

std::int64_t combs_in_all(Connection& connection, const Filter& filter) {
  Statement rows(connection, fmt::format("SELECT count(*){}", combs_asked_for));
  rows.with(filter.box, filter.comb, 0, filter.comb_number);
  rows.step();
  return rows.whole(0);
}

// A test is of a box as a whole.
bool asks_for_no_tests(const Filter& filter) {
  return !filter.comb.empty() || filter.track || filter.comb_number != 0;
}

std::vector<FiledTest> tests_of(Connection& connection, const Filter& filter, const End& end = {}) {
  std::vector<FiledTest> tests;
  if (asks_for_no_tests(filter)) return tests;
  Statement rows(connection, fmt::format("SELECT t.id, b.name, t.who, t.at, t.remark{}"
                                         " AND t.id < ?4 ORDER BY t.id DESC LIMIT ?5",
                                         tests_asked_for));
  rows.with(filter.box, filter.since, filter.who, below(end), rows_at_most(end));
  while (rows.step())
    tests.push_back({rows.whole(0), {rows.text(1), rows.text(2), rows.text(3), rows.text(4)}});
  std::reverse(tests.begin(), tests.end());
  return tests;
}

std::int64_t tests_in_all(Connection& connection, const Filter& filter) {
  if (asks_for_no_tests(filter)) return 0;
  Statement rows(connection, fmt::format("SELECT count(*){}", tests_asked_for));
  rows.with(filter.box, filter.since, filter.who);
  rows.step();
  return rows.whole(0);
}

std::vector<std::string> people_of(Connection& connection, std::int64_t most) {
  std::vector<std::string> people;
  Statement rows(connection,
                 "SELECT who FROM readings WHERE who <> '' UNION SELECT who FROM tests"
                 " WHERE who <> '' ORDER BY 1 LIMIT ?1");
  rows.with(most);
  while (rows.step()) people.push_back(rows.text(0));
  return people;
}

std::optional<FiledComb> first_with_readings(Connection& connection, std::vector<FiledComb> combs) {
  if (combs.empty()) return std::nullopt;
  Filter its;
  its.comb_number = combs.front().number;
  combs.front().readings = counting(readings_of(connection, its));
  return std::move(combs.front());
}

}  // namespace

std::vector<FiledReading> list_readings(const Database& database, const Filter& filter) {
  const Snapshot moment(database.connection());
  return readings_of(database.connection(), filter);
}

std::vector<FiledTest> list_tests(const Database& database, const Filter& filter) {
  return tests_of(database.connection(), filter);
}

std::vector<FiledComb> list_combs(const Database& database, const Filter& filter) {
  const Snapshot moment(database.connection());
  return combs_of(database.connection(), filter, Of::all);
}

Listing list_part(const Database& database, const Filter& filter, const Part& part) {
  Connection& connection = database.connection();
  const Snapshot moment(connection);
  return {.combs = combs_of(connection, filter, Of::all, {part.combs_before, part.most}),
          .readings = readings_of(connection, filter, {part.readings_before, part.most}),
          .tests = tests_of(connection, filter, {part.tests_before, part.most}),
          .combs_in_all = combs_in_all(connection, filter),
          .readings_in_all = readings_in_all(connection, filter),
          .tests_in_all = tests_in_all(connection, filter),
          .people = people_of(connection, part.most)};
}

std::int64_t count_readings(const Database& database, const Filter& filter) {
  const Snapshot moment(database.connection());
  return readings_in_all(database.connection(), filter);
}

std::vector<FiledReading> tooth_history(const Database& database, const std::string& box,
                                        const std::string& comb, int track) {
  const std::optional<FiledComb> found = find_comb(database, box, comb);
  if (!found) return {};
  std::vector<FiledReading> readings = found->readings;
  std::erase_if(readings, [&](const FiledReading& filed) { return filed.tooth.track != track; });
  return readings;
}

std::optional<FiledComb> find_comb(const Database& database, const std::string& box,
                                   const std::string& comb) {
  if (box.empty() || comb.empty()) return std::nullopt;
  Connection& connection = database.connection();
  const Snapshot moment(connection);
  Filter filter;
  filter.box = box;
  filter.comb = comb;
  return first_with_readings(connection, combs_of(connection, filter, Of::in_use));
}

std::optional<FiledComb> find_comb(const Database& database, std::int64_t number) {
  if (number < 1) return std::nullopt;
  Connection& connection = database.connection();
  const Snapshot moment(connection);
  Filter filter;
  filter.comb_number = number;
  return first_with_readings(connection, combs_of(connection, filter, Of::all));
}

}  // namespace combwright::records
