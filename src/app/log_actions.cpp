// SPDX-License-Identifier: Apache-2.0
#include "app/log_actions.h"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <system_error>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/comb_place.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/job_files.h"
#include "app/log_answers.h"
#include "app/option_quantity.h"
#include "app/report.h"
#include "app/single_file.h"
#include "app/temperature_option.h"
#include "app/work_option.h"
#include "base/error.h"
#include "disc/plan_json.h"
#include "draw/certificate.h"
#include "draw/readings_table.h"
#include "records/database.h"
#include "records/filing.h"
#include "records/listing.h"
#include "records/moment.h"
#include "records/offset.h"
#include "records/planned.h"

namespace combwright::app {
namespace {

using records::Access;
using records::Database;

records::Filter filter(const LogOptions& options) {
  if (!options.since.empty()) records::check_moment(options.since);
  if (options.track < 0)
    throw Error({}, fmt::format("--track {} cannot be; tracks count from 1", options.track));
  return {.box = options.box,
          .comb = options.comb,
          .track = options.track == 0 ? std::nullopt : std::optional(options.track),
          .since = options.since,
          .who = options.who};
}

// Nothing may be written over the records, or over what SQLite keeps beside them.
void refuse_records(const std::string& path, const std::string& db) {
  std::error_code unknown;  // then they are not the same
  const std::string resolved = std::filesystem::weakly_canonical(db, unknown).string();
  for (const char* ending : {"", "-wal", "-shm", "-journal"}) {
    if (std::filesystem::equivalent(path, resolved + ending, unknown))
      throw Error({.file = path}, "is of the records themselves; name another file");
  }
}

SingleFile output(const LogOptions& options, const std::string& title) {
  refuse_records(options.out, options.db);
  SingleFile file{options.out, title, options.force, {options.box, options.shop}};
  check_single(file);
  return file;
}

std::string moment(const LogOptions& options) {
  if (options.at.empty()) return now();
  records::check_moment(options.at);
  return options.at;
}

std::vector<records::Work> work_of(const LogOptions& options) {
  std::vector<records::Work> work;
  add_work(work, "--clipped", options.clipped, records::WorkKind::clip);
  add_work(work, "--filed-root", options.filed_root, records::WorkKind::file_root);
  add_work(work, "--filed-tip", options.filed_tip, records::WorkKind::file_tip);
  return work;
}

records::Reading reading_of(const LogOptions& options) {
  records::Reading reading;
  reading.frequency_hz =
      option_quantity("--frequency", options.frequency, Dimension::frequency).value();
  reading.stderr_hz =
      option_quantity("--stderr", options.error, Dimension::frequency).value_or(0.0);
  reading.decay_s = option_quantity("--decay", options.decay, Dimension::time);
  reading.temperature_c = temperature_option(options.temperature);
  reading.who = options.who;
  reading.at = moment(options);
  reading.remark = options.remark;
  return reading;
}

void check_pitch(const records::PlannedComb& comb, int track, double frequency_hz) {
  for (const records::PlannedTooth& tooth : comb.teeth) {
    if (tooth.track != track) continue;
    if (frequency_hz > 0.5 * tooth.target_hz && frequency_hz < 2.0 * tooth.target_hz) return;
    throw Error({}, fmt::format("--frequency is {:.6g} Hz, over an octave from the tooth's {:.6g} "
                                "Hz; look at its track",
                                frequency_hz, tooth.target_hz));
  }
}

// The tooth's reading of that number, as it now stands in the records.
records::FiledReading filed_as(const Database& database, const records::PlannedComb& comb,
                               int track, std::int64_t number) {
  const records::Filter tooth{
      .box = comb.box, .comb = comb.comb, .track = track, .since = "", .who = ""};
  const std::vector<records::FiledReading> all = records::list_readings(database, tooth);
  return *std::find_if(all.begin(), all.end(), [number](const records::FiledReading& filed) {
    return filed.number == number;
  });
}

// The box file of the records' last reading of the comb may have been another one.
Findings changed_box(const std::optional<records::FiledComb>& filed, const BoxInput& input) {
  if (!filed || filed->plan.box_sha256 == input.sha256) return {};
  return {{Level::note, box::comb_words(filed->plan.comb),
           fmt::format("the box file is not the one of its last reading ({}, now {}): targets are "
                       "those of the present one",
                       filed->plan.box_sha256.substr(0, 12), input.sha256.substr(0, 12)),
           "if this is another box, give it another name"}};
}

int answer(const LogOptions& options, Json json, const std::string& text,
           const Findings& findings = {}) {
  if (options.json) {
    json["findings"] = disc::to_json(findings);
    print(page_of(json));
  } else {
    print(text + findings_text(findings));
  }
  return status_of(findings);
}

int written(const LogOptions& options, Json json, const std::string& text = "") {
  json["file"] = options.out;
  return answer(options, std::move(json), text + facts({{"Written", options.out}}));
}

}  // namespace

int log_list(const LogOptions& options) {
  const records::Filter wanted = filter(options);
  const Database database(options.db, Access::look);
  const RecordsList list{records::list_combs(database, wanted),
                         records::list_readings(database, wanted),
                         records::list_tests(database, wanted)};
  return answer(options, to_json(list), list_text(list));
}

int log_add(const LogOptions& options) {
  const BoxInput input = load_box(options.box);
  const records::PlannedComb comb =
      records::planned_comb(input.box, comb_place(input.box, options.comb), input.sha256);
  const records::Reading reading = reading_of(options);
  check_pitch(comb, options.track, reading.frequency_hz);
  const std::vector<records::Work> work = work_of(options);
  records::check_reading(comb, {options.track, reading, work});
  Database database(options.db, Access::begin);
  const auto before = records::find_comb(database, comb.box, comb.comb);
  const std::int64_t number = records::file_reading(database, comb, options.track, reading, work);
  const records::FiledReading filed = filed_as(database, comb, options.track, number);
  return answer(options, {{"reading", to_json(filed)}}, reading_text(filed),
                changed_box(before, input));
}

int log_test(const LogOptions& options) {
  const BoxInput input = load_box(options.box);
  const records::Test test{input.box.name, options.who, moment(options), options.remark};
  records::check_test(test);
  Database database(options.db, Access::begin);
  const records::FiledTest filed{records::file_test(database, test), test};
  return answer(options, {{"test", to_json(filed)}},
                facts({{"Test", fmt::format("{}, filed", filed.number)}, {"Box", test.box}}));
}

int log_strike(const LogOptions& options) {
  Database database(options.db, Access::change);
  records::strike_reading(database, options.reading, options.remark, options.work_too);
  return answer(options, {{"number", options.reading}, {"struck", options.remark}},
                facts({{"Reading", fmt::format("{}, struck", options.reading)}}));
}

int log_scrap(const LogOptions& options) {
  const BoxInput input = load_box(options.box);
  const std::string comb = input.box.combs[comb_place(input.box, options.comb)].name;
  const std::string at = moment(options);
  Database database(options.db, Access::change);
  records::scrap_comb(database, input.box.name, comb, at, options.remark);
  return answer(options, {{"box", input.box.name}, {"comb", comb}, {"scrapped_at", at}},
                facts({{"Box", input.box.name}, {"Comb", comb + ", scrapped"}}));
}

int log_export(const LogOptions& options) {
  const records::Filter wanted = filter(options);
  const Database database(options.db, Access::look);
  const SingleFile file = output(options, "readings");
  std::vector<records::FiledReading> readings = records::list_readings(database, wanted);
  if (options.as_cut) {
    // Which reading was a tooth's first is seen among all of them only.
    const auto first = records::as_cut(records::list_readings(
        database,
        {.box = wanted.box, .comb = wanted.comb, .track = wanted.track, .since = "", .who = ""}));
    std::erase_if(readings, [&](const records::FiledReading& reading) {
      return std::none_of(first.begin(), first.end(), [&](const records::FiledReading& one) {
        return one.number == reading.number;
      });
    });
  }
  write_single(file, draw::write_readings_table(readings));
  return written(options, {{"readings", readings.size()}},
                 facts({{"Readings", fmt::format("{}", readings.size())}}));
}

int log_certificate(const LogOptions& options) {
  const std::string date = today();
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const std::size_t place = comb_place(input.box, options.comb);
  const std::string& comb = input.box.combs[place].name;
  const Database database(options.db, Access::look);
  const SingleFile file = output(options, input.box.name);
  const auto filed = records::find_comb(database, input.box.name, comb);
  if (!filed) {
    throw Error({.file = options.db},
                fmt::format("has no reading of {} of box \"{}\"; `log list` shows what it has",
                            box::comb_words(comb), input.box.name));
  }
  const draw::Certificate made = draw::certificate(input.box, place, *filed, shop);
  write_single(file, draw::write_certificate_pdf(made, shop, {date, input.sha256, "box file"}));
  Json json = to_json(made);
  json["cautions"] = made.cautions;
  json["file"] = options.out;
  return answer(options, std::move(json),
                certificate_text(made) + "\n" + facts({{"Written", options.out}}) +
                    cautions_text(made.cautions),
                changed_box(filed, input));
}

int log_backup(const LogOptions& options) {
  const Database database(options.db, Access::look);
  const SingleFile file = output(options, "records");
  const records::Counts copied = records::back_up(database, file.path, options.force);
  return written(options, {{"counts", to_json(copied)}});
}

int log_check(const LogOptions& options) {
  const Database database(options.db, Access::look);
  const records::Counts counts = records::counts(database);
  return answer(
      options,
      {{"sound", true}, {"version", records::current_version()}, {"counts", to_json(counts)}},
      facts({{"Records", "sound"}}) + "\n" + counts_text(counts));
}

}  // namespace combwright::app
