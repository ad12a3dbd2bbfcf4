// SPDX-License-Identifier: Apache-2.0
#include "records/engine/connection.h"

#include <cassert>
#include <new>
#include <system_error>
#include <utility>

#include <fmt/format.h>
#include <sqlite3.h>

#include "base/error.h"

namespace combwright::records {
namespace {

constexpr int patience_ms = 10'000;

// A path that SQLite does not take for one of its special names.
std::string plain_path(const std::string& path) {
  return path.empty() || path.front() == '/' ? path : "./" + path;
}

// RFC 3986: every byte but the unreserved ones and the slash.
std::string frozen_uri(const std::string& path) {
  std::string uri = "file:";
  for (const char letter : plain_path(path)) {
    const auto byte = static_cast<unsigned char>(letter);
    const bool plain = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
                       (byte >= '0' && byte <= '9') || letter == '/' || letter == '.' ||
                       letter == '-' || letter == '_';
    uri += plain ? std::string(1, letter) : fmt::format("%{:02X}", byte);
  }
  return uri + "?immutable=1";
}

int open_handle(const std::string& path, Connection::Mode mode, sqlite3** handle) {
  constexpr int common = SQLITE_OPEN_PRIVATECACHE | SQLITE_OPEN_EXRESCODE;
  switch (mode) {
    case Connection::Mode::write:
    case Connection::Mode::look:
      return sqlite3_open_v2(plain_path(path).c_str(), handle, common | SQLITE_OPEN_READWRITE,
                             nullptr);
    case Connection::Mode::frozen:
      return sqlite3_open_v2(frozen_uri(path).c_str(), handle,
                             common | SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, nullptr);
    case Connection::Mode::make:
      return sqlite3_open_v2(path.empty() ? ":memory:" : plain_path(path).c_str(), handle,
                             common | SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
  }
  return SQLITE_MISUSE;
}

void harden(sqlite3* handle) {
  constexpr int largest_value = 1 << 20;
  sqlite3_busy_timeout(handle, patience_ms);
  sqlite3_limit(handle, SQLITE_LIMIT_LENGTH, largest_value);
  sqlite3_limit(handle, SQLITE_LIMIT_ATTACHED, 0);
  for (const auto& [option, on] :
       {std::pair{SQLITE_DBCONFIG_DEFENSIVE, 1}, std::pair{SQLITE_DBCONFIG_ENABLE_FKEY, 1},
        std::pair{SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0}, std::pair{SQLITE_DBCONFIG_ENABLE_TRIGGER, 0},
        std::pair{SQLITE_DBCONFIG_ENABLE_VIEW, 0},
        std::pair{SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0}, std::pair{SQLITE_DBCONFIG_DQS_DML, 0},
        std::pair{SQLITE_DBCONFIG_DQS_DDL, 0}}) {
    [[maybe_unused]] const int code = sqlite3_db_config(handle, option, on, nullptr);
    assert(code == SQLITE_OK);
  }
}

std::string reason(sqlite3* handle, int code) {
  const int system = handle == nullptr ? 0 : sqlite3_system_errno(handle);
  if (system == 0) return sqlite3_errstr(code);
  return std::error_code(system, std::generic_category()).message();
}

}  // namespace

Connection::Connection(std::string path, std::string shown, Mode mode)
    : path_(std::move(path)), shown_(std::move(shown)) {
  const int code = open_handle(path_, mode, &handle_);
  try {
    if (code != SQLITE_OK) fail(code);
    harden(handle_);
    run("PRAGMA synchronous = FULL; PRAGMA mmap_size = 0; PRAGMA cell_size_check = ON");
    if (mode == Mode::look || mode == Mode::frozen) run("PRAGMA query_only = ON");
  } catch (...) {
    sqlite3_close(handle_);
    throw;
  }
}

Connection::~Connection() {
  [[maybe_unused]] const int code = sqlite3_close(handle_);
  assert(code == SQLITE_OK);
}

void Connection::run(const std::string& sql) {
  const int code = sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) fail(code);
}

void Connection::fail(int code) const {
  const Place place{.file = shown_};
  switch (code & 0xFF) {
    case SQLITE_NOMEM:
      throw std::bad_alloc();
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_FORMAT:
    case SQLITE_MISMATCH:
    case SQLITE_SCHEMA:
    case SQLITE_ERROR:
    case SQLITE_TOOBIG:
      throw Error(place, "is damaged; put it aside and go on with the last backup");
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      throw Error(
          place,
          fmt::format("is held by another program for over {} s; end that one, or try again",
                      patience_ms / 1000),
          Error::Kind::machine);
    case SQLITE_FULL:
      throw Error(place, "could not write: the disk is full; nothing was filed",
                  Error::Kind::machine);
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
      throw Error(place, "could not write: file or folder cannot be written to; nothing was filed",
                  Error::Kind::machine);
    default:
      throw Error(place,
                  fmt::format("could not be used: {}; nothing was filed", reason(handle_, code)),
                  Error::Kind::machine);
  }
}

Statement::Statement(Connection& connection, std::string_view sql) : connection_(connection) {
  check(sqlite3_prepare_v2(connection.get(), sql.data(), static_cast<int>(sql.size()), &handle_,
                           nullptr));
}

Statement::~Statement() {
  sqlite3_finalize(handle_);
}

bool Statement::step() {
  const int code = sqlite3_step(handle_);
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) connection_.fail(code);
  return false;
}

