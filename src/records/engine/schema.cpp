// SPDX-License-Identifier: Apache-2.0
#include "records/engine/schema.h"

#include <array>

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::records {
namespace {

constexpr const char* first_version = R"sql(
CREATE TABLE boxes(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> '')
) STRICT;

CREATE TABLE combs(
  id INTEGER PRIMARY KEY,
  box INTEGER NOT NULL REFERENCES boxes(id),
  name TEXT NOT NULL CHECK (name <> ''),
  box_sha256 TEXT NOT NULL CHECK (length(box_sha256) = 64),
  in_tune_c REAL NOT NULL,
  scrapped_at TEXT CHECK (scrapped_at <> ''),
  scrapped_why TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE UNIQUE INDEX combs_in_use ON combs(box, name) WHERE scrapped_at IS NULL;

CREATE TABLE teeth(
  id INTEGER PRIMARY KEY,
  comb INTEGER NOT NULL REFERENCES combs(id),
  track INTEGER NOT NULL CHECK (track >= 1),
  midi INTEGER NOT NULL CHECK (midi BETWEEN 0 AND 127),
  target_hz REAL NOT NULL CHECK (target_hz > 0),
  UNIQUE (comb, track)
) STRICT;

CREATE TABLE recordings(
  id INTEGER PRIMARY KEY,
  file TEXT NOT NULL,
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
  rate_hz REAL NOT NULL CHECK (rate_hz > 0),
  channels INTEGER NOT NULL CHECK (channels >= 1),
  settings TEXT NOT NULL,
  UNIQUE (sha256, file, rate_hz, channels, settings)
) STRICT;

CREATE TABLE readings(
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  tooth INTEGER NOT NULL REFERENCES teeth(id),
  box_sha256 TEXT NOT NULL CHECK (length(box_sha256) = 64),
  frequency_hz REAL NOT NULL CHECK (frequency_hz > 0),
  stderr_hz REAL NOT NULL CHECK (stderr_hz >= 0),
  decay_s REAL CHECK (decay_s > 0),
  temperature_c REAL,
  recording INTEGER REFERENCES recordings(id),
  onset_s REAL,
  who TEXT NOT NULL,
  at TEXT NOT NULL CHECK (at <> ''),
  remark TEXT NOT NULL,
  struck TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX readings_of_tooth ON readings(tooth);
CREATE INDEX readings_of_recording ON readings(recording);

CREATE TABLE partials(
  reading INTEGER NOT NULL REFERENCES readings(id),
  place INTEGER NOT NULL CHECK (place >= 1),
  frequency_hz REAL NOT NULL CHECK (frequency_hz > 0),
  decay_s REAL CHECK (decay_s > 0),
  level_db REAL,
  PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE work(
  reading INTEGER NOT NULL REFERENCES readings(id),
  place INTEGER NOT NULL CHECK (place >= 1),
  kind TEXT NOT NULL CHECK (kind IN ('clip', 'file_root', 'file_tip')),
  length_m REAL NOT NULL CHECK (length_m > 0),
  PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE tests(
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  box INTEGER NOT NULL REFERENCES boxes(id),
  who TEXT NOT NULL,
  at TEXT NOT NULL CHECK (at <> ''),
  remark TEXT NOT NULL CHECK (remark <> '')
) STRICT;
CREATE INDEX tests_of_box ON tests(box);
)sql";

constexpr std::array steps{first_version};

// Every table and index in words that two equal schemas share.
std::string schema_of(Connection& connection) {
  std::string all;
  Statement rows(connection, "SELECT type, name, sql FROM sqlite_schema ORDER BY type, name");
  while (rows.step()) all += rows.text(0) + "\n" + rows.text(1) + "\n" + rows.text(2) + "\n";
  return all;
}

[[noreturn]] void damaged(const Connection& connection, const std::string& how) {
  throw Error({.file = connection.shown()},
              fmt::format("is damaged ({}); put it aside and go on with the last backup", how));
}

}  // namespace

std::span<const char* const> migrations() {
  return steps;
}

std::int64_t version_of(Connection& connection) {
  Statement version(connection, "PRAGMA user_version");
  version.step();
  return version.whole(0);
}

void bring_up_to_date(Connection& connection, std::span<const char* const> wanted) {
  const auto newest = static_cast<std::int64_t>(wanted.size());
  if (version_of(connection) >= newest) return;
  Transaction change(connection);
  for (std::int64_t version = version_of(connection); version < newest; ++version)
    connection.run(wanted[static_cast<std::size_t>(version)]);
  connection.run(
      fmt::format("PRAGMA application_id = {}; PRAGMA user_version = {}", application_id, newest));
  change.commit();
}

void check_sound(Connection& connection) {
  {
    Statement check(connection, "PRAGMA integrity_check(1)");
    if (!check.step() || check.text(0) != "ok") damaged(connection, check.text(0).substr(0, 100));
  }
  {
    Statement check(connection, "PRAGMA foreign_key_check");
    if (check.step())
      damaged(connection, fmt::format("a row of {} has lost its link", check.text(0)));
  }
}

void check_schema(Connection& connection) {
  Connection fresh("", "", Connection::Mode::make);
  bring_up_to_date(fresh, migrations());
  if (schema_of(connection) != schema_of(fresh)) damaged(connection, "its tables are not ours");
}

}  // namespace combwright::records
