// SPDX-License-Identifier: Apache-2.0
#include "records/engine/head.h"

#include <algorithm>
#include <cstddef>
#include <filesystem>
#include <memory>
#include <vector>

#include <sqlite3.h>
#include <sys/stat.h>

#include "base/error.h"
#include "base/file.h"

namespace combwright::records {
namespace {

struct FreeFilename {
  void operator()(const char* name) const { sqlite3_free_filename(const_cast<char*>(name)); }
};

// A file of SQLite's file system, open for reading.
class VfsFile {
 public:
  explicit VfsFile(const std::string& path)
      : memory_((static_cast<std::size_t>(vfs().szOsFile) + sizeof(std::max_align_t) - 1) /
                sizeof(std::max_align_t)) {
    const std::string whole = std::filesystem::absolute(path).string();
    name_.reset(sqlite3_create_filename(whole.c_str(), "", "", 0, nullptr));
    code_ = vfs().xOpen(&vfs(), name_.get(), file(), SQLITE_OPEN_READONLY | SQLITE_OPEN_MAIN_DB,
                        nullptr);
  }
  ~VfsFile() {
    if (file()->pMethods != nullptr) file()->pMethods->xClose(file());
  }
  VfsFile(const VfsFile&) = delete;
  VfsFile& operator=(const VfsFile&) = delete;

  bool is_open() const { return code_ == SQLITE_OK; }

  bool read(std::string& into) {
    const int code = file()->pMethods->xRead(file(), into.data(), static_cast<int>(into.size()), 0);
    return code == SQLITE_OK || code == SQLITE_IOERR_SHORT_READ;
  }

 private:
  static sqlite3_vfs& vfs() {
    sqlite3_initialize();
    return *sqlite3_vfs_find(nullptr);
  }
  sqlite3_file* file() { return reinterpret_cast<sqlite3_file*>(memory_.data()); }

  std::vector<std::max_align_t> memory_;
  std::unique_ptr<const char, FreeFilename> name_;
  int code_ = SQLITE_OK;
};

}  // namespace

std::string head_of(const std::string& path, std::size_t bytes) {
  constexpr std::string_view remedy = "name the file of the records";
  struct stat status {};
  if (::stat(path.c_str(), &status) != 0) throw file_error(path, "read", last_reason(), remedy);
  if (S_ISDIR(status.st_mode)) throw Error({.file = path}, "is a folder; name a file in it");
  if (!S_ISREG(status.st_mode))
    throw Error({.file = path}, "is a pipe or a device; only regular files are read");
  VfsFile file(path);
  if (!file.is_open()) throw file_error(path, "read", last_reason(), remedy);
  std::string head(std::min(bytes, static_cast<std::size_t>(status.st_size)), '\0');
  if (!file.read(head)) throw file_error(path, "read", last_reason(), remedy);
  return head;
}

}  // namespace combwright::records
