// SPDX-License-Identifier: Apache-2.0
#include <fmt/core.h>

#include "draw/finding_words.h"
#include "draw/pack_document.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

constexpr std::size_t most_findings = 200;

void write_finding(PackDocument& document, const Finding& finding) {
  const TextStyle style{Face::bold, 2.8, finding.level == Level::fault ? alarm : ink, Align::left};
  document.entry(to_text(finding.level), finding_words(finding), 20.0, style);
}

}  // namespace

void add_findings(PackDocument& document, const PackInput& input) {
  const auto findings = gravest_first(all_findings(input));
  document.heading("Findings");
  document.note_findings_page();
  if (findings.empty()) document.paragraph("None.");
  for (std::size_t i = 0; i < findings.size() && i < most_findings; ++i) {
    write_finding(document, findings[i]);
  }
  if (findings.size() > most_findings) {
    document.paragraph(
        fmt::format("And {}.", counted(findings.size() - most_findings, "more finding")));
  }
}

}  // namespace combwright::draw
