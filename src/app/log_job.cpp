// SPDX-License-Identifier: Apache-2.0
#include "app/log_job.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iterator>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "app/comb_place.h"
#include "app/log_answers.h"
#include "app/option_quantity.h"
#include "app/temperature_option.h"
#include "app/work_option.h"
#include "base/error.h"
#include "records/filing.h"
#include "records/moment.h"
#include "records/offset.h"
#include "records/planned.h"
#include "tuner/whose.h"

namespace combwright::app {
namespace {

using records::Access;
using records::Database;

std::vector<records::Work> work_of(const LogTexts& texts) {
  std::vector<records::Work> work;
  add_work(work, "--clipped", texts.clipped, records::WorkKind::clip);
  add_work(work, "--filed-root", texts.filed_root, records::WorkKind::file_root);
  add_work(work, "--filed-tip", texts.filed_tip, records::WorkKind::file_tip);
  return work;
}

records::Reading reading_of(const LogTexts& texts) {
  const auto frequency_hz = option_quantity("--frequency", texts.frequency, Dimension::frequency);
  if (!frequency_hz)
    throw Error({}, "--frequency is missing; give it as heard, such as \"366.2 Hz\"");
  records::Reading reading;
  reading.frequency_hz = *frequency_hz;
  reading.stderr_hz = option_quantity("--stderr", texts.error, Dimension::frequency).value_or(0.0);
  reading.decay_s = option_quantity("--decay", texts.decay, Dimension::time);
  reading.temperature_c = temperature_option(texts.temperature);
  reading.who = texts.who;
  reading.at = moment(texts);
  reading.remark = texts.remark;
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

// A tooth's readings in the order of filing, to that number, without those of a comb of the same
// name that was scrapped.
std::vector<records::FiledReading> history_to(const Database& database,
                                              const records::PlannedComb& comb, int track,
                                              std::int64_t number) {
  records::Filter tooth;
  tooth.box = comb.box;
  tooth.comb = comb.comb;
  tooth.track = track;
  std::vector<records::FiledReading> readings = records::list_readings(database, tooth);
  std::erase_if(readings,
                [number](const records::FiledReading& filed) { return filed.number > number; });
  const std::int64_t own = readings.back().comb_number;
  std::erase_if(readings,
                [own](const records::FiledReading& filed) { return filed.comb_number != own; });
  return readings;
}

// What a pitch says that was perhaps typed for another tooth: the last of these is far from the one
// before that counts or, as the first, from where a tooth of the comb lies between as cut and in
// tune.
Findings far_off(const std::vector<records::FiledReading>& readings, double most_flat_cents) {
  const records::FiledReading& filed = readings.back();
  const double offset = records::offset_cents(filed);
  const auto before =
      std::find_if(std::next(readings.rbegin()), readings.rend(),
                   [](const records::FiledReading& one) { return one.struck.empty(); });
  const bool first = before == readings.rend();
  const double off = first ? std::max(offset, -most_flat_cents - offset)
                           : std::abs(offset - records::offset_cents(*before));
  if (off <= tuner::another_tooth_cents) return {};
  const std::string from = first ? std::string("its target")
                                 : fmt::format("its reading before, number {}", before->number);
  const double apart = first ? std::abs(offset) : off;
  return {{Level::warning,
           fmt::format("track {}", filed.tooth.track),
           fmt::format("reading {} is {:.0f} cents from {}", filed.number, apart, from),
           "strike it if it is another tooth's",
           {.track = filed.tooth.track}}};
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

}  // namespace

records::Filter filter(const LogTexts& texts) {
  if (!texts.since.empty()) records::check_moment(texts.since);
  if (texts.track < 0)
    throw Error({}, fmt::format("--track {} cannot be; tracks count from 1", texts.track));
  return {.box = texts.box,
          .comb = texts.comb,
          .comb_number = 0,
          .track = texts.track == 0 ? std::nullopt : std::optional(texts.track),
          .since = texts.since,
          .who = texts.who};
}

std::string moment(const LogTexts& texts) {
  if (texts.at.empty()) return now();
  records::check_moment(texts.at);
  return texts.at;
}

AddedReading add_reading(const std::string& db, const BoxInput& input, const LogTexts& texts) {
  const std::size_t place = comb_place(input.box, texts.comb);
  const records::PlannedComb comb = records::planned_comb(input.box, place, input.sha256);
  const records::Reading reading = reading_of(texts);
  check_pitch(comb, texts.track, reading.frequency_hz);
  const std::vector<records::Work> work = work_of(texts);
  records::check_reading(comb, {texts.track, reading, work});
  Database database(db, Access::begin);
  const auto before = records::find_comb(database, comb.box, comb.comb);
  const std::int64_t number = records::file_reading(database, comb, texts.track, reading, work);
  const std::vector<records::FiledReading> readings =
      history_to(database, comb, texts.track, number);
  Findings findings = changed_box(before, input);
  const double most_flat_cents = input.box.combs[place].most_flat_cents;
  for (Finding& one : far_off(readings, most_flat_cents)) findings.push_back(std::move(one));
  return {readings.back(), gravest_first(std::move(findings))};
}

records::FiledTest add_test(const std::string& db, const BoxInput& input, const LogTexts& texts) {
  const records::Test test{input.box.name, texts.who, moment(texts), texts.remark};
  records::check_test(test);
  Database database(db, Access::begin);
  return {records::file_test(database, test), test};
}

std::vector<records::FiledReading> readings_to_export(const Database& database,
                                                      const records::Filter& filter, bool as_cut) {
  std::vector<records::FiledReading> readings = records::list_readings(database, filter);
  if (!as_cut) return readings;
  // Which reading was a tooth's first is seen among all of them only.
  records::Filter all = filter;
  all.since.clear();
  all.who.clear();
  const auto first = records::as_cut(records::list_readings(database, all));
  std::vector<std::int64_t> numbers;
  numbers.reserve(first.size());
  for (const records::FiledReading& one : first) numbers.push_back(one.number);
  std::sort(numbers.begin(), numbers.end());
  std::erase_if(readings, [&](const records::FiledReading& reading) {
    return !std::binary_search(numbers.begin(), numbers.end(), reading.number);
  });
  return readings;
}

CertificateJob certificate_job(const Database& database, const BoxInput& input,
                               const std::string& comb, const box::Shop& shop) {
  const std::size_t place = comb_place(input.box, comb);
  const std::string& name = input.box.combs[place].name;
  const auto filed = records::find_comb(database, input.box.name, name);
  if (!filed) {
    throw Error({.file = database.path()},
                fmt::format("has no reading of {} of box \"{}\"; `log list` shows what it has",
                            box::comb_words(name), input.box.name));
  }
  return {draw::certificate(input.box, place, *filed, shop), changed_box(filed, input)};
}

std::string certificate_pdf(const CertificateJob& job, const BoxInput& input, const box::Shop& shop,
                            const std::string& date) {
  return draw::write_certificate_pdf(job.certificate, shop, {date, input.sha256, "box file"});
}

void refuse_records(const std::string& path, const std::string& db) {
  std::error_code unknown;  // then they are not the same
  const std::string resolved = std::filesystem::weakly_canonical(db, unknown).string();
  for (const char* ending : {"", "-wal", "-shm", "-journal"}) {
    if (std::filesystem::equivalent(path, resolved + ending, unknown))
      throw Error({.file = path}, "is of the records themselves; name another file");
  }
}

Json to_json(const CertificateJob& job) {
  Json json = to_json(job.certificate);
  json["cautions"] = job.certificate.cautions;
  return json;
}

}  // namespace combwright::app
