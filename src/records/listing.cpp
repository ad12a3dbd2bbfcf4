// SPDX-License-Identifier: Apache-2.0
#include "records/listing.h"

#include <utility>

#include "records/engine/connection.h"

namespace combwright::records {
namespace {

WorkKind work_kind(const std::string& text) {
  if (text == "file_root") return WorkKind::file_root;
  return text == "file_tip" ? WorkKind::file_tip : WorkKind::clip;
}

// What an empty or missing filter lets through is decided by each column's own empty value.
constexpr const char* readings_sql =
    "SELECT r.id, b.name, c.name, c.id, r.box_sha256, t.track, t.midi, t.target_hz,"
    " r.frequency_hz, r.stderr_hz, r.decay_s, r.temperature_c, r.onset_s, r.who, r.at, r.remark,"
    " r.struck, r.recording, s.file, s.sha256, s.rate_hz, s.channels, s.settings,"
    " c.in_tune_c, r.work_struck"
    " FROM readings r JOIN teeth t ON t.id = r.tooth JOIN combs c ON c.id = t.comb"
    " JOIN boxes b ON b.id = c.box LEFT JOIN recordings s ON s.id = r.recording"
    " WHERE (?1 = '' OR b.name = ?1) AND (?2 = '' OR c.name = ?2) AND (?3 = 0 OR t.track = ?3)"
    " AND (?4 = '' OR r.at >= ?4) AND (?5 = '' OR r.who = ?5)"
    " AND (?6 = 0 OR c.id = ?6)"
    " ORDER BY r.id";

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

// `comb_number` 0: of all combs.
std::vector<FiledReading> readings_of(Connection& connection, const Filter& filter,
                                      std::int64_t comb_number) {
  std::vector<FiledReading> readings;
  Statement rows(connection, readings_sql);
  rows.with(filter.box, filter.comb, filter.track.value_or(0), filter.since, filter.who,
            comb_number);
  while (rows.step()) readings.push_back(reading_of(rows));
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

std::vector<FiledComb> combs_of(Connection& connection, const Filter& filter, bool in_use_only) {
  std::vector<FiledComb> combs;
  Statement rows(connection,
                 "SELECT c.id, b.name, c.name, c.box_sha256, c.scrapped_at, c.scrapped_why,"
                 " c.in_tune_c"
                 " FROM combs c JOIN boxes b ON b.id = c.box"
                 " WHERE (?1 = '' OR b.name = ?1) AND (?2 = '' OR c.name = ?2)"
                 " AND (?3 = 0 OR c.scrapped_at IS NULL) ORDER BY c.id");
  rows.with(filter.box, filter.comb, in_use_only ? 1 : 0);
  while (rows.step()) {
    FiledComb comb;
    comb.number = rows.whole(0);
    comb.plan = {rows.text(1), rows.text(3), rows.text(2), rows.real(6), {}};
    comb.scrapped_at = rows.text(4);
    comb.scrapped_why = rows.text(5);
    combs.push_back(std::move(comb));
  }
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

}  // namespace

std::vector<FiledReading> list_readings(const Database& database, const Filter& filter) {
  const Snapshot moment(database.connection());
  return readings_of(database.connection(), filter, 0);
}

std::vector<FiledTest> list_tests(const Database& database, const Filter& filter) {
  std::vector<FiledTest> tests;
  if (!filter.comb.empty() || filter.track) return tests;
  Statement rows(database.connection(),
                 "SELECT t.id, b.name, t.who, t.at, t.remark FROM tests t"
                 " JOIN boxes b ON b.id = t.box WHERE (?1 = '' OR b.name = ?1)"
                 " AND (?2 = '' OR t.at >= ?2) AND (?3 = '' OR t.who = ?3) ORDER BY t.id");
  rows.with(filter.box, filter.since, filter.who);
  while (rows.step())
    tests.push_back({rows.whole(0), {rows.text(1), rows.text(2), rows.text(3), rows.text(4)}});
  return tests;
}

std::vector<FiledComb> list_combs(const Database& database, const Filter& filter) {
  const Snapshot moment(database.connection());
  return combs_of(database.connection(), filter, false);
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
  const Filter filter{.box = box, .comb = comb, .track = std::nullopt, .since = "", .who = ""};
  std::vector<FiledComb> combs = combs_of(connection, filter, true);
  if (combs.empty()) return std::nullopt;
  combs.front().readings = counting(readings_of(connection, filter, combs.front().number));
  return std::move(combs.front());
}

}  // namespace combwright::records
