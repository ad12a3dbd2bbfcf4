// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

// Files that are made beside their place and then put into it.
namespace combwright::records {

// The path of a new empty file in the folder of `path`; it goes away with this object unless it is
// put in place. Throws Error naming `path` if the folder will not have it.
class NewFile {
 public:
  explicit NewFile(const std::string& path);
  ~NewFile();
  NewFile(const NewFile&) = delete;
  NewFile& operator=(const NewFile&) = delete;

  const std::string& path() const { return temporary_; }

  // Flushes it and gives it its name. Without `replace`, false if that name is taken: then nothing
  // is changed.
  bool put_in_place(bool replace);

 private:
  std::string path_;
  std::string temporary_;
};

}  // namespace combwright::records
