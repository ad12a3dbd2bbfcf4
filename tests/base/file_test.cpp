// SPDX-License-Identifier: Apache-2.0
#include "base/file.h"

#include <cerrno>
#include <filesystem>
#include <string>

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"
#include "base/file_calls.h"
#include "base/file_writer.h"
#include "base/sha256.h"

namespace combwright {
namespace {

class File : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = testing::TempDir() + "combwright.XXXXXX";
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
    path_ = folder_ + "/result.txt";
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::string contents() const { return std::string(as_text(read_file(path_))); }
  std::ptrdiff_t files() const {
    return std::distance(std::filesystem::directory_iterator(folder_), {});
  }

  // The old file stands, nothing else is left, and the error says so.
  void expect_untouched(const FileCalls& calls, const std::string& reason) {
    write_file(path_, "old");
    try {
      write_file(path_, "new and longer", calls, path_);
      ADD_FAILURE() << "no error";
    } catch (const Error& error) {
      EXPECT_EQ(error.what(), path_ + ": could not write: " + reason + "; nothing was changed");
      EXPECT_EQ(error.kind(), Error::Kind::machine);
    }
    EXPECT_EQ(contents(), "old");
    EXPECT_EQ(files(), 1);
  }

  std::string folder_;
  std::string path_;
};

TEST_F(File, what_was_written_is_read_back) {
  const std::string all("\0\xff\r\n", 4);
  write_file(path_, all);
  EXPECT_EQ(contents(), all);
  write_file(path_, Bytes{1, 2, 3});
  EXPECT_EQ(read_file(path_), (Bytes{1, 2, 3}));
}

TEST_F(File, parts_make_a_whole_or_nothing) {
  write_file(path_, "old");
  {
    FileWriter given_up(path_);
    given_up.write("new");
    given_up.flush();
    EXPECT_EQ(contents(), "old");
    EXPECT_EQ(files(), 2);
  }
  EXPECT_EQ(contents(), "old");
  EXPECT_EQ(files(), 1);
  FileWriter writer(path_);
  for (const char* part : {"one", "", ", two"}) writer.write(part);
  writer.commit();
  EXPECT_EQ(contents(), "one, two");
  EXPECT_EQ(files(), 1);
}

// FIPS 180-4's example of two blocks.
TEST(Sha256, of_parts_is_that_of_the_whole) {
  Sha256 sum;
  for (const char* part : {"abcdbcdecdefdefgefghfghigh", "", "ijhijkijkljklmklmnlmnomnopnopq"})
    sum.add(part);
  EXPECT_EQ(sum.hex(), "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}

// No process writes to the pipe: to open it as usual would wait for ever.
TEST_F(File, a_pipe_or_a_device_is_refused_at_once) {
  ASSERT_EQ(::mkfifo(path_.c_str(), 0600), 0);
  for (const std::string& path : {path_, std::string("/dev/zero"), std::string("/dev/null")}) {
    try {
      read_file(path);
      ADD_FAILURE() << "no error";
    } catch (const Error& error) {
      EXPECT_EQ(error.what(), path + ": is a pipe or a device; only regular files are read");
      EXPECT_EQ(error.kind(), Error::Kind::request);
    }
  }
}

TEST_F(File, a_written_file_has_the_permissions_of_the_umask) {
  const mode_t old = ::umask(022);
  write_file(path_, "x");
  ::umask(old);
  struct stat status {};
  ASSERT_EQ(::stat(path_.c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0644U);
}

TEST_F(File, a_left_over_part_of_a_killed_run_is_not_in_the_way) {
  write_file(path_ + ".part0", "left over");
  write_file(path_, "x");
  EXPECT_EQ(contents(), "x");
}

TEST_F(File, a_full_disk_leaves_the_old_file) {
  FileCalls calls;
  calls.write = [](int, const void*, std::size_t) -> ssize_t {
    errno = ENOSPC;
    return -1;
  };
  expect_untouched(calls, "No space left on device");
}

TEST_F(File, a_disk_that_fills_half_way_leaves_the_old_file) {
  FileCalls calls;
  calls.write = [](int fd, const void* data, std::size_t size) -> ssize_t {
    if (size > 5) return ::write(fd, data, 5);
    errno = ENOSPC;
    return -1;
  };
  expect_untouched(calls, "No space left on device");
}

TEST_F(File, a_failing_flush_leaves_the_old_file) {
  FileCalls calls;
  calls.fsync = [](int) {
    errno = EIO;
    return -1;
  };
  expect_untouched(calls, "Input/output error");
}

TEST_F(File, a_failing_close_leaves_the_old_file) {
  FileCalls calls;
  calls.close = [](int fd) {
    ::close(fd);
    errno = EDQUOT;
    return -1;
  };
  expect_untouched(calls, "Disk quota exceeded");
}

TEST_F(File, a_failing_rename_leaves_the_old_file) {
  FileCalls calls;
  calls.rename = [](const char*, const char*) {
    errno = EACCES;
    return -1;
  };
  expect_untouched(calls, "Permission denied");
}

TEST_F(File, short_and_interrupted_writes_are_carried_on) {
  FileCalls calls;
  calls.write = [](int fd, const void* data, std::size_t size) -> ssize_t {
    if (size % 2 == 0) return ::write(fd, data, 1);
    static bool again = false;
    again = !again;
    if (!again) return ::write(fd, data, 1);
    errno = EINTR;
    return -1;
  };
  write_file(path_, "in small pieces", calls, path_);
  EXPECT_EQ(contents(), "in small pieces");
}

TEST_F(File, a_missing_folder_is_the_requests_fault) {
  try {
    write_file(folder_ + "/none/result.txt", "x");
    FAIL() << "no error";
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), Error::Kind::request);
  }
}

TEST_F(File, a_missing_file_a_folder_and_a_large_file_are_refused) {
  const auto message = [](const std::string& path, std::size_t limit) -> std::string {
    try {
      read_file(path, limit);
    } catch (const Error& error) {
      EXPECT_EQ(error.kind(), Error::Kind::request);
      return error.what();
    }
    return "no error";
  };
  write_file(path_, "four");
  EXPECT_EQ(message(folder_ + "/none", 10),
            folder_ +
                "/none: could not read: No such file or directory; name a file that can be "
                "read");
  EXPECT_EQ(message(folder_, 10), folder_ + ": is a folder; name a file in it");
  EXPECT_EQ(message(path_, 3), path_ + ": is too large; at most 3 bytes are read");
  EXPECT_EQ(message(path_, 4), "no error");
}

TEST_F(File, an_endless_file_is_refused_at_the_limit) {
  EXPECT_THROW(read_file("/dev/zero", std::size_t{1} << 20), Error);
}

// NIST, "Examples with Intermediate Values" for FIPS 180-4 (SHA-256: one block, two blocks), and
// the empty message of the same organisation's test vectors (SHA256ShortMsg.rsp, Len = 0).
TEST(Sha256, agrees_with_the_published_examples) {
  EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

}  // namespace
}  // namespace combwright
