// SPDX-License-Identifier: Apache-2.0
#include "app/output.h"

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <new>
#include <set>
#include <stdexcept>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/scratch_folder.h"
#include "base/error.h"

namespace combwright::app {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

class Output : public testing::ScratchFolder {
 protected:
  std::set<std::string> names(const std::string& folder) const {
    std::set<std::string> found;
    for (const auto& entry : fs::directory_iterator(root_ / folder))
      found.insert(entry.path().filename().string());
    return found;
  }

  OutputFolder folder() const { return {path("out"), "box", "tune", false}; }
  OutputFolder forced() const { return {path("out"), "box", "tune", true}; }

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
};

TEST_F(Output, WritesAllFilesAndTheirSums) {
  write_folder(folder(), {file("a.txt", "one"), file("b.txt", "abc")});
  EXPECT_EQ(contents("out/a.txt"), "one");
  // The sum of "abc" is the worked example of FIPS 180-4 (appendix of the earlier FIPS 180-2, B.1).
  EXPECT_THAT(contents("out/SHA256SUMS"),
              HasSubstr("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  b.txt"));
  EXPECT_EQ(names(""), std::set<std::string>{"out"});
}

TEST_F(Output, ItsOwnEarlierFilesAreReplaced) {
  write_folder(folder(), {file("a.txt", "one")});
  write_folder(folder(), {file("a.txt", "two")});
  EXPECT_EQ(contents("out/a.txt"), "two");
}

TEST_F(Output, AFileThatSomeoneChangedIsKept) {
  write_folder(folder(), {file("a.txt", "one")});
  put("out/a.txt", "mine now");
  EXPECT_EQ(message_of([&] { write_folder(folder(), {file("a.txt", "two")}); }),
            path("out") +
                "/a.txt: is there already and is not as this program wrote it; choose another "
                "folder or give --force");
  EXPECT_EQ(contents("out/a.txt"), "mine now");
}

TEST_F(Output, AForeignFileOfTheSameNameIsKeptUnlessForced) {
  fs::create_directory(path("out"));
  put("out/a.txt", "mine");
  EXPECT_THROW(write_folder(folder(), {file("b.txt", "b"), file("a.txt", "two")}), Error);
  EXPECT_EQ(names("out"), std::set<std::string>{"a.txt"});
  write_folder(forced(), {file("a.txt", "two")});
  EXPECT_EQ(contents("out/a.txt"), "two");
}

TEST_F(Output, OtherFilesOfTheFolderStay) {
  fs::create_directory(path("out"));
  put("out/notes.txt", "mine");
  write_folder(folder(), {file("a.txt", "one")});
  EXPECT_EQ(contents("out/notes.txt"), "mine");
}

TEST_F(Output, EarlierOutputThatIsNotMadeAgainGoes) {
  write_folder(folder(), {file("a.txt", "one"), file("b.txt", "of the old disc")});
  write_folder(folder(), {file("a.txt", "two")});
  EXPECT_EQ(names("out"), (std::set<std::string>{"a.txt", "SHA256SUMS"}));
}

TEST_F(Output, AListThatPointsOutOfTheFolderIsNotFollowed) {
  fs::create_directory(path("out"));
  put("victim.txt", "abc");
  put("out/SHA256SUMS",
      "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  ../victim.txt\n");
  write_folder(forced(), {file("a.txt", "one")});
  EXPECT_EQ(contents("victim.txt"), "abc");
}

TEST_F(Output, NothingIsLeftWhenOneFileCannotBeMade) {
  const OutputFile bad{"b.txt", "a test", []() -> std::string { throw Error({}, "no room"); }};
  EXPECT_THROW(write_folder(folder(), {file("a.txt", "one"), bad}), Error);
  EXPECT_TRUE(names("").empty());
}

TEST_F(Output, AnOldFolderIsUntouchedWhenOneFileCannotBeMade) {
  write_folder(folder(), {file("a.txt", "one")});
  const OutputFile bad{"b.txt", "a test", []() -> std::string { throw Error({}, "no room"); }};
  EXPECT_THROW(write_folder(folder(), {file("a.txt", "two"), bad}), Error);
  EXPECT_EQ(contents("out/a.txt"), "one");
  EXPECT_EQ(names("out"), (std::set<std::string>{"a.txt", "SHA256SUMS"}));
}

TEST_F(Output, AFolderThatCannotBeIsRefused) {
  put("file", "x");
  EXPECT_THAT(message_of([&] { check_folder_path(path("file")); }),
              HasSubstr("is a file; --out names a folder"));
  EXPECT_THAT(message_of([&] { check_folder_path(path("file/below")); }),
              HasSubstr("/file is no folder; name another"));
  EXPECT_EQ(message_of([&] { check_folder_path(""); }), "--out is empty; name a folder");
  const std::string long_name = path(std::string(300, 'x'));
  EXPECT_EQ(message_of([&] { check_folder_path(long_name); }),
            long_name + ": could not write: File name too long; name another folder");
}

TEST_F(Output, FoldersThatAreMissingAreMadeOnTheWay) {
  write_folder({path("a/b/c"), "box", "tune", false}, {file("a.txt", "one")});
  EXPECT_EQ(contents("a/b/c/a.txt"), "one");
  EXPECT_EQ(names(""), std::set<std::string>{"a"});
}

TEST_F(Output, NoFolderIsLeftOnTheWayWhenOneFileCannotBeMade) {
  const OutputFile bad{"b.txt", "a test", []() -> std::string { throw Error({}, "no room"); }};
  EXPECT_THROW(write_folder({path("a/b/c"), "box", "tune", false}, {bad}), Error);
  EXPECT_TRUE(names("").empty());
}

TEST_F(Output, AFolderInTheWayOfAFileIsKeptEvenIfForced) {
  fs::create_directories(path("out/a.txt/deep"));
  EXPECT_THAT(message_of([&] { write_folder(forced(), {file("a.txt", "one")}); }),
              HasSubstr("/a.txt: is a folder where a file is to be written; move it away"));
  EXPECT_TRUE(fs::exists(path("out/a.txt/deep")));
}

TEST_F(Output, AnotherTunesOrBoxesDiscIsKeptUnlessForced) {
  write_folder(folder(), {file("a.txt", "one"), file("b.txt", "two")});
  for (const OutputFolder& other : {OutputFolder{path("out"), "box", "other", false},
                                    OutputFolder{path("out"), "other", "tune", false}}) {
    EXPECT_EQ(message_of([&] { write_folder(other, {file("a.txt", "new")}); }),
              path("out") +
                  ": holds the disc of \"tune\" for the box \"box\"; choose another folder or give "
                  "--force");
    EXPECT_EQ(contents("out/a.txt"), "one");
  }
  write_folder({path("out"), "box", "other", true}, {file("a.txt", "new")});
  EXPECT_EQ(names("out"), (std::set<std::string>{"a.txt", "SHA256SUMS"}));
}

TEST_F(Output, ANameWithALineBreakIsKnownAgain) {
  const OutputFolder odd{path("out"), "box", "two\nlines", false};
  write_folder(odd, {file("a.txt", "one")});
  write_folder(odd, {file("a.txt", "two")});
  EXPECT_EQ(contents("out/a.txt"), "two");
}

// Counts the renamings and lets one of them fail.
int renamings = 0;
int failing = 0;

int rename_or_fail(const char* from, const char* to) {
  if (++renamings != failing) return std::rename(from, to);
  errno = EIO;
  return -1;
}

// Every renaming on the way to the new folder is made to fail in its turn: the folder is as it was.
TEST_F(Output, WhicheverRenamingFailsTheOldFolderIsBack) {
  write_folder(folder(), {file("a.txt", "one"), file("b.txt", "two"), file("old.txt", "three")});
  put("out/notes.txt", "mine");
  const std::string list = contents("out/SHA256SUMS");
  FileCalls calls;
  calls.rename = rename_or_fail;
  const std::vector<OutputFile> files = {file("a.txt", "new"), file("b.txt", "new"),
                                         file("c.txt", "new")};
  bool done = false;
  for (failing = 1; !done; ++failing) {
    ASSERT_LT(failing, 100);
    renamings = 0;
    try {
      write_folder(folder(), files, calls);
      done = true;
    } catch (const Error& error) {
      EXPECT_EQ(error.kind(), Error::Kind::machine);
      EXPECT_THAT(error.what(), HasSubstr("could not write: Input/output error"));
      EXPECT_EQ(names("out"),
                (std::set<std::string>{"a.txt", "b.txt", "old.txt", "notes.txt", "SHA256SUMS"}));
      EXPECT_EQ(contents("out/a.txt") + contents("out/b.txt"), "onetwo");
      EXPECT_EQ(contents("out/SHA256SUMS"), list);
    }
  }
  // 4 files are written, 4 old ones put away, 4 new ones put in.
  EXPECT_EQ(failing - 2, 12);
  EXPECT_EQ(names("out"),
            (std::set<std::string>{"a.txt", "b.txt", "c.txt", "notes.txt", "SHA256SUMS"}));
}

TEST_F(Output, WhicheverRenamingFailsNoNewFolderIsLeft) {
  FileCalls calls;
  calls.rename = rename_or_fail;
  for (failing = 1; failing <= 3; ++failing) {  // two files, then the folder
    renamings = 0;
    EXPECT_THROW(write_folder(folder(), {file("a.txt", "one")}, calls), Error);
    EXPECT_TRUE(names("").empty());
  }
}

TEST_F(Output, AFolderThatCannotEvenBePutBackLosesNothing) {
  write_folder(folder(), {file("a.txt", "one")});
  FileCalls calls;
  // From the second renaming on that concerns the old files nothing works any more.
  static bool broken;
  broken = false;
  calls.rename = [](const char* from, const char* to) {
    const bool old = std::string_view(to).find("/old/") != std::string_view::npos;
    if (!broken && old && std::string_view(to).ends_with("a.txt")) broken = true;
    if (!broken) return std::rename(from, to);
    errno = EIO;
    return -1;
  };
  const std::string message =
      message_of([&] { write_folder(folder(), {file("a.txt", "two")}, calls); });
  EXPECT_THAT(message, HasSubstr("could not be written, nor put back as it was"));
  EXPECT_EQ(contents("out/a.txt"), "one");
  const std::string kept = message.substr(message.rfind(' ') + 1);
  EXPECT_TRUE(fs::exists(kept + "/old/SHA256SUMS")) << kept;
}

TEST_F(Output, MemoryThatRunsOutAmidTheSwapLosesNothing) {
  write_folder(folder(), {file("a.txt", "one"), file("b.txt", "two")});
  FileCalls calls;
  calls.rename = [](const char* from, const char* to) {
    const std::string_view target(to);
    if (target.find("/old/") != std::string_view::npos && target.ends_with("b.txt"))
      throw std::bad_alloc();
    return std::rename(from, to);
  };
  EXPECT_THROW(write_folder(folder(), {file("a.txt", "new"), file("b.txt", "new")}, calls),
               std::bad_alloc);
  EXPECT_EQ(names("out"), (std::set<std::string>{"a.txt", "b.txt", "SHA256SUMS"}));
  EXPECT_EQ(contents("out/a.txt") + contents("out/b.txt"), "onetwo");
}

}  // namespace
}  // namespace combwright::app