void Statement::run() {
  while (step()) {
  }
}

std::int64_t Statement::whole(int column) const {
  return sqlite3_column_int64(handle_, column);
}

double Statement::real(int column) const {
  return sqlite3_column_double(handle_, column);
}

bool Statement::is_null(int column) const {
  return sqlite3_column_type(handle_, column) == SQLITE_NULL;
}

std::optional<double> Statement::maybe_real(int column) const {
  if (is_null(column)) return std::nullopt;
  return real(column);
}

std::string Statement::text(int column) const {
  const unsigned char* letters = sqlite3_column_text(handle_, column);
  if (letters == nullptr) return {};
  return {reinterpret_cast<const char*>(letters),
          static_cast<std::size_t>(sqlite3_column_bytes(handle_, column))};
}

void Statement::reset() {
  sqlite3_reset(handle_);  // its code is that of the step before, which has been told
}

void Statement::bind(int place, std::int64_t value) {
  check(sqlite3_bind_int64(handle_, place, value));
}

void Statement::bind(int place, double value) {
  check(sqlite3_bind_double(handle_, place, value));
}

void Statement::bind(int place, std::string_view value) {
  check(sqlite3_bind_text(handle_, place, value.empty() ? "" : value.data(),
                          static_cast<int>(value.size()), SQLITE_TRANSIENT));
}

void Statement::bind(int place, const std::optional<double>& value) {
  if (value)
    bind(place, *value);
  else
    bind_nothing(place);
}

void Statement::bind(int place, const std::optional<std::int64_t>& value) {
  if (value)
    bind(place, *value);
  else
    bind_nothing(place);
}

void Statement::bind_nothing(int place) {
  check(sqlite3_bind_null(handle_, place));
}

void Statement::check(int code) const {
  if (code != SQLITE_OK) connection_.fail(code);
}

std::int64_t last_row(const Connection& connection) {
  return sqlite3_last_insert_rowid(connection.get());
}

std::int64_t changed_rows(const Connection& connection) {
  return sqlite3_changes64(connection.get());
}

Transaction::Transaction(Connection& connection) : connection_(connection) {
  connection_.run("BEGIN IMMEDIATE");
}

Transaction::~Transaction() {
  if (open_) sqlite3_exec(connection_.get(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::commit() {
  connection_.run("COMMIT");
  open_ = false;
}

Snapshot::Snapshot(Connection& connection) : connection_(connection) {
  connection_.run("BEGIN");
}

Snapshot::~Snapshot() {
  sqlite3_exec(connection_.get(), "COMMIT", nullptr, nullptr, nullptr);
}

}  // namespace combwright::records
