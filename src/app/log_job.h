// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/inputs.h"
#include "app/json.h"
#include "base/finding.h"
#include "box/shop.h"
#include "draw/certificate.h"
#include "records/database.h"
#include "records/listing.h"
#include "records/records.h"

// What `log` does with the records, whoever asks and however it is shown. Each throws Error as the
// functions of src/records do, and for a text that says what cannot be, with the option's name.
namespace combwright::app {

// What is told of a record or asked for, as on the command line; empty where it is not.
struct LogTexts {
  std::string box;  // of what is asked for, by its name
  std::string comb;
  int track = 0;
  std::string since;
  std::string who;
  std::string at;
  std::string remark;
  std::string frequency;
  std::string error;
  std::string decay;
  std::string temperature;
  std::string clipped;
  std::string filed_root;
  std::string filed_tip;
};

// --box, --comb, --track, --since, --who
records::Filter filter(const LogTexts& texts);

// The moment of --at; now if it is not given.
std::string moment(const LogTexts& texts);

// A reading typed by hand, of the box's comb and track named; the file of the records is made if it
// is missing.
struct AddedReading {
  records::FiledReading filed;
  Findings findings;
};
AddedReading add_reading(const std::string& db, const BoxInput& input, const LogTexts& texts);

// A test of the box, likewise.
records::FiledTest add_test(const std::string& db, const BoxInput& input, const LogTexts& texts);

// The readings that the filter asks for; `as_cut`: of them those that are a tooth's first, with
// nothing done before, among all that the records hold.
std::vector<records::FiledReading> readings_to_export(const records::Database& database,
                                                      const records::Filter& filter, bool as_cut);

// The certificate of the box's comb in use.
struct CertificateJob {
  draw::Certificate certificate;
  Findings findings;
};
CertificateJob certificate_job(const records::Database& database, const BoxInput& input,
                               const std::string& comb, const box::Shop& shop);

// The same as a paper of the day.
std::string certificate_pdf(const CertificateJob& job, const BoxInput& input, const box::Shop& shop,
                            const std::string& date);

// Throws Error if the path is of the records themselves, or of what SQLite keeps beside them:
// nothing may be written over those.
void refuse_records(const std::string& path, const std::string& db);

Json to_json(const CertificateJob& job);

}  // namespace combwright::app
