// SPDX-License-Identifier: Apache-2.0
#include "records/database.h"

#include <array>
#include <filesystem>
#include <memory>
#include <optional>

#include <gmock/gmock.h>
#include <sqlite3.h>

#include "base/file.h"
#include "records/engine/connection.h"
#include "records/engine/place.h"
#include "records/engine/schema.h"
#include "records/listing.h"
#include "records/made_records.h"

namespace combwright::records {
namespace {

using ::testing::HasSubstr;
using testing::made_comb;
using testing::made_reading;
using testing::refusal;

class Records : public testing::RecordsTest {
 protected:
  void make(int readings = 1) const {
    Database database(path(), Access::begin);
    for (int i = 0; i < readings; ++i)
      file_reading(database, made_comb(), 1 + i % 3, made_reading(), {});
  }

  // As another program would, with none of our care.
  void change(const std::string& file, const std::string& sql) const {
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open(path(file).c_str(), &handle), SQLITE_OK);
    EXPECT_EQ(sqlite3_exec(handle, sql.c_str(), nullptr, nullptr, nullptr), SQLITE_OK)
        << sqlite3_errmsg(handle);
    sqlite3_close(handle);
  }
};

std::string text_of(Connection& connection, const std::string& sql) {
  Statement rows(connection, sql);
  return rows.step() ? rows.text(0) : "";
}

TEST_F(Records, AreMadeOnlyWhenAReadingIsToBeFiled) {
  EXPECT_THAT(refusal([&] { Database(path(), Access::look); }), HasSubstr("No such file"));
  EXPECT_FALSE(std::filesystem::exists(path()));
  Database(path(), Access::begin);
  EXPECT_EQ(counts(Database(path(), Access::look)).readings, 0);
}

TEST_F(Records, AreNotMadeBesideALogThatLostItsFile) {
  put("records.db-wal", "may hold readings");
  EXPECT_THAT(refusal([&] { Database(path(), Access::begin); }),
              HasSubstr("is the log of " + path()));
  EXPECT_FALSE(std::filesystem::exists(path()));
  EXPECT_EQ(contents("records.db-wal"), "may hold readings");
}

TEST_F(Records, ArePlainlyNamedAndLeaveNothingBesideThem) {
  for (const std::string name : {":memory:", "file:a?mode=memory", "100%.db", "a b\n.db"}) {
    const auto before = std::filesystem::current_path();
    std::filesystem::current_path(root_);
    Database(name, Access::begin);
    EXPECT_EQ(counts(Database(name, Access::look)).boxes, 0);
    std::filesystem::current_path(before);
    EXPECT_TRUE(std::filesystem::exists(path(name)));
  }
  int files = 0;
  for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(root_)) ++files;
  EXPECT_EQ(files, 4);
}

TEST_F(Records, FlushEveryChangeAndKeepTheLinks) {
  make();
  const Database database(path(), Access::change);
  Connection& connection = database.connection();
  EXPECT_EQ(text_of(connection, "PRAGMA journal_mode"), "wal");
  EXPECT_EQ(text_of(connection, "PRAGMA synchronous"), "2");  // FULL (sqlite.org/pragma.html)
  EXPECT_EQ(text_of(connection, "PRAGMA foreign_keys"), "1");
  EXPECT_EQ(text_of(connection, "PRAGMA busy_timeout"), "10000");
  EXPECT_ANY_THROW(connection.run("DELETE FROM teeth"));
  EXPECT_ANY_THROW(connection.run("UPDATE readings SET tooth = 99"));
  EXPECT_ANY_THROW(connection.run("UPDATE readings SET frequency_hz = 'high'"));
  EXPECT_ANY_THROW(connection.run("UPDATE readings SET frequency_hz = -1"));
}

// POSIX locks go when any descriptor of the file is closed. If opening the records a second time
// let go those of the first, another process would take itself for the last and take the log away.
TEST_F(Records, StayLockedWhenOpenedAgainInTheSameProcess) {
  if (std::system("command -v sqlite3 >/dev/null") != 0) GTEST_SKIP() << "sqlite3 is not installed";
  make();
  Database filing(path(), Access::change);
  file_reading(filing, made_comb(), 1, made_reading(), {});
  ASSERT_TRUE(std::filesystem::exists(path("records.db-wal")));
  EXPECT_EQ(counts(Database(path(), Access::look)).readings, 2);
  const std::string another = "sqlite3 '" + path() + "' 'SELECT count(*) FROM readings' >/dev/null";
  ASSERT_EQ(std::system(another.c_str()), 0);
  EXPECT_TRUE(std::filesystem::exists(path("records.db-wal")));
}

