// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

// The library's own names.
struct sqlite3;
struct sqlite3_stmt;

namespace combwright::records {

// One SQLite connection, hardened: no extensions, no double-quoted strings, no trust in the file's
// schema, foreign keys on, every commit flushed, 10 s of patience. Errors carry the shown path.
class Connection {
 public:
  enum class Mode {
    write,   // read and write; the file must be there
    look,    // the same without changes
    frozen,  // a file that nobody changes, in a folder that cannot be written
    make,    // a new file
  };

  // An empty path with `make` is a database in memory.
  Connection(std::string path, std::string shown, Mode mode);
  ~Connection();
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;

  sqlite3* get() const { return handle_; }
  const std::string& path() const { return path_; }
  const std::string& shown() const { return shown_; }

  // Statements that give no rows.
  void run(const std::string& sql);

  // Throws the Error of a result code that is no success.
  [[noreturn]] void fail(int code) const;

 private:
  std::string path_;
  std::string shown_;
  sqlite3* handle_ = nullptr;
};

// One statement with its values. Texts and numbers are bound, never written into the SQL.
class Statement {
 public:
  Statement(Connection& connection, std::string_view sql);
  ~Statement();
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;

  template <typename... Values>
  Statement& with(const Values&... values) {
    reset();
    int place = 0;
    (bind(++place, values), ...);
    return *this;
  }

  // The next row; false if there is none.
  bool step();

  // Runs it to its end.
  void run();

  // Columns of the row, from 0.
  std::int64_t whole(int column) const;
  double real(int column) const;
  std::optional<double> maybe_real(int column) const;
  bool is_null(int column) const;
  std::string text(int column) const;

 private:
  void reset();
  void bind(int place, std::int64_t value);
  void bind(int place, int value) { bind(place, std::int64_t{value}); }
  void bind(int place, double value);
  void bind(int place, std::string_view value);
  void bind(int place, const std::string& value) { bind(place, std::string_view(value)); }
  void bind(int place, const std::optional<double>& value);
  void bind(int place, const std::optional<std::int64_t>& value);
  void bind_nothing(int place);
  void check(int code) const;

  Connection& connection_;
  sqlite3_stmt* handle_ = nullptr;
};

// The row that was put in last.
std::int64_t last_row(const Connection& connection);

// How many rows the last statement changed.
std::int64_t changed_rows(const Connection& connection);

// A change that is undone unless it is committed. Waits for others before it begins.
class Transaction {
 public:
  explicit Transaction(Connection& connection);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;

  void commit();

 private:
  Connection& connection_;
  bool open_ = true;
};

// Several looks at one moment.
class Snapshot {
 public:
  explicit Snapshot(Connection& connection);
  ~Snapshot();
  Snapshot(const Snapshot&) = delete;
  Snapshot& operator=(const Snapshot&) = delete;

 private:
  Connection& connection_;
};

}  // namespace combwright::records
