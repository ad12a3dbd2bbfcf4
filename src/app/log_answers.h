// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/json.h"
#include "draw/certificate.h"
#include "records/records.h"

namespace combwright::app {

// What the records hold of what was asked for.
struct RecordsList {
  std::vector<records::FiledComb> combs;
  std::vector<records::FiledReading> readings;
  std::vector<records::FiledTest> tests;
};

Json to_json(const RecordsList& list);
Json to_json(const records::FiledComb& comb);
Json to_json(const std::vector<records::ToothSummary>& teeth);
Json to_json(const records::FiledReading& filed);
Json to_json(const records::FiledTest& filed);
Json to_json(const records::Counts& counts);
Json to_json(const draw::Certificate& certificate);

std::string list_text(const RecordsList& list);
std::string reading_text(const records::FiledReading& filed);
std::string counts_text(const records::Counts& counts);
std::string certificate_text(const draw::Certificate& certificate);

}  // namespace combwright::app
