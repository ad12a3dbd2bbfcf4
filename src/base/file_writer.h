// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "base/descriptor.h"
#include "base/file_calls.h"

namespace combwright {

// A file that is written part by part, whole or not at all: it stands beside its place until it is
// committed. A link stays one, and a file that is there keeps its permissions. Whatever fails
// throws Error with the system's reason (request if the path can't be, else machine); then, and
// where it is given up before, the old file is untouched and no part is left.
class FileWriter {
 public:
  explicit FileWriter(const std::string& path) : FileWriter(path, {}, path) {}

  // Through these calls; `shown` is the path that stands in errors.
  FileWriter(const std::string& path, const FileCalls& calls, std::string shown);
  FileWriter(const FileWriter&) = delete;
  FileWriter& operator=(const FileWriter&) = delete;
  ~FileWriter();

  void write(std::string_view bytes);

  // Puts all that was written onto the disk; nothing more can be.
  void flush();

  // The file beside its place, to be read before it is committed.
  const std::string& part() const { return temporary_; }

  // Puts the file into its place, flushed.
  void commit();

 private:
  std::string path_;
  FileCalls calls_;
  std::string shown_;
  std::string temporary_;  // empty once it is gone or in place
  Descriptor file_;
};

}  // namespace combwright
