// SPDX-License-Identifier: Apache-2.0
#include "records/database.h"

#include <filesystem>
#include <string_view>
#include <utility>

#include <fmt/format.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"
#include "records/engine/connection.h"
#include "records/engine/head.h"
#include "records/engine/place.h"
#include "records/engine/schema.h"

namespace combwright::records {
namespace {

// The header of an SQLite file (sqlite.org, "Database File Format", 1.3).
constexpr std::string_view magic("SQLite format 3\0", 16);
constexpr std::size_t header_bytes = 100;
constexpr std::size_t application_id_at = 68;

// Where the path is a link, what it leads to.
bool leads_to_file(const std::string& path) {
  struct stat status {};
  return ::stat(path.c_str(), &status) == 0;
}

bool has_bytes(const std::string& path) {
  struct stat status {};
  return ::stat(path.c_str(), &status) == 0 && status.st_size > 0;
}

// Before SQLite sees the file: what is not ours must not be touched, not even its log.
void check_ours(const std::string& path) {
  const std::string head = head_of(path, header_bytes);
  std::uint32_t id = 0;
  if (head.size() == header_bytes && head.starts_with(magic)) {
    for (std::size_t i = 0; i < 4; ++i)
      id = id << 8 | static_cast<unsigned char>(head[application_id_at + i]);
  }
  if (id != static_cast<std::uint32_t>(application_id))
    throw Error({.file = path}, "holds no records of this program; name another file");
}

// A log without its file may hold readings, and would be taken for that of the new file. A file
// that another program has just made has its log beside it.
void refuse_lone_log(const std::string& path) {
  for (const char* ending : {"-wal", "-journal"}) {
    if (leads_to_file(path + ending) && !leads_to_file(path)) {
      throw Error({.file = path + ending},
                  fmt::format("is the log of {}, which is not there; put both side by side again, "
                              "or name another file",
                              path));
    }
  }
}

void make_empty(const std::string& path) {
  refuse_lone_log(path);
  NewFile file(path);
  {
    Connection connection(file.path(), path, Connection::Mode::make);
    bring_up_to_date(connection, migrations());
    connection.run("PRAGMA journal_mode = WAL");
  }
  file.put_in_place(false);  // if another program was first, its records are as good
}

// Until a file has been found sound, nothing of it is changed: not by moving its log into it when
// it is closed.
class Untouched {
 public:
  explicit Untouched(Connection& connection) : connection_(connection) { set(1); }
  ~Untouched() {
    if (!has_bytes(connection_.path() + "-wal")) set(0);  // nothing to move
  }
  Untouched(const Untouched&) = delete;
  Untouched& operator=(const Untouched&) = delete;

  void sound() { set(0); }

 private:
  void set(int on) {
    sqlite3_db_config(connection_.get(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, on, nullptr);
  }

  Connection& connection_;
};

std::unique_ptr<Connection> opened(const std::string& path, Connection::Mode mode) {
  auto connection = std::make_unique<Connection>(path, path, mode);
  Untouched untouched(*connection);
  const std::int64_t version = version_of(*connection);
  if (version > current_version()) {
    throw Error({.file = path},
                fmt::format("was written by a newer combwright (records of version {}, this one "
                            "knows up to {}); take that one",
                            version, current_version()));
  }
  if (version < 1) connection->fail(SQLITE_CORRUPT);
  check_sound(*connection);
  if (version < current_version()) {
    if (mode == Connection::Mode::frozen)
      throw Error({.file = path},
                  "is of an older version and cannot be changed where it lies; copy it elsewhere");
    Connection changing(path, path, Connection::Mode::write);
    bring_up_to_date(changing, migrations());
  }
  check_schema(*connection);
  untouched.sound();
  return connection;
}

bool folder_is_writable(const std::string& path) {
  const std::string folder = std::filesystem::path(path).parent_path().string();
  return ::access(folder.empty() ? "." : folder.c_str(), W_OK) == 0;
}

// SQLite keeps its log beside the file, even to look at it. Where there is none and we can make
// none, the file is read as one that stays as it is.
std::unique_ptr<Connection> opened_to_look(const std::string& path) {
  try {
    return opened(path, Connection::Mode::look);
  } catch (const Error& error) {
    if (error.kind() != Error::Kind::machine || leads_to_file(path + "-wal") ||
        folder_is_writable(path))
      throw;
  }
  return opened(path, Connection::Mode::frozen);
}

// A copy is complete by itself; once it is worked with, others may look while one files. Where the
// log cannot be had just now, changes are as safe without it.
void keep_log(Connection& connection) {
  {
    Statement mode(connection, "PRAGMA journal_mode");
    if (mode.step() && mode.text(0) == "wal") return;
  }
  sqlite3_exec(connection.get(), "PRAGMA journal_mode = WAL", nullptr, nullptr, nullptr);
}

void refuse_in_use(const std::string& copy) {
  for (const char* ending : {"-wal", "-journal"})
    if (leads_to_file(copy + ending))
      throw Error({.file = copy}, "is a database in use; name another file");
}

std::int64_t count(Connection& connection, const char* table) {
  Statement rows(connection, fmt::format("SELECT count(*) FROM {}", table));
  rows.step();
  return rows.whole(0);
}

Counts counts_in(Connection& connection) {
  return {.boxes = count(connection, "boxes"),
          .combs = count(connection, "combs"),
          .teeth = count(connection, "teeth"),
          .recordings = count(connection, "recordings"),
          .readings = count(connection, "readings"),
          .work = count(connection, "work"),
          .tests = count(connection, "tests")};
}

}  // namespace

Database::Database(const std::string& path, Access access) {
  if (access == Access::begin && !leads_to_file(path)) make_empty(path);
  check_ours(path);
  if (access == Access::look) {
    connection_ = opened_to_look(path);
  } else {
    connection_ = opened(path, Connection::Mode::write);
    keep_log(*connection_);
  }
}

Database::Database(Database&&) noexcept = default;
Database& Database::operator=(Database&&) noexcept = default;
Database::~Database() = default;

const std::string& Database::path() const {
  return connection_->shown();
}

Connection& Database::connection() const {
  return *connection_;
}

int current_version() {
  return static_cast<int>(migrations().size());
}

Counts counts(const Database& database) {
  Connection& connection = database.connection();
  const Snapshot moment(connection);
  return counts_in(connection);
}

Counts back_up(const Database& database, const std::string& copy, bool replace) {
  std::error_code unknown;  // then they are not the same
  if (std::filesystem::equivalent(database.path(), copy, unknown))
    throw Error({.file = copy}, "is the records' own file; name another");
  refuse_in_use(copy);
  NewFile file(copy);
  Counts copied;
  {
    Connection made(file.path(), copy, Connection::Mode::make);
    sqlite3_backup* backup =
        sqlite3_backup_init(made.get(), "main", database.connection().get(), "main");
    if (backup == nullptr) made.fail(sqlite3_extended_errcode(made.get()));
    const int stepped = sqlite3_backup_step(backup, -1);
    const int finished = sqlite3_backup_finish(backup);
    if (stepped != SQLITE_DONE) made.fail(finished == SQLITE_OK ? stepped : finished);
    // Complete by itself, wherever it is carried: no log beside it.
    made.run("PRAGMA journal_mode = DELETE");
    check_sound(made);
    copied = counts_in(made);
  }
  if (!file.put_in_place(replace))
    throw Error({.file = copy}, "is there already; choose another name or give --force");
  return copied;
}

}  // namespace combwright::records
