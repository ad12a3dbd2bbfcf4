// SPDX-License-Identifier: Apache-2.0
#include "base/file.h"

#include <algorithm>
#include <array>
#include <cerrno>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/descriptor.h"
#include "base/file_calls.h"
#include "base/file_writer.h"
#include "base/sha256.h"

namespace combwright {
namespace {

// A path that cannot be is the request's fault, everything else the machine's.
Error::Kind kind_of(int error) {
  const bool request = error == ENOENT || error == ENOTDIR || error == EISDIR ||
                       error == ENAMETOOLONG || error == ELOOP || error == EINVAL;
  return request ? Error::Kind::request : Error::Kind::machine;
}

[[noreturn]] void fail_to_read(const std::string& path) {
  throw file_error(path, "read", last_reason(), "name a file that can be read");
}

void refuse_irregular(const struct stat& status, const std::string& path) {
  if (S_ISDIR(status.st_mode)) throw Error({.file = path}, "is a folder; name a file in it");
  if (!S_ISREG(status.st_mode))
    throw Error({.file = path}, "is a pipe or a device; only regular files are read");
}

}  // namespace

Bytes read_file(const std::string& path, std::size_t limit) {
  struct stat status {};
  if (::stat(path.c_str(), &status) != 0) fail_to_read(path);
  refuse_irregular(status, path);
  // A pipe that has come in between must not make us wait.
  const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  if (file.get() < 0 || ::fstat(file.get(), &status) != 0) fail_to_read(path);
  refuse_irregular(status, path);
  Bytes bytes;
  bytes.reserve(std::min(limit, static_cast<std::size_t>(std::max<off_t>(status.st_size, 0)) + 1));
  std::array<std::uint8_t, 65536> block;
  while (true) {
    const ssize_t n = ::read(file.get(), block.data(), block.size());
    if (n < 0) {
      if (errno == EINTR) continue;
      fail_to_read(path);
    }
    if (n == 0) return bytes;
    if (bytes.size() + static_cast<std::size_t>(n) > limit)
      throw Error({.file = path}, fmt::format("is too large; at most {} bytes are read", limit));
    bytes.insert(bytes.end(), block.begin(), block.begin() + n);
  }
}

bool is_there(const std::string& path) {
  struct stat status {};
  return ::lstat(path.c_str(), &status) == 0 || (errno != ENOENT && errno != ENOTDIR);
}

std::string_view as_text(const Bytes& bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

void write_file(const std::string& path, std::string_view contents, const FileCalls& calls,
                const std::string& shown) {
  FileWriter writer(path, calls, shown);
  writer.write(contents);
  writer.commit();
}

void flush_folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  const std::string folder = slash == std::string::npos ? "." : path.substr(0, slash + 1);
  const Descriptor opened(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (opened.get() >= 0) ::fsync(opened.get());
}

void write_file(const std::string& path, std::string_view contents) {
  write_file(path, contents, FileCalls(), path);
}

void write_file(const std::string& path, const Bytes& contents) {
  write_file(path, as_text(contents));
}

Error file_error(const std::string& path, std::string_view doing, const std::error_code& reason,
                 std::string_view remedy) {
  return {{.file = path},
          fmt::format("could not {}: {}; {}", doing, reason.message(), remedy),
          kind_of(reason.value())};
}

std::error_code last_reason() {
  return {errno, std::generic_category()};
}

std::string sha256(std::string_view contents) {
  Sha256 sum;
  sum.add(contents);
  return sum.hex();
}

}  // namespace combwright
