// SPDX-License-Identifier: Apache-2.0
#include <random>

#include <gmock/gmock.h>
#include <sqlite3.h>

#include "records/database.h"
#include "records/listing.h"
#include "records/made_records.h"

namespace combwright::records {
namespace {

using ::testing::AnyOf;
using ::testing::HasSubstr;
using testing::made_comb;
using testing::made_reading;
using testing::refusal;

class Damaged : public testing::RecordsTest {
 protected:
  std::string sound() const {
    Database database(path("sound.db"), Access::begin);
    for (int i = 0; i < 60; ++i) {
      Reading reading = made_reading(250.0 + i);
      reading.who = "M. Weber";
      reading.remark = "reading by reading";
      file_reading(database, made_comb(), 1 + i % 3, reading, {{WorkKind::clip, 1e-4}});
    }
    back_up(database, path("copy.db"), false);
    return contents("copy.db");
  }

  // Everything that a look at the records reads; what was said if it was refused.
  std::string look(const std::string& name) const {
    return refusal([&] {
      const Database database(path(name), Access::look);
      list_readings(database, {});
      list_combs(database, {});
      list_tests(database, {});
    });
  }
};

TEST_F(Damaged, FilesThatAreNoneOfOursAreRefusedAndUntouched) {
  const std::string not_ours = "holds no records of this program; name another file";
  for (const std::string& text :
       {std::string(), std::string("no database"), std::string(5000, '\0'),
        std::string("SQLite format 3\0", 16) + std::string(84, 'x')}) {
    put("other.db", text);
    EXPECT_EQ(refusal([&] { Database(path("other.db"), Access::begin); }), not_ours);
    EXPECT_EQ(contents("other.db"), text);
  }
}

TEST_F(Damaged, TheDatabaseOfAnotherProgramIsNotTouchedNorItsLog) {
  sqlite3* handle = nullptr;
  ASSERT_EQ(sqlite3_open(path("other.db").c_str(), &handle), SQLITE_OK);
  sqlite3_exec(handle, "PRAGMA journal_mode=WAL; CREATE TABLE t(x); INSERT INTO t VALUES(1)",
               nullptr, nullptr, nullptr);
  put("left.db", contents("other.db"));  // as a program that was killed leaves it
  put("left.db-wal", contents("other.db-wal"));
  sqlite3_close(handle);
  const std::string before = contents("left.db"), log = contents("left.db-wal");
  EXPECT_THAT(refusal([&] { Database(path("left.db"), Access::change); }),
              HasSubstr("holds no records of this program"));
  EXPECT_EQ(contents("left.db"), before);
  EXPECT_EQ(contents("left.db-wal"), log);
}

TEST_F(Damaged, AFileCutShortIsNamedAndUntouched) {
  const std::string whole = sound();
  for (const std::size_t share : {1, 2, 3, 5, 7}) {
    const std::string cut = whole.substr(0, whole.size() * share / 8);
    put("cut.db", cut);
    EXPECT_THAT(look("cut.db"), HasSubstr("is damaged"));
    EXPECT_THAT(refusal([&] { Database(path("cut.db"), Access::change); }),
                HasSubstr("is damaged"));
    EXPECT_EQ(contents("cut.db"), cut);
  }
}

TEST_F(Damaged, ATableOfSomebodyElseIsNamed) {
  put("odd.db", sound());
  sqlite3* handle = nullptr;
  ASSERT_EQ(sqlite3_open(path("odd.db").c_str(), &handle), SQLITE_OK);
  sqlite3_exec(handle, "CREATE TRIGGER t AFTER INSERT ON readings BEGIN DELETE FROM readings; END",
               nullptr, nullptr, nullptr);
  sqlite3_close(handle);
  EXPECT_THAT(look("odd.db"), HasSubstr("its tables are not ours"));
}

TEST_F(Damaged, ALostLinkIsNamed) {
  put("odd.db", sound());
  sqlite3* handle = nullptr;
  ASSERT_EQ(sqlite3_open(path("odd.db").c_str(), &handle), SQLITE_OK);
  sqlite3_exec(handle, "PRAGMA foreign_keys=OFF; DELETE FROM teeth WHERE track = 2", nullptr,
               nullptr, nullptr);
  sqlite3_close(handle);
  EXPECT_THAT(look("odd.db"), HasSubstr("a row of readings has lost its link"));
}

// Whatever byte turns over, the records are refused in one line or read; never a crash, and a file
// that is refused stays as it is. SQLite has no checksums, so a value may change unseen.
TEST_F(Damaged, AnyFlippedBitIsRefusedOrRead) {
  const std::string whole = sound();
  std::mt19937 random(20240517);
  int refused = 0;
  constexpr int trials = 300;
  for (int i = 0; i < trials; ++i) {
    std::string bent = whole;
    // Every third in the header and the first page, where a file says what it is.
    const std::size_t reach = i % 3 == 0 ? 200 : bent.size();
    bent[random() % reach] ^= static_cast<char>(1U << random() % 8);
    put("bent.db", bent);
    const std::string said = look("bent.db");
    if (said.empty()) continue;
    ++refused;
    EXPECT_THAT(said, AnyOf(HasSubstr("is damaged"), HasSubstr("newer combwright"),
                            HasSubstr("holds no records")));
    EXPECT_EQ(said.find('\n'), std::string::npos);
    EXPECT_TRUE(contents("bent.db") == bent);
  }
  EXPECT_GT(refused, trials / 10);
}

}  // namespace
}  // namespace combwright::records
