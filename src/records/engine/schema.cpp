// SPDX-License-Identifier: Apache-2.0
#include "records/engine/schema.h"

#include <array>

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::records {
namespace {

// The ranges are wider than any that filing.cpp lets through: they hold what a damaged file may say
// to what everything behind can work with.
constexpr const char* first_version = R"sql(
CREATE TABLE boxes(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> '')
) STRICT;

CREATE TABLE combs(
  id INTEGER PRIMARY KEY,
  box INTEGER NOT NULL REFERENCES boxes(id),
  name TEXT NOT NULL CHECK (name <> ''),
  box_sha256 TEXT NOT NULL CHECK (length(box_sha256) = 64 AND box_sha256 NOT GLOB '*[^0-9a-f]*'),
  in_tune_c REAL NOT NULL CHECK (in_tune_c BETWEEN -273.15 AND 2000),
  scrapped_at TEXT CHECK (scrapped_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]*'),
  scrapped_why TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE UNIQUE INDEX combs_in_use ON combs(box, name) WHERE scrapped_at IS NULL;

CREATE TABLE teeth(
  id INTEGER PRIMARY KEY,
  comb INTEGER NOT NULL REFERENCES combs(id),
  track INTEGER NOT NULL CHECK (track BETWEEN 1 AND 100000),
  midi INTEGER NOT NULL CHECK (midi BETWEEN 0 AND 127),
  target_hz REAL NOT NULL CHECK (target_hz > 0 AND target_hz < 1e6),
  UNIQUE (comb, track)
) STRICT;

CREATE TABLE recordings(
  id INTEGER PRIMARY KEY,
  file TEXT NOT NULL,
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  rate_hz REAL NOT NULL CHECK (rate_hz > 0 AND rate_hz < 1e9),
  channels INTEGER NOT NULL CHECK (channels BETWEEN 1 AND 100000),
  settings TEXT NOT NULL,
  UNIQUE (sha256, file, rate_hz, channels, settings)
) STRICT;

CREATE TABLE readings(
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  tooth INTEGER NOT NULL REFERENCES teeth(id),
  box_sha256 TEXT NOT NULL CHECK (length(box_sha256) = 64 AND box_sha256 NOT GLOB '*[^0-9a-f]*'),
  frequency_hz REAL NOT NULL CHECK (frequency_hz > 0 AND frequency_hz < 1e6),
  stderr_hz REAL NOT NULL CHECK (stderr_hz >= 0 AND stderr_hz < frequency_hz),
  decay_s REAL CHECK (decay_s > 0 AND decay_s < 1e6),
  temperature_c REAL CHECK (temperature_c BETWEEN -273.15 AND 2000),
  recording INTEGER REFERENCES recordings(id),
  onset_s REAL CHECK (onset_s BETWEEN 0 AND 1e9),
  who TEXT NOT NULL,
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]*'),
  remark TEXT NOT NULL,
  struck TEXT NOT NULL DEFAULT '',
  work_struck INTEGER NOT NULL DEFAULT 0 CHECK (work_struck IN (0, 1))
) STRICT;
CREATE INDEX readings_of_tooth ON readings(tooth);
CREATE INDEX readings_of_recording ON readings(recording);

CREATE TABLE partials(
  reading INTEGER NOT NULL REFERENCES readings(id),
  place INTEGER NOT NULL CHECK (place >= 1),
  frequency_hz REAL NOT NULL CHECK (frequency_hz > 0 AND frequency_hz < 1e6),
  decay_s REAL CHECK (decay_s > 0 AND decay_s < 1e6),
  level_db REAL CHECK (level_db BETWEEN -1e4 AND 1e4),
  PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE work(
  reading INTEGER NOT NULL REFERENCES readings(id),
  place INTEGER NOT NULL CHECK (place >= 1),
  kind TEXT NOT NULL CHECK (kind IN ('clip', 'file_root', 'file_tip')),
  length_m REAL NOT NULL CHECK (length_m > 0 AND length_m < 1),
  PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE tests(
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  box INTEGER NOT NULL REFERENCES boxes(id),
  who TEXT NOT NULL,
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]*'),
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
