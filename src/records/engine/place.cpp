// SPDX-License-Identifier: Apache-2.0
#include "records/engine/place.h"

#include <cerrno>
#include <cstdio>

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include "base/file.h"

namespace combwright::records {
namespace {

[[noreturn]] void refuse(const std::string& path) {
  throw file_error(path, "write", last_reason(), "nothing was changed");
}

}  // namespace

NewFile::NewFile(const std::string& path) : path_(path) {
  constexpr int most_tries = 1000;
  for (int i = 0; i < most_tries; ++i) {
    temporary_ = fmt::format("{}.part{}", path, i);
    const int fd = ::open(temporary_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd >= 0) {
      ::close(fd);
      return;
    }
    if (errno != EEXIST) break;
  }
  refuse(path);
}

NewFile::~NewFile() {
  if (temporary_.empty()) return;
  for (const char* ending : {"", "-journal", "-wal", "-shm"})
    ::unlink((temporary_ + ending).c_str());
}

bool NewFile::put_in_place(bool replace) {
  const int fd = ::open(temporary_.c_str(), O_RDONLY | O_CLOEXEC);
  const bool flushed = fd >= 0 && ::fsync(fd) == 0;
  if (fd >= 0) ::close(fd);
  if (!flushed) refuse(path_);
  if (replace) {
    if (std::rename(temporary_.c_str(), path_.c_str()) != 0) refuse(path_);
  } else if (::renameat2(AT_FDCWD, temporary_.c_str(), AT_FDCWD, path_.c_str(), RENAME_NOREPLACE) !=
             0) {
    if (errno == EEXIST) return false;
    // A file system that knows no such renaming may still know a second name.
    if (errno != EINVAL || ::link(temporary_.c_str(), path_.c_str()) != 0) {
      if (errno == EEXIST) return false;
      refuse(path_);
    }
    ::unlink(temporary_.c_str());
  }
  temporary_.clear();  // another program may have taken the name for a file of its own
  flush_folder_of(path_);
  return true;
}

}  // namespace combwright::records