TEST_F(Records, AreNotChangedByLooking) {
  make();
  const Database database(path(), Access::look);
  EXPECT_ANY_THROW(database.connection().run("DELETE FROM readings"));
  EXPECT_EQ(counts(database).readings, 1);
}

TEST_F(Records, OfVersionOneAreReadForEver) {
  // Written once by version 1 (sqlite3's .dump) and never to be changed.
  const std::string fixture = COMBWRIGHT_SOURCE_DIR "/tests/records/version_1.sql";
  change("old.db", std::string(as_text(read_file(fixture))));
  const Database database(path("old.db"), Access::change);
  const auto history = tooth_history(database, "larkspur", "front", 1);
  ASSERT_EQ(history.size(), 2U);
  EXPECT_EQ(history[1].reading.frequency_hz, 258.25);
  EXPECT_EQ(taken_m(history[1].work, WorkKind::clip), 0.00035);
  EXPECT_EQ(history[1].reading.recording->file, "c4.wav");
  EXPECT_EQ(history[1].reading.partials.at(0).frequency_hz, 1621.5);
  EXPECT_EQ(list_tests(database, {}).at(0).test.remark, "plays a whole turn");
  EXPECT_EQ(version_of(database.connection()), current_version());
}

TEST_F(Records, AreBroughtUpToDateWholeOrNotAtAll) {
  make();
  Connection connection(path(), path(), Connection::Mode::write);
  const std::array good{"", "ALTER TABLE boxes ADD COLUMN colour TEXT"};
  const std::array bad{"", "ALTER TABLE boxes ADD COLUMN colour TEXT", "ALTER TABLE none ADD x"};
  EXPECT_ANY_THROW(bring_up_to_date(connection, bad));
  EXPECT_EQ(version_of(connection), 1);
  EXPECT_EQ(text_of(connection, "SELECT count(*) FROM pragma_table_info('boxes')"), "2");
  bring_up_to_date(connection, good);
  EXPECT_EQ(version_of(connection), 2);
  EXPECT_EQ(text_of(connection, "SELECT count(*) FROM readings"), "1");
  EXPECT_EQ(text_of(connection, "SELECT count(*) FROM pragma_table_info('boxes')"), "3");
}

TEST_F(Records, OfANewerProgramAreLeftAsTheyAre) {
  make();
  change("records.db", "PRAGMA user_version = 99");
  const std::string before = contents();
  EXPECT_EQ(refusal([&] { Database(path(), Access::change); }),
            "was written by a newer combwright (records of version 99, this one knows up to 1); "
            "take that one");
  EXPECT_EQ(contents(), before);
}

TEST_F(Records, AreCopiedWhileOthersFile) {
  make(5);
  Database filing(path(), Access::change);
  const Database looking(path(), Access::look);
  EXPECT_EQ(back_up(looking, path("copy.db"), false).readings, counts(looking).readings);
  file_reading(filing, made_comb(), 1, made_reading(), {});
  EXPECT_THAT(refusal([&] { back_up(looking, path("copy.db"), false); }),
              HasSubstr("is there already"));
  EXPECT_EQ(counts(Database(path("copy.db"), Access::look)).readings, 5);
  back_up(looking, path("copy.db"), true);
  EXPECT_EQ(counts(Database(path("copy.db"), Access::look)).readings, 6);
  EXPECT_EQ(contents("copy.db").substr(18, 2), "\1\1");  // no log: "Database File Format", 1.3
  const Database working(path("copy.db"), Access::change);
  EXPECT_EQ(text_of(working.connection(), "PRAGMA journal_mode"), "wal");
}

TEST_F(Records, AreNeverOverwrittenByTheirCopy) {
  make();
  const Database database(path(), Access::look);
  EXPECT_THAT(refusal([&] { back_up(database, path(), true); }), HasSubstr("own file"));
  put("busy.db", "");
  put("busy.db-wal", "log");
  EXPECT_THAT(refusal([&] { back_up(database, path("busy.db"), true); }), HasSubstr("in use"));
  EXPECT_EQ(contents("busy.db-wal"), "log");
}

TEST_F(Records, ANewFileInItsPlaceLetsGoOfItsTemporaryName) {
  std::optional<NewFile> first(path());
  const std::string name = first->path();
  ASSERT_TRUE(first->put_in_place(false));
  const NewFile second(path());  // as another program does meanwhile
  ASSERT_EQ(second.path(), name);
  first.reset();
  EXPECT_TRUE(std::filesystem::exists(name));
}

}  // namespace
}  // namespace combwright::records
