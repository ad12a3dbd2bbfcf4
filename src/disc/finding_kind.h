// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/finding.h"
#include "disc/checks.h"

namespace combwright::disc {

// The findings of one kind, the first of them in full.
class FindingKind {
 public:
  FindingKind(Level level, std::string remedy) : level_(level), remedy_(std::move(remedy)) {}

  // `tell` gives where and what; it is asked only for findings that are told in full.
  template <typename Tell>
  void add(Tell tell) {
    if (++count_ > most_findings_of_a_kind) return;
    Finding finding = tell();
    finding.level = level_;
    finding.remedy = remedy_;
    findings_.push_back(std::move(finding));
  }
  void append_to(Findings& all) const {
    all.insert(all.end(), findings_.begin(), findings_.end());
    if (count_ <= most_findings_of_a_kind) return;
    all.push_back({level_, "disc",
                   fmt::format("{} more like the last", count_ - most_findings_of_a_kind),
                   remedy_});
  }

 private:
  Level level_;
  std::string remedy_;
  std::size_t count_ = 0;
  Findings findings_;
};

}  // namespace combwright::disc
