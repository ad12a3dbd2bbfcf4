-- Records of version 1 as sqlite3 dumps them.
PRAGMA application_id = 1131893349;
PRAGMA user_version = 1;
BEGIN TRANSACTION;
CREATE TABLE boxes(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (name <> '')
) STRICT;
INSERT INTO "boxes" VALUES(1,'larkspur');
CREATE TABLE combs(
  id INTEGER PRIMARY KEY,
  box INTEGER NOT NULL REFERENCES boxes(id),
  name TEXT NOT NULL CHECK (name <> ''),
  box_sha256 TEXT NOT NULL CHECK (length(box_sha256) = 64 AND box_sha256 NOT GLOB '*[^0-9a-f]*'),
  in_tune_c REAL NOT NULL CHECK (in_tune_c BETWEEN -273.15 AND 2000),
  scrapped_at TEXT CHECK (scrapped_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]*'),
  scrapped_why TEXT NOT NULL DEFAULT ''
) STRICT;
INSERT INTO "combs" VALUES(1,1,'front','aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa',20.0,NULL,'');
CREATE TABLE partials(
  reading INTEGER NOT NULL REFERENCES readings(id),
  place INTEGER NOT NULL CHECK (place >= 1),
  frequency_hz REAL NOT NULL CHECK (frequency_hz > 0 AND frequency_hz < 1e6),
  decay_s REAL CHECK (decay_s > 0 AND decay_s < 1e6),
  level_db REAL CHECK (level_db BETWEEN -1e4 AND 1e4),
  PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;
INSERT INTO "partials" VALUES(2,1,1621.5,0.25,-12.5);
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
INSERT INTO "readings" VALUES(1,1,'aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa',255.0,0.02,NULL,NULL,NULL,NULL,'','2024-05-17','','',0);
INSERT INTO "readings" VALUES(2,1,'aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa',258.25,0.015625,1.25,21.5,1,0.125,'M. Weber','2024-05-17T09:30:00Z','second try','',0);
CREATE TABLE recordings(
  id INTEGER PRIMARY KEY,
  file TEXT NOT NULL,
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  rate_hz REAL NOT NULL CHECK (rate_hz > 0 AND rate_hz < 1e9),
  channels INTEGER NOT NULL CHECK (channels BETWEEN 1 AND 100000),
  settings TEXT NOT NULL,
  UNIQUE (sha256, file, rate_hz, channels, settings)
) STRICT;
INSERT INTO "recordings" VALUES(1,'c4.wav','bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb',96000.0,2,'near 261.6 Hz');
CREATE TABLE teeth(
  id INTEGER PRIMARY KEY,
  comb INTEGER NOT NULL REFERENCES combs(id),
  track INTEGER NOT NULL CHECK (track BETWEEN 1 AND 100000),
  midi INTEGER NOT NULL CHECK (midi BETWEEN 0 AND 127),
  target_hz REAL NOT NULL CHECK (target_hz > 0 AND target_hz < 1e6),
  UNIQUE (comb, track)
) STRICT;
INSERT INTO "teeth" VALUES(1,1,1,60,261.63);
INSERT INTO "teeth" VALUES(2,1,2,62,293.66);
CREATE TABLE tests(
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  box INTEGER NOT NULL REFERENCES boxes(id),
  who TEXT NOT NULL,
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]*'),
  remark TEXT NOT NULL CHECK (remark <> '')
) STRICT;
INSERT INTO "tests" VALUES(1,1,'M. Weber','2024-05-18','plays a whole turn');
CREATE TABLE work(
  reading INTEGER NOT NULL REFERENCES readings(id),
  place INTEGER NOT NULL CHECK (place >= 1),
  kind TEXT NOT NULL CHECK (kind IN ('clip', 'file_root', 'file_tip')),
  length_m REAL NOT NULL CHECK (length_m > 0 AND length_m < 1),
  PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;
INSERT INTO "work" VALUES(2,1,'clip',0.00035);
CREATE UNIQUE INDEX combs_in_use ON combs(box, name) WHERE scrapped_at IS NULL;
CREATE INDEX readings_of_tooth ON readings(tooth);
CREATE INDEX readings_of_recording ON readings(recording);
CREATE INDEX tests_of_box ON tests(box);
COMMIT;
