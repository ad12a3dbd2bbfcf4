// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <filesystem>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "app/log_answers.h"
#include "app/log_job.h"
#include "app/stage.h"
#include "base/error.h"
#include "base/file.h"
#include "disc/plan_json.h"
#include "draw/readings_table.h"
#include "records/filing.h"
#include "workbench/questions.h"

namespace combwright::workbench {
namespace {

using app::Json;
using records::Access;
using records::Database;

namespace fs = std::filesystem;

// A list longer than this is asked for in parts.
constexpr std::int64_t longest_part = 1000;
constexpr std::int64_t usual_part = 200;

// More than this goes through the command, which has no browser to wait for it.
constexpr std::int64_t most_exported = 100'000;
constexpr std::size_t largest_download = std::size_t{256} << 20;

// The saved file only: what is filed keeps its checksum.
app::BoxInput saved_box_of(const Desk& desk, Question& question) {
  return app::load_box(desk.path_of(question.text("box")));
}

records::Filter filter_of(Question& question) {
  app::LogTexts texts;
  texts.box = question.text("box");
  texts.comb = question.text("comb");
  texts.track = static_cast<int>(question.whole("track", 1, 10'000).value_or(0));
  texts.since = question.text("since");
  texts.who = question.text("who");
  records::Filter filter = app::filter(texts);
  filter.comb_number = question.whole("comb_number", 1, any_number).value_or(0);
  return filter;
}

std::string file_name(const std::string& path) {
  return fs::path(path).filename().string();
}

Json with_findings(Json json, const Findings& findings = {}) {
  json["findings"] = disc::to_json(findings);
  return json;
}

Reply list(const Desk& desk, Question& question) {
  const records::Filter filter = filter_of(question);
  const records::Part part{
      .most = question.whole("most", 1, longest_part).value_or(usual_part),
      .combs_before = question.whole("combs_before", 1, any_number).value_or(0),
      .readings_before = question.whole("readings_before", 1, any_number).value_or(0),
      .tests_before = question.whole("tests_before", 1, any_number).value_or(0)};
  question.end();
  const bool there = is_there(desk.records());
  records::Listing found;
  if (there) found = list_part(Database(desk.records(), Access::look), filter, part);
  Json json = app::to_json(
      app::RecordsList{std::move(found.combs), std::move(found.readings), std::move(found.tests)});
  json["in_all"] = {{"combs", found.combs_in_all},
                    {"readings", found.readings_in_all},
                    {"tests", found.tests_in_all}};
  json["people"] = found.people;
  json["file"] = file_name(desk.records());
  json["there"] = there;
  return json_reply(with_findings(std::move(json)));
}

Reply kept_comb(const Desk& desk, Question& question) {
  const std::int64_t number = question.whole("comb_number", 1, any_number).value_or(0);
  question.end();
  const Database database(desk.records(), Access::look);
  const auto found = records::find_comb(database, number);
  if (!found) throw Error({.file = desk.records()}, fmt::format("has no comb {}", number));
  Json json{{"comb", app::to_json(*found)}, {"teeth", app::to_json(records::summary(*found))}};
  return json_reply(with_findings(std::move(json)));
}

Reply add(const Desk& desk, Question& question) {
  const app::BoxInput input = saved_box_of(desk, question);
  app::LogTexts texts;
  texts.comb = question.text("comb");
  texts.track = static_cast<int>(question.whole("track", 1, 10'000).value_or(0));
  for (const auto& [key, text] :
       {std::pair("frequency", &texts.frequency), std::pair("stderr", &texts.error),
        std::pair("decay", &texts.decay), std::pair("temperature", &texts.temperature),
        std::pair("clipped", &texts.clipped), std::pair("filed_root", &texts.filed_root),
        std::pair("filed_tip", &texts.filed_tip), std::pair("who", &texts.who),
        std::pair("at", &texts.at), std::pair("remark", &texts.remark)})
    *text = question.text(key);
  question.end();
  const app::AddedReading added = app::add_reading(desk.records(), input, texts);
  return json_reply(with_findings({{"reading", app::to_json(added.filed)}}, added.findings));
}

Reply test(const Desk& desk, Question& question) {
  const app::BoxInput input = saved_box_of(desk, question);
  app::LogTexts texts;
  texts.who = question.text("who");
  texts.at = question.text("at");
  texts.remark = question.text("remark");
  question.end();
  const records::FiledTest filed = app::add_test(desk.records(), input, texts);
  return json_reply(with_findings({{"test", app::to_json(filed)}}));
}

Reply strike(const Desk& desk, Question& question) {
  const std::int64_t number = question.whole("reading", 1, any_number).value_or(0);
  const std::string why = question.text("remark");
  const bool work_too = question.flag("work_too");
  question.end();
  Database database(desk.records(), Access::change);
  records::strike_reading(database, number, why, work_too);
  return json_reply(with_findings({{"number", number}, {"struck", why}}));
}

Reply scrap(const Desk& desk, Question& question) {
  const std::int64_t number = question.whole("comb_number", 1, any_number).value_or(0);
  app::LogTexts texts;
  texts.at = question.text("at");
  texts.remark = question.text("remark");
  question.end();
  const std::string at = app::moment(texts);
  Database database(desk.records(), Access::change);
  const auto found = records::find_comb(database, number);
  records::scrap_comb(database, number, at, texts.remark);
  return json_reply(
      with_findings({{"box", found->plan.box}, {"comb", found->plan.comb}, {"scrapped_at", at}}));
}

Reply exported(const Desk& desk, Question& question) {
  const records::Filter filter = filter_of(question);
  const bool as_cut = question.flag("as_cut");
  question.end();
  const Database database(desk.records(), Access::look);
  if (const std::int64_t count = records::count_readings(database, filter); count > most_exported) {
    throw Error({}, fmt::format("{} readings are more than the page exports at once, {}; ask for "
                                "fewer, or use combwright log export",
                                count, most_exported));
  }
  return {.type = "text/csv; charset=utf-8",
          .body = draw::write_readings_table(app::readings_to_export(database, filter, as_cut))};
}

// What both forms of a certificate are made from.
struct Certified {
  app::BoxInput input;
  box::Shop shop;
  app::CertificateJob job;
};

Certified certified(const Desk& desk, Question& question) {
  app::BoxInput input = saved_box_of(desk, question);
  box::Shop shop = shop_of(desk, question);
  const std::string comb = question.text("comb");
  question.end();
  const Database database(desk.records(), Access::look);
  app::CertificateJob job = app::certificate_job(database, input, comb, shop);
  return {std::move(input), std::move(shop), std::move(job)};
}

Reply certificate(const Desk& desk, Question& question) {
  const Certified made = certified(desk, question);
  return json_reply(with_findings(app::to_json(made.job), made.job.findings));
}

Reply certificate_paper(const Desk& desk, Question& question) {
  const Certified made = certified(desk, question);
  return {.type = "application/pdf",
          .body = app::certificate_pdf(made.job, made.input, made.shop, app::today())};
}

Reply backup(const Desk& desk, Question& question) {
  const std::string name = question.text("file");
  question.end();
  const std::string path = desk.copy_path(name);
  const Database database(desk.records(), Access::look);
  app::refuse_records(path, desk.records());
  if (is_there(path)) throw Error({.file = path}, "is there already; choose another name");
  const records::Counts copied = records::back_up(database, path, false);
  return json_reply(with_findings({{"counts", app::to_json(copied)}, {"file", name}}));
}

Reply backup_to_take_away(const Desk& desk, Question& question) {
  question.end();
  const Database database(desk.records(), Access::look);
  const app::Stage stage(fs::temp_directory_path(), "a copy of the records");
  const std::string path = (stage.path() / "copy.db").string();
  records::back_up(database, path, false);
  const Bytes bytes = read_file(path, largest_download);
  return {.type = "application/vnd.sqlite3", .body = std::string(as_text(bytes))};
}

Reply check_records(const Desk& desk, Question& question) {
  question.end();
  const Database database(desk.records(), Access::look);
  return json_reply(with_findings({{"sound", true},
                                   {"version", records::current_version()},
                                   {"counts", app::to_json(records::counts(database))}}));
}

}  // namespace

std::span<const NamedAsk> records_questions() {
  static constexpr std::array questions{NamedAsk{"log/list", list},
                                        NamedAsk{"log/comb", kept_comb},
                                        NamedAsk{"log/add", add},
                                        NamedAsk{"log/test", test},
                                        NamedAsk{"log/strike", strike},
                                        NamedAsk{"log/scrap", scrap},
                                        NamedAsk{"log/export.csv", exported},
                                        NamedAsk{"log/certificate", certificate},
                                        NamedAsk{"log/certificate.pdf", certificate_paper},
                                        NamedAsk{"log/backup", backup},
                                        NamedAsk{"log/backup.db", backup_to_take_away},
                                        NamedAsk{"log/check", check_records}};
  return questions;
}

}  // namespace combwright::workbench
