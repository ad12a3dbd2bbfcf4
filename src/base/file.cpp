// SPDX-License-Identifier: Apache-2.0
#include "base/file.h"

#include <array>
#include <cerrno>
#include <cstring>

#include <fcntl.h>
#include <fmt/format.h>
#include <openssl/evp.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"

namespace combwright {
namespace {

[[noreturn]] void fail(const std::string& path, const char* doing, Error::Kind kind) {
  throw Error({.file = path}, fmt::format("could not {}: {}", doing, std::strerror(errno)), kind);
}

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd_ >= 0) ::close(fd_);
  }

  int get() const { return fd_; }
  int close() {
    const int fd = fd_;
    fd_ = -1;
    return ::close(fd);
  }

 private:
  int fd_;
};

void write_all(int fd, const char* data, std::size_t size, const std::string& path) {
  while (size > 0) {
    const ssize_t n = ::write(fd, data, size);
    if (n < 0) {
      if (errno == EINTR) continue;
      fail(path, "write", Error::Kind::machine);
    }
    data += n;
    size -= static_cast<std::size_t>(n);
  }
}

}  // namespace

Bytes read_file(const std::string& path, std::size_t limit) {
  const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (file.get() < 0) {
    const bool refused = errno == EACCES;
    fail(path, "open", refused ? Error::Kind::machine : Error::Kind::request);
  }
  struct stat status {};
  if (::fstat(file.get(), &status) != 0) fail(path, "read", Error::Kind::machine);
  if (S_ISDIR(status.st_mode)) throw Error({.file = path}, "is a folder; name a file in it");
  Bytes bytes;
  bytes.reserve(std::min(limit, static_cast<std::size_t>(std::max<off_t>(status.st_size, 0)) + 1));
  std::array<std::uint8_t, 65536> block;
  while (true) {
    const ssize_t n = ::read(file.get(), block.data(), block.size());
    if (n < 0) {
      if (errno == EINTR) continue;
      fail(path, "read", Error::Kind::machine);
    }
    if (n == 0) return bytes;
    if (bytes.size() + static_cast<std::size_t>(n) > limit)
      throw Error({.file = path}, fmt::format("is larger than the limit of {} MB", limit >> 20));
    bytes.insert(bytes.end(), block.begin(), block.begin() + n);
  }
}

std::string_view as_text(const Bytes& bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

void write_file(const std::string& path, std::string_view contents) {
  std::string temporary = path + ".XXXXXX";
  Descriptor file(::mkostemp(temporary.data(), O_CLOEXEC));
  if (file.get() < 0) fail(path, "write", Error::Kind::machine);
  try {
    write_all(file.get(), contents.data(), contents.size(), path);
    // mkostemp makes files that only the owner may read; a result is for the whole workshop.
    const mode_t mask = ::umask(0);
    ::umask(mask);
    if (::fchmod(file.get(), 0666 & ~mask) != 0 || ::fsync(file.get()) != 0 || file.close() != 0)
      fail(path, "write", Error::Kind::machine);
    if (::rename(temporary.c_str(), path.c_str()) != 0) fail(path, "write", Error::Kind::machine);
  } catch (...) {
    ::unlink(temporary.c_str());
    throw;
  }
}

void write_file(const std::string& path, const Bytes& contents) {
  write_file(path, as_text(contents));
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
