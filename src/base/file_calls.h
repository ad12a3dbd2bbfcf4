// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdio>
#include <string>
#include <string_view>

#include <sys/types.h>
#include <unistd.h>

namespace combwright {

// The system calls by which files and folders are written, so that a test can let any one of them
// fail.
struct FileCalls {
  ssize_t (*write)(int, const void*, std::size_t) = ::write;
  int (*fsync)(int) = ::fsync;
  int (*close)(int) = ::close;
  int (*rename)(const char*, const char*) = std::rename;
};

// write_file of base/file.h through these calls; `shown` is the path that stands in errors.
void write_file(const std::string& path, std::string_view contents, const FileCalls& calls,
                const std::string& shown);

}  // namespace combwright
