// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string>

#include "app/log_job.h"

// What `log` does, an action each; each gives the exit status.
namespace combwright::app {

struct LogOptions {
  std::string db;
  std::string box;  // the file
  LogTexts texts;
  std::int64_t reading = 0;
  std::string shop;
  std::string out;
  bool as_cut = false;
  bool work_too = false;
  bool force = false;
  bool json = false;
};

int log_list(const LogOptions& options);
int log_add(const LogOptions& options);
int log_test(const LogOptions& options);
int log_strike(const LogOptions& options);
int log_scrap(const LogOptions& options);
int log_export(const LogOptions& options);
int log_certificate(const LogOptions& options);
int log_backup(const LogOptions& options);
int log_check(const LogOptions& options);

}  // namespace combwright::app
