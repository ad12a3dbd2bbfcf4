// SPDX-License-Identifier: Apache-2.0
#include "app/single_file.h"

#include <filesystem>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include "app/scratch_folder.h"
#include "base/error.h"

namespace combwright::app {
namespace {

using ::testing::HasSubstr;

class SingleFiles : public testing::ScratchFolder {
 protected:
  SingleFile file(const std::string& name, bool force = false) const {
    return {path(name), "Tune, played by box", force};
  }

  static std::string message_of(const SingleFile& file) {
    try {
      write_single(file, "new");
    } catch (const Error& error) {
      return error.what();
    }
    return "no error";
  }
};

TEST_F(SingleFiles, OneThatDoesNotBearTheProgramsNameIsKeptUnlessForced) {
  put("mine.wav", "RIFF something");
  EXPECT_THAT(message_of(file("mine.wav")),
              HasSubstr("is not this program's work; choose another name or give --force"));
  EXPECT_EQ(message_of(file("mine.wav", true)), "no error");
  EXPECT_EQ(contents("mine.wav"), "new");
}

TEST_F(SingleFiles, WhatTheCommandReadsIsKeptEvenIfForced) {
  put("box.toml", "name = \"bramble\"");
  SingleFile output = file("box.toml", true);
  output.inputs = {path("tune.mid"), path("box.toml")};
  EXPECT_THAT(message_of(output), HasSubstr("is what the command reads"));
  EXPECT_EQ(contents("box.toml"), "name = \"bramble\"");
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

TEST_F(SingleFiles, ADeviceOrAPipeIsNeverReplaced) {
  ASSERT_EQ(::mkfifo(path("pipe").c_str(), 0600), 0);
  for (const bool force : {false, true}) {
    EXPECT_THAT(message_of(file("pipe", force)), HasSubstr("is a device or a pipe, not a file"));
    EXPECT_TRUE(std::filesystem::is_fifo(path("pipe")));
    // Only looked at: whoever runs the tests might be allowed to replace it.
    EXPECT_THROW(check_single({"/dev/null", "Tune, played by box", force}), Error);
  }
}

}  // namespace
}  // namespace combwright::app
