// SPDX-License-Identifier: Apache-2.0
#include "app/log_actions.h"

#include <utility>

#include <fmt/format.h>

#include "app/answers.h"
#include "app/comb_place.h"
#include "app/console.h"
#include "app/inputs.h"
#include "app/job_files.h"
#include "app/log_answers.h"
#include "app/log_job.h"
#include "app/report.h"
#include "app/single_file.h"
#include "base/error.h"
#include "disc/plan_json.h"
#include "draw/readings_table.h"
#include "records/database.h"
#include "records/filing.h"
#include "records/listing.h"

namespace combwright::app {
namespace {

using records::Access;
using records::Database;

SingleFile output(const LogOptions& options, const std::string& title) {
  refuse_records(options.out, options.db);
  SingleFile file{options.out, title, options.force, {options.box, options.shop}};
  check_single(file);
  return file;
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
  const records::Filter wanted = filter(options.texts);
  const Database database(options.db, Access::look);
  const RecordsList list{records::list_combs(database, wanted),
                         records::list_readings(database, wanted),
                         records::list_tests(database, wanted)};
  return answer(options, to_json(list), list_text(list));
}

int log_add(const LogOptions& options) {
  const AddedReading added = add_reading(options.db, load_box(options.box), options.texts);
  return answer(options, {{"reading", to_json(added.filed)}}, reading_text(added.filed),
                added.findings);
}

int log_test(const LogOptions& options) {
  const records::FiledTest filed = add_test(options.db, load_box(options.box), options.texts);
  return answer(options, {{"test", to_json(filed)}},
                facts({{"Test", fmt::format("{}, filed", filed.number)}, {"Box", filed.test.box}}));
}

int log_strike(const LogOptions& options) {
  Database database(options.db, Access::change);
  records::strike_reading(database, options.reading, options.texts.remark, options.work_too);
  return answer(options, {{"number", options.reading}, {"struck", options.texts.remark}},
                facts({{"Reading", fmt::format("{}, struck", options.reading)}}));
}

int log_scrap(const LogOptions& options) {
  const BoxInput input = load_box(options.box);
  const std::string comb = input.box.combs[comb_place(input.box, options.texts.comb)].name;
  const std::string at = moment(options.texts);
  Database database(options.db, Access::change);
  records::scrap_comb(database, input.box.name, comb, at, options.texts.remark);
  return answer(options, {{"box", input.box.name}, {"comb", comb}, {"scrapped_at", at}},
                facts({{"Box", input.box.name}, {"Comb", comb + ", scrapped"}}));
}

int log_export(const LogOptions& options) {
  const records::Filter wanted = filter(options.texts);
  const Database database(options.db, Access::look);
  const SingleFile file = output(options, "readings");
  const auto readings = readings_to_export(database, wanted, options.as_cut);
  write_single(file, draw::write_readings_table(readings));
  return written(options, {{"readings", readings.size()}},
                 facts({{"Readings", fmt::format("{}", readings.size())}}));
}

int log_certificate(const LogOptions& options) {
  const std::string date = today();
  const BoxInput input = load_box(options.box);
  const box::Shop shop = load_shop(options.shop);
  const Database database(options.db, Access::look);
  const SingleFile file = output(options, input.box.name);
  const CertificateJob job = certificate_job(database, input, options.texts.comb, shop);
  write_single(file, certificate_pdf(job, input, shop, date));
  Json json = to_json(job);
  json["file"] = options.out;
  return answer(options, std::move(json),
                certificate_text(job.certificate) + "\n" + facts({{"Written", options.out}}) +
                    cautions_text(job.certificate.cautions),
                job.findings);
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
