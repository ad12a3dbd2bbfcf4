// SPDX-License-Identifier: Apache-2.0
#include "base/file_writer.h"

#include <cerrno>
#include <filesystem>
#include <system_error>
#include <utility>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"

namespace combwright {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail_to_write(const std::string& path) {
  throw file_error(path, "write", last_reason(), "nothing was changed");
}

// Where a link leads, so that it stays one.
std::string place_of(const std::string& path) {
  std::error_code unseen;  // then opening says why
  if (!fs::is_symlink(path, unseen)) return path;
  const fs::path place = fs::weakly_canonical(path, unseen);
  return unseen ? path : place.string();
}

// Gives a file the permissions of another, where that is there.
bool take_permissions(const std::string& from, int fd) {
  constexpr ::mode_t all = 0777;
  struct ::stat old {};
  return ::stat(from.c_str(), &old) != 0 || ::fchmod(fd, old.st_mode & all) == 0;
}

// A file that did not exist before, beside `path`, with the permissions of the file there, else
// those that the user's umask gives.
Descriptor create_beside(const std::string& path, const std::string& shown,
                         std::string& temporary) {
  constexpr int most_tries = 1000;
  for (int i = 0; i < most_tries; ++i) {
    const std::string name = fmt::format("{}.part{}", path, i);
    const int fd = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd < 0 && errno == EEXIST) continue;
    if (fd < 0) break;
    Descriptor file(fd);
    if (!take_permissions(path, fd)) {
      ::unlink(name.c_str());
      break;
    }
    temporary = name;
    return file;
  }
  fail_to_write(shown);
}

}  // namespace

FileWriter::FileWriter(const std::string& path, const FileCalls& calls, std::string shown)
    : path_(place_of(path)),
      calls_(calls),
      shown_(std::move(shown)),
      file_(create_beside(path_, shown_, temporary_)) {}

FileWriter::~FileWriter() {
  if (!temporary_.empty()) ::unlink(temporary_.c_str());
}

void FileWriter::write(std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = calls_.write(file_.get(), bytes.data(), bytes.size());
    if (n < 0) {
      if (errno == EINTR) continue;
      fail_to_write(shown_);
    }
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
}

void FileWriter::flush() {
  if (file_.get() < 0) return;
  if (calls_.fsync(file_.get()) != 0) fail_to_write(shown_);
  if (calls_.close(file_.release()) != 0) fail_to_write(shown_);
}

void FileWriter::commit() {
  flush();
  if (calls_.rename(temporary_.c_str(), path_.c_str()) != 0) fail_to_write(shown_);
  temporary_.clear();
  flush_folder_of(path_);
}

}  // namespace combwright
