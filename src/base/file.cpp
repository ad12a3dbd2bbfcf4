// SPDX-License-Identifier: Apache-2.0
#include "base/file.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <utility>

#include <fcntl.h>
#include <fmt/format.h>
#include <openssl/evp.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file_calls.h"

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

[[noreturn]] void fail_to_write(const std::string& path) {
  throw file_error(path, "write", last_reason(), "nothing was changed");
}

void refuse_irregular(const struct stat& status, const std::string& path) {
  if (S_ISDIR(status.st_mode)) throw Error({.file = path}, "is a folder; name a file in it");
  if (!S_ISREG(status.st_mode))
    throw Error({.file = path}, "is a pipe or a device; only regular files are read");
}

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(Descriptor&& other) noexcept : fd_(other.release()) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd_ >= 0) ::close(fd_);
  }

  int get() const { return fd_; }
  int release() { return std::exchange(fd_, -1); }

 private:
  int fd_;
};

void write_all(int fd, std::string_view contents, const std::string& path, const FileCalls& calls) {
  while (!contents.empty()) {
    const ssize_t n = calls.write(fd, contents.data(), contents.size());
    if (n < 0) {
      if (errno == EINTR) continue;
      fail_to_write(path);
    }
    contents.remove_prefix(static_cast<std::size_t>(n));
  }
}

// A file that did not exist before, beside `path`, with the permissions that the user's umask
// gives.
Descriptor create_beside(const std::string& path, const std::string& shown,
                         std::string& temporary) {
  constexpr int most_tries = 1000;
  for (int i = 0; i < most_tries; ++i) {
    temporary = fmt::format("{}.part{}", path, i);
    const int fd = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd >= 0) return Descriptor(fd);
    if (errno != EEXIST) break;
  }
  fail_to_write(shown);
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

std::string_view as_text(const Bytes& bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

void write_file(const std::string& path, std::string_view contents, const FileCalls& calls,
                const std::string& shown) {
  std::string temporary;
  Descriptor file = create_beside(path, shown, temporary);
  try {
    write_all(file.get(), contents, shown, calls);
    if (calls.fsync(file.get()) != 0) fail_to_write(shown);
    if (calls.close(file.release()) != 0) fail_to_write(shown);
    if (calls.rename(temporary.c_str(), path.c_str()) != 0) fail_to_write(shown);
  } catch (...) {
    ::unlink(temporary.c_str());
    throw;
  }
  flush_folder_of(path);
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
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned size = 0;
  EVP_Digest(contents.data(), contents.size(), digest.data(), &size, EVP_sha256(), nullptr);
  std::string text;
  for (unsigned i = 0; i < size; ++i) text += fmt::format("{:02x}", digest[i]);
  return text;
}

}  // namespace combwright
