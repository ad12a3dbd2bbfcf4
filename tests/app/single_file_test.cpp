// SPDX-License-Identifier: Apache-2.0
#include "app/single_file.h"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"

namespace combwright::app {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

class SingleFiles : public testing::Test {
 protected:
  SingleFiles() {
    std::string name = (fs::temp_directory_path() / "combwright.XXXXXX").string();
    root_ = ::mkdtemp(name.data());
  }
  ~SingleFiles() override { fs::remove_all(root_); }

  SingleFile file(const std::string& name, bool force = false) const {
    return {(root_ / name).string(), "Tune, played by box", force};
  }

  std::string contents(const std::string& name) const {
    std::ostringstream text;
    text << std::ifstream(root_ / name, std::ios::binary).rdbuf();
    return text.str();
  }

  void put(const std::string& name, const std::string& text) const {
    std::ofstream(root_ / name, std::ios::binary) << text;
  }

  static std::string message_of(const SingleFile& file) {
    try {
      write_single(file, "new");
    } catch (const Error& error) {
      return error.what();
    }
    return "no error";
  }

  fs::path root_;
};

TEST_F(SingleFiles, OneThatDoesNotBearTheProgramsNameIsKeptUnlessForced) {
  put("mine.wav", "RIFF something");
  EXPECT_THAT(message_of(file("mine.wav")),
              HasSubstr("is not this program's work; choose another name or give --force"));
  EXPECT_EQ(message_of(file("mine.wav", true)), "no error");
  EXPECT_EQ(contents("mine.wav"), "new");
}

TEST_F(SingleFiles, OneOfTheSameTuneAndBoxIsReplaced) {
  put("ours.wav", "RIFF Tune, played by box, made by combwright");
  EXPECT_EQ(message_of(file("ours.wav")), "no error");
  EXPECT_EQ(contents("ours.wav"), "new");
}

TEST_F(SingleFiles, OneOfAnotherTuneIsKept) {
  put("ours.wav", "RIFF Other, played by box, made by combwright");
  EXPECT_THAT(message_of(file("ours.wav")), HasSubstr("holds another tune or box"));
}

TEST_F(SingleFiles, AFolderIsNoFileAndAnOverlongNameIsToldAsSuch) {
  EXPECT_THAT(message_of(file(".", true)), HasSubstr("is a folder; name a file"));
  EXPECT_THAT(message_of(file(std::string(300, 'x'))),
              HasSubstr("could not write: File name too long; name another file"));
}

}  // namespace
}  // namespace combwright::app
