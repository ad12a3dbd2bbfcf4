// SPDX-License-Identifier: Apache-2.0
#include "app/output.h"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <stdexcept>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"

namespace combwright::app {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

class Output : public testing::Test {
 protected:
  Output() {
    std::string name = (fs::temp_directory_path() / "combwright.XXXXXX").string();
    root_ = ::mkdtemp(name.data());
  }
  ~Output() override { fs::remove_all(root_); }

  std::string path(const std::string& name) const { return (root_ / name).string(); }

  std::string contents(const std::string& name) const {
    std::ostringstream text;
    text << std::ifstream(root_ / name, std::ios::binary).rdbuf();
    return text.str();
  }

  void put(const std::string& name, const std::string& text) const {
    std::ofstream(root_ / name, std::ios::binary) << text;
  }

  std::set<std::string> names(const std::string& folder) const {
    std::set<std::string> found;
    for (const auto& entry : fs::directory_iterator(root_ / folder))
      found.insert(entry.path().filename().string());
    return found;
  }

  static OutputFile file(const std::string& name, const std::string& text) {
    return {name, "a test", [text] { return text; }};
  }

  template <class Action>
  static std::string message_of(const Action& action) {
    try {
      action();
    } catch (const Error& error) {
      return error.what();
    }
    return {};
  }

  fs::path root_;
};

TEST_F(Output, WritesAllFilesAndTheirSums) {
  write_folder(path("out"), {file("a.txt", "one"), file("b.txt", "abc")}, false);
  EXPECT_EQ(contents("out/a.txt"), "one");
  // The sum of "abc" is the worked example of FIPS 180-4 (appendix of the earlier FIPS 180-2, B.1).
  EXPECT_THAT(contents("out/SHA256SUMS"),
              HasSubstr("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  b.txt"));
  EXPECT_EQ(names(""), std::set<std::string>{"out"});
}

TEST_F(Output, ItsOwnEarlierFilesAreReplaced) {
  write_folder(path("out"), {file("a.txt", "one")}, false);
  write_folder(path("out"), {file("a.txt", "two")}, false);
  EXPECT_EQ(contents("out/a.txt"), "two");
}

TEST_F(Output, AFileThatSomeoneChangedIsKept) {
  write_folder(path("out"), {file("a.txt", "one")}, false);
  put("out/a.txt", "mine now");
  EXPECT_EQ(message_of([&] { write_folder(path("out"), {file("a.txt", "two")}, false); }),
            path("out") +
                "/a.txt: is there already and is not as this program wrote it; choose another "
                "folder or give --force");
  EXPECT_EQ(contents("out/a.txt"), "mine now");
}

TEST_F(Output, AForeignFileOfTheSameNameIsKeptUnlessForced) {
  fs::create_directory(path("out"));
  put("out/a.txt", "mine");
  EXPECT_THROW(write_folder(path("out"), {file("b.txt", "b"), file("a.txt", "two")}, false), Error);
  EXPECT_EQ(names("out"), std::set<std::string>{"a.txt"});
  write_folder(path("out"), {file("a.txt", "two")}, true);
  EXPECT_EQ(contents("out/a.txt"), "two");
}

TEST_F(Output, OtherFilesOfTheFolderStay) {
  fs::create_directory(path("out"));
  put("out/notes.txt", "mine");
  write_folder(path("out"), {file("a.txt", "one")}, false);
  EXPECT_EQ(contents("out/notes.txt"), "mine");
}

TEST_F(Output, EarlierOutputThatIsNotMadeAgainGoes) {
  write_folder(path("out"), {file("a.txt", "one"), file("b.txt", "of the old disc")}, false);
  write_folder(path("out"), {file("a.txt", "two")}, false);
  EXPECT_EQ(names("out"), (std::set<std::string>{"a.txt", "SHA256SUMS"}));
}

TEST_F(Output, AListThatPointsOutOfTheFolderIsNotFollowed) {
  fs::create_directory(path("out"));
  put("victim.txt", "abc");
  put("out/SHA256SUMS",
      "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  ../victim.txt\n");
  write_folder(path("out"), {file("a.txt", "one")}, true);
  EXPECT_EQ(contents("victim.txt"), "abc");
}

TEST_F(Output, NothingIsLeftWhenOneFileCannotBeMade) {
  const OutputFile bad{"b.txt", "a test", []() -> std::string { throw Error({}, "no room"); }};
  EXPECT_THROW(write_folder(path("out"), {file("a.txt", "one"), bad}, false), Error);
  EXPECT_TRUE(names("").empty());
}

TEST_F(Output, AnOldFolderIsUntouchedWhenOneFileCannotBeMade) {
  write_folder(path("out"), {file("a.txt", "one")}, false);
  const OutputFile bad{"b.txt", "a test", []() -> std::string { throw Error({}, "no room"); }};
  EXPECT_THROW(write_folder(path("out"), {file("a.txt", "two"), bad}, false), Error);
  EXPECT_EQ(contents("out/a.txt"), "one");
  EXPECT_EQ(names("out"), (std::set<std::string>{"a.txt", "SHA256SUMS"}));
}

TEST_F(Output, AFolderThatCannotBeIsRefused) {
  put("file", "x");
  EXPECT_THAT(message_of([&] { check_folder(path("file"), {}, false); }),
              HasSubstr("is a file; --out names a folder"));
  EXPECT_THAT(message_of([&] { check_folder(path("no/such"), {}, false); }),
              HasSubstr("which is no folder; make that first"));
}

TEST_F(Output, ASingleFileIsReplacedOnlyIfItCarriesTheProgramsName) {
  put("mine.wav", "RIFF something");
  EXPECT_THAT(message_of([&] { write_single(path("mine.wav"), "new", false); }),
              HasSubstr("is not this program's work; choose another name or give --force"));
  put("ours.wav", "RIFF made by combwright");
  write_single(path("ours.wav"), "combwright again", false);
  EXPECT_EQ(contents("ours.wav"), "combwright again");
  write_single(path("mine.wav"), "new", true);
  EXPECT_EQ(contents("mine.wav"), "new");
}

TEST_F(Output, ASingleFileCannotBeAFolder) {
  EXPECT_THAT(message_of([&] { write_single(root_.string(), "x", true); }),
              HasSubstr("is a folder; name a file"));
}

}  // namespace
}  // namespace combwright::app
