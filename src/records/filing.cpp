// SPDX-License-Identifier: Apache-2.0
#include "records/filing.h"

#include <algorithm>
#include <optional>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "music/pitch.h"
#include "music/utf8.h"
#include "records/engine/connection.h"
#include "records/moment.h"

namespace combwright::records {
namespace {

void check_text(std::string_view text, const char* name) {
  if (text.size() > longest_text)
    throw Error(
        {}, fmt::format("{} has {} bytes; at most {} are kept", name, text.size(), longest_text));
  if (!music::is_utf8(text) || text.find('\0') != std::string_view::npos)
    throw Error({}, fmt::format("{} is no UTF-8 text; write it as such", name));
}

void check_reason(std::string_view why) {
  check_text(why, "the reason");
  if (why.empty()) throw Error({}, "a reading is struck for a reason; say which");
}

void check_name(std::string_view text, const char* name) {
  check_text(text, name);
  if (text.empty()) throw Error({}, fmt::format("{} has no name; give it one", name));
}

// Above 0 and below an upper end far from anything that a workshop measures.
void check_size(double value, double end, const char* name) {
  if (!(value > 0.0 && value < end))
    throw Error({},
                fmt::format("{} is {:.6g}; it must be above 0 and below {:.6g}", name, value, end));
}

void check_size(const std::optional<double>& value, double end, const char* name) {
  if (value) check_size(*value, end, name);
}

void check_between(const std::optional<double>& value, double low, double high, const char* name) {
  if (value && !(*value >= low && *value <= high))
    throw Error(
        {}, fmt::format("{} is {:.6g}; it must be from {:.6g} to {:.6g}", name, *value, low, high));
}

constexpr double end_hz = 1e5;
constexpr double end_s = 1e5;
constexpr double end_m = 0.5;
constexpr double coldest_c = -100.0;
constexpr double hottest_c = 1000.0;

void check_sum(std::string_view sum, const char* name) {
  if (sum.size() != 64 || sum.find_first_not_of("0123456789abcdef") != std::string_view::npos)
    throw Error({}, fmt::format("the checksum of {} is none of SHA-256 in small letters", name));
}

void check(const PlannedComb& comb) {
  check_name(comb.box, "the box");
  check_name(comb.comb, "the comb");
  check_sum(comb.box_sha256, "the box file");
  check_between(comb.in_tune_c, coldest_c, hottest_c, "the temperature to be in tune at");
  for (const PlannedTooth& tooth : comb.teeth) {
    check_size(tooth.target_hz, end_hz, "the target");
    if (tooth.track < 1 || tooth.track > 10'000 || tooth.midi < 0 || tooth.midi > 127)
      throw Error({}, fmt::format("track {} with note {} cannot be", tooth.track, tooth.midi));
  }
}

void check(const Recording& recording) {
  check_text(recording.file, "the recording's file");
  check_text(recording.settings, "the recording's settings");
  check_sum(recording.sha256, "the recording");
  check_size(recording.rate_hz, 1e8, "the recording's rate");
  if (recording.channels < 1 || recording.channels > 10'000)
    throw Error({}, fmt::format("a recording of {} channels cannot be", recording.channels));
}

void check(const Reading& reading) {
  check_size(reading.frequency_hz, end_hz, "the frequency");
  if (!(reading.stderr_hz >= 0.0 && reading.stderr_hz < reading.frequency_hz)) {
    throw Error({}, fmt::format("the standard error is {} Hz; it must be 0 Hz or more, and less "
                                "than the frequency",
                                reading.stderr_hz));
  }
  check_size(reading.decay_s, end_s, "the decay");
  check_between(reading.temperature_c, coldest_c, hottest_c, "the temperature");
  check_between(reading.onset_s, 0.0, 1e6, "the onset");
  for (const ReadPartial& partial : reading.partials) {
    check_size(partial.frequency_hz, end_hz * 10.0, "a partial's frequency");
    check_size(partial.decay_s, end_s, "a partial's decay");
    check_between(partial.level_db, -1e3, 1e3, "a partial's level");
  }
  check_text(reading.who, "the name of who read it");
  check_text(reading.remark, "the remark");
  check_moment(reading.at);
  if (reading.recording) check(*reading.recording);
}

void check(const std::vector<Work>& work) {
  for (const Work& one : work) check_size(one.length_m, end_m, "what was clipped or filed");
}

std::optional<std::int64_t> found(Statement& statement) {
  if (!statement.step()) return std::nullopt;
  return statement.whole(0);
}

std::int64_t box_row(Connection& connection, const std::string& name) {
  Statement look(connection, "SELECT id FROM boxes WHERE name = ?1");
  if (const auto row = found(look.with(name))) return *row;
  Statement(connection, "INSERT INTO boxes(name) VALUES (?1)").with(name).run();
  return last_row(connection);
}

std::int64_t comb_row(Connection& connection, const PlannedComb& comb) {
  const std::int64_t box = box_row(connection, comb.box);
  Statement look(connection,
                 "SELECT id FROM combs"
                 " WHERE box = ?1 AND name = ?2 AND scrapped_at IS NULL");
  if (look.with(box, comb.comb).step()) {
    const std::int64_t row = look.whole(0);
    Statement(connection, "UPDATE combs SET box_sha256 = ?1, in_tune_c = ?2 WHERE id = ?3")
        .with(comb.box_sha256, comb.in_tune_c, row)
        .run();
    return row;
  }
  Statement(connection,
            "INSERT INTO combs(box, name, box_sha256, in_tune_c) VALUES (?1, ?2, ?3, ?4)")
      .with(box, comb.comb, comb.box_sha256, comb.in_tune_c)
      .run();
  return last_row(connection);
}

[[noreturn]] void refuse_other_note(const Connection& connection, const PlannedComb& comb,
                                    const PlannedTooth& tooth, std::int64_t midi) {
  throw Error({.file = connection.shown()},
              fmt::format("has track {} of comb \"{}\" of box \"{}\" as {}, not {}: another comb; "
                          "give the box another name, or scrap that comb",
                          tooth.track, comb.comb, comb.box,
                          music::note_name(static_cast<int>(midi)), music::note_name(tooth.midi)));
}

// Enters the comb's teeth, or brings their targets to the plan's.
void plan_teeth(Connection& connection, const PlannedComb& comb, std::int64_t comb_id) {
  Statement look(connection,
                 "SELECT id, midi, target_hz FROM teeth WHERE comb = ?1 AND track = ?2");
  Statement enter(connection,
                  "INSERT INTO teeth(comb, track, midi, target_hz) VALUES (?1, ?2, ?3, ?4)");
  Statement change(connection, "UPDATE teeth SET target_hz = ?1 WHERE id = ?2");
  for (const PlannedTooth& tooth : comb.teeth) {
    if (!look.with(comb_id, tooth.track).step()) {
      enter.with(comb_id, tooth.track, tooth.midi, tooth.target_hz).run();
      continue;
    }
    if (look.whole(1) != tooth.midi) refuse_other_note(connection, comb, tooth, look.whole(1));
    if (look.real(2) != tooth.target_hz) change.with(tooth.target_hz, look.whole(0)).run();
  }
}

std::int64_t tooth_row(Connection& connection, std::int64_t comb, int track) {
  Statement look(connection, "SELECT id FROM teeth WHERE comb = ?1 AND track = ?2");
  return found(look.with(comb, track)).value();
}

std::optional<std::int64_t> recording_row(Connection& connection,
                                          const std::optional<Recording>& recording) {
  if (!recording) return std::nullopt;
  const Recording& one = *recording;
  Statement look(connection,
                 "SELECT id FROM recordings WHERE sha256 = ?1 AND file = ?2 AND rate_hz = ?3"
                 " AND channels = ?4 AND settings = ?5");
  if (const auto row =
          found(look.with(one.sha256, one.file, one.rate_hz, one.channels, one.settings)))
    return row;
  Statement(connection,
            "INSERT INTO recordings(sha256, file, rate_hz, channels, settings)"
            " VALUES (?1, ?2, ?3, ?4, ?5)")
      .with(one.sha256, one.file, one.rate_hz, one.channels, one.settings)
      .run();
  return last_row(connection);
}

// The reading that counts of the same tooth and the same recording.
std::optional<std::int64_t> known_reading(Connection& connection, std::int64_t comb_id,
                                          const ToothReading& one) {
  if (!one.reading.recording) return std::nullopt;
  Statement look(connection,
                 "SELECT r.id FROM readings r JOIN recordings c ON c.id = r.recording"
                 " WHERE r.tooth = ?1 AND c.sha256 = ?2 AND r.struck = '' ORDER BY r.id");
  return found(look.with(tooth_row(connection, comb_id, one.track), one.reading.recording->sha256));
}

void enter_work(Connection& connection, std::int64_t reading, const std::vector<Work>& work) {
  std::int64_t place = 0;
  Statement enter(connection,
                  "INSERT INTO work(reading, place, kind, length_m) VALUES (?1, ?2, ?3, ?4)");
  for (const Work& done : work)
    enter.with(reading, ++place, to_text(done.kind), done.length_m).run();
}

std::int64_t enter_reading(Connection& connection, const PlannedComb& comb, std::int64_t comb_id,
                           const ToothReading& one) {
  const Reading& reading = one.reading;
  Statement(connection,
            "INSERT INTO readings(tooth, box_sha256, frequency_hz, stderr_hz, decay_s,"
            " temperature_c, recording, onset_s, who, at, remark)"
            " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)")
      .with(tooth_row(connection, comb_id, one.track), comb.box_sha256, reading.frequency_hz,
            reading.stderr_hz, reading.decay_s, reading.temperature_c,
            recording_row(connection, reading.recording), reading.onset_s, reading.who, reading.at,
            reading.remark)
      .run();
  const std::int64_t number = last_row(connection);
  std::int64_t place = 0;
  Statement partials(connection,
                     "INSERT INTO partials(reading, place, frequency_hz, decay_s, level_db)"
                     " VALUES (?1, ?2, ?3, ?4, ?5)");
  for (const ReadPartial& partial : reading.partials)
    partials.with(number, ++place, partial.frequency_hz, partial.decay_s, partial.level_db).run();
  enter_work(connection, number, one.work_before);
  return number;
}

void check_track(const PlannedComb& comb, int track) {
  const auto has_track = [&](const PlannedTooth& tooth) { return tooth.track == track; };
  if (std::none_of(comb.teeth.begin(), comb.teeth.end(), has_track))
    throw Error(
        {}, fmt::format("track {} is not one of the comb's {} teeth", track, comb.teeth.size()));
}

void check_scrapping(const std::string& at, const std::string& why) {
  check_moment(at);
  check_text(why, "the reason");
}

}  // namespace

std::int64_t file_reading(Database& database, const PlannedComb& comb, int track,
                          const Reading& reading, const std::vector<Work>& work_before) {
  return file_readings(database, comb, {{track, reading, work_before}}).front().number;
}

void check_reading(const PlannedComb& comb, const ToothReading& one) {
  check(comb);
  check_track(comb, one.track);
  check(one.reading);
  check(one.work_before);
}

void check_test(const Test& test) {
  check_name(test.box, "the box");
  check_text(test.who, "the name of who tested");
  check_moment(test.at);
  check_text(test.remark, "the remark");
  if (test.remark.empty()) throw Error({}, "a test needs a remark; say what came out");
}

std::vector<Entered> file_readings(Database& database, const PlannedComb& comb,
                                   const std::vector<ToothReading>& readings) {
  check(comb);
  for (const ToothReading& one : readings) check_reading(comb, one);
  Connection& connection = database.connection();
  Transaction change(connection);
  const std::int64_t comb_id = comb_row(connection, comb);
  plan_teeth(connection, comb, comb_id);
  std::vector<Entered> entered;
  entered.reserve(readings.size());
  for (const ToothReading& one : readings) {
    if (const auto known = known_reading(connection, comb_id, one))
      entered.push_back({*known, true});
    else
      entered.push_back({enter_reading(connection, comb, comb_id, one), false});
  }
  change.commit();
  return entered;
}

std::int64_t file_test(Database& database, const Test& test) {
  check_test(test);
  Connection& connection = database.connection();
  Transaction change(connection);
  Statement(connection, "INSERT INTO tests(box, who, at, remark) VALUES (?1, ?2, ?3, ?4)")
      .with(box_row(connection, test.box), test.who, test.at, test.remark)
      .run();
  const std::int64_t number = last_row(connection);
  change.commit();
  return number;
}

void strike_reading(Database& database, std::int64_t number, const std::string& why,
                    bool work_too) {
  check_reason(why);
  Connection& connection = database.connection();
  Transaction change(connection);
  Statement(connection,
            "UPDATE readings SET struck = ?1, work_struck = ?2 WHERE id = ?3 AND struck = ''")
      .with(why, work_too ? 1 : 0, number)
      .run();
  if (changed_rows(connection) != 1) {
    throw Error({.file = connection.shown()},
                fmt::format("has no reading {} that is not struck; `log list` shows their numbers",
                            number));
  }
  change.commit();
}

std::int64_t correct_work(Database& database, std::int64_t number, const std::vector<Work>& work,
                          const std::string& why) {
  check(work);
  check_reason(why);
  Connection& connection = database.connection();
  Transaction change(connection);
  Statement look(connection,
                 "SELECT 1 FROM readings r JOIN teeth t ON t.id = r.tooth"
                 " JOIN combs c ON c.id = t.comb WHERE r.id = ?1 AND r.struck = ''"
                 " AND c.scrapped_at IS NULL AND NOT EXISTS (SELECT 1 FROM readings l"
                 " WHERE l.tooth = r.tooth AND l.struck = '' AND l.id > r.id)");
  if (!found(look.with(number))) {
    throw Error({.file = connection.shown()},
                fmt::format("has no reading {} that is the last of its tooth; only that one can be "
                            "corrected",
                            number));
  }
  Statement(connection, "UPDATE readings SET struck = ?1, work_struck = 1 WHERE id = ?2")
      .with(why, number)
      .run();
  Statement(connection,
            "INSERT INTO readings(tooth, box_sha256, frequency_hz, stderr_hz, decay_s,"
            " temperature_c, recording, onset_s, who, at, remark)"
            " SELECT tooth, box_sha256, frequency_hz, stderr_hz, decay_s, temperature_c, recording,"
            " onset_s, who, at, remark FROM readings WHERE id = ?1")
      .with(number)
      .run();
  const std::int64_t corrected = last_row(connection);
  Statement(connection,
            "INSERT INTO partials(reading, place, frequency_hz, decay_s, level_db)"
            " SELECT ?1, place, frequency_hz, decay_s, level_db FROM partials WHERE reading = ?2")
      .with(corrected, number)
      .run();
  enter_work(connection, corrected, work);
  change.commit();
  return corrected;
}

void scrap_comb(Database& database, const std::string& box, const std::string& comb,
                const std::string& at, const std::string& why) {
  check_scrapping(at, why);
  Connection& connection = database.connection();
  Transaction change(connection);
  Statement(connection,
            "UPDATE combs SET scrapped_at = ?1, scrapped_why = ?2 WHERE scrapped_at IS NULL"
            " AND name = ?3 AND box = (SELECT id FROM boxes WHERE name = ?4)")
      .with(at, why, comb, box)
      .run();
  if (changed_rows(connection) != 1) {
    throw Error(
        {.file = connection.shown()},
        fmt::format(R"(has no comb "{}" of a box "{}" in use; `log list` shows them)", comb, box));
  }
  change.commit();
}

void scrap_comb(Database& database, std::int64_t number, const std::string& at,
                const std::string& why) {
  check_scrapping(at, why);
  Connection& connection = database.connection();
  Transaction change(connection);
  Statement(connection,
            "UPDATE combs SET scrapped_at = ?1, scrapped_why = ?2"
            " WHERE scrapped_at IS NULL AND id = ?3")
      .with(at, why, number)
      .run();
  if (changed_rows(connection) != 1)
    throw Error({.file = connection.shown()}, fmt::format("has no comb {} in use", number));
  change.commit();
}

}  // namespace combwright::records
