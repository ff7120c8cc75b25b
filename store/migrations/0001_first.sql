-- Every fact row names the change that brought it. A change is active unless
-- an active later change retracts it; facts of inactive changes do not count.
CREATE TABLE change (
  id        INTEGER PRIMARY KEY,
  at_utc_ms INTEGER NOT NULL,
  command   TEXT NOT NULL,
  text      TEXT NOT NULL,
  active    INTEGER NOT NULL DEFAULT 1 CHECK (active IN (0, 1))
) STRICT;

CREATE TABLE retraction (
  change_id INTEGER NOT NULL REFERENCES change (id),
  retracts  INTEGER NOT NULL REFERENCES change (id) CHECK (retracts < change_id),
  PRIMARY KEY (change_id, retracts)
) STRICT, WITHOUT ROWID;
CREATE INDEX retraction_retracts ON retraction (retracts);

CREATE VIEW active_change AS SELECT id FROM change WHERE active;

-- change_id is the change that stored the content, also for another copy of it;
-- it is NULL where no fact was taken.
CREATE TABLE source (
  id         INTEGER PRIMARY KEY,
  path       TEXT NOT NULL,
  size_bytes INTEGER NOT NULL,
  mtime_ns   INTEGER NOT NULL,
  inode      INTEGER NOT NULL,
  sha256     TEXT NOT NULL,
  reader     TEXT NOT NULL,
  result     TEXT NOT NULL CHECK (result IN ('stored', 'known', 'skipped', 'refused')),
  kind       TEXT NOT NULL,
  athlete    TEXT NOT NULL,
  reason     TEXT NOT NULL,
  change_id  INTEGER REFERENCES change (id)
) STRICT;
CREATE INDEX source_path ON source (path);
CREATE INDEX source_sha256 ON source (sha256, athlete);

-- NULL means that this telling left the field as it was.
CREATE TABLE athlete (
  id            INTEGER PRIMARY KEY,
  change_id     INTEGER NOT NULL REFERENCES change (id),
  key           TEXT NOT NULL,
  name          TEXT,
  sex           TEXT,
  born_year     INTEGER,
  height_m      REAL,
  usual_mass_kg REAL,
  zone          TEXT,
  weighing      TEXT,
  units         TEXT,
  max_hr_bpm    INTEGER,
  rest_hr_bpm   INTEGER,
  inbox         TEXT,
  medical_json  TEXT
) STRICT;
CREATE INDEX athlete_key ON athlete (key);

CREATE TABLE trip (
  id        INTEGER PRIMARY KEY,
  change_id INTEGER NOT NULL REFERENCES change (id),
  athlete   TEXT NOT NULL,
  zone      TEXT NOT NULL,
  from_date TEXT NOT NULL,
  to_date   TEXT NOT NULL
) STRICT;

CREATE TABLE scale (
  id            INTEGER PRIMARY KEY,
  change_id     INTEGER NOT NULL REFERENCES change (id),
  key           TEXT NOT NULL,
  athletes_json TEXT,
  unit          TEXT,
  zone          TEXT,
  step_kg       REAL,
  shift_ms      INTEGER
) STRICT;
CREATE INDEX scale_key ON scale (key);

CREATE TABLE activity (
  id             INTEGER PRIMARY KEY,
  change_id      INTEGER NOT NULL REFERENCES change (id),
  activity_id    TEXT NOT NULL,
  athlete        TEXT NOT NULL,
  sport          TEXT NOT NULL,
  sub_sport      TEXT NOT NULL,
  start_utc_ms   INTEGER NOT NULL,
  elapsed_ms     INTEGER NOT NULL,
  moving_ms      INTEGER,
  utc_offset_ms  INTEGER,
  distance_m     REAL,
  ascent_m       REAL,
  mean_hr_bpm    REAL,
  mean_temp_c    REAL,
  laps_json      TEXT,
  device         TEXT NOT NULL,
  start_lat_deg  REAL,
  start_lon_deg  REAL,
  stop_lat_deg   REAL,
  stop_lon_deg   REAL,
  salvaged       TEXT NOT NULL,
  second_json    TEXT,
  origin_path    TEXT NOT NULL,
  origin_line    INTEGER NOT NULL,
  origin_sha256  TEXT NOT NULL,
  origin_reader  TEXT NOT NULL,
  samples_sha256 TEXT NOT NULL,
  samples        BLOB NOT NULL
) STRICT;
CREATE INDEX activity_activity ON activity (activity_id, athlete);
CREATE INDEX activity_change ON activity (change_id);

-- A reading seen again in a later export gets no new row, only another change
-- in weigh_in_change; it counts while any of its changes is active.
CREATE TABLE weigh_in (
  id            INTEGER PRIMARY KEY,
  weigh_in_id   TEXT NOT NULL,
  scale         TEXT NOT NULL,
  athlete       TEXT NOT NULL,
  wall_ms       INTEGER NOT NULL,
  utc_offset_ms INTEGER,
  zone          TEXT NOT NULL,
  resolution_ms INTEGER NOT NULL,
  mass_kg       REAL NOT NULL,
  mass_step_kg  REAL NOT NULL,
  person        TEXT NOT NULL,
  carrying      INTEGER,
  also_json     TEXT,
  origin_path   TEXT NOT NULL,
  origin_line   INTEGER NOT NULL,
  origin_sha256 TEXT NOT NULL,
  origin_reader TEXT NOT NULL
) STRICT;
CREATE INDEX weigh_in_reading ON weigh_in (scale, wall_ms);

CREATE TABLE weigh_in_change (
  weigh_in_id INTEGER NOT NULL REFERENCES weigh_in (id),
  change_id   INTEGER NOT NULL REFERENCES change (id),
  PRIMARY KEY (weigh_in_id, change_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE background (
  change_id INTEGER NOT NULL REFERENCES change (id),
  scale     TEXT NOT NULL,
  mass_kg   INTEGER NOT NULL,
  hour      INTEGER NOT NULL,
  readings  INTEGER NOT NULL,
  PRIMARY KEY (scale, mass_kg, hour, change_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE note (
  id             INTEGER PRIMARY KEY,
  change_id      INTEGER NOT NULL REFERENCES change (id),
  session        TEXT NOT NULL,
  at_utc_ms      INTEGER NOT NULL,
  drunk_l        REAL,
  eaten_kg       REAL,
  urine_l        REAL,
  toilet         TEXT NOT NULL,
  stool_kg       REAL,
  poured_l       REAL,
  clothes_off_kg REAL,
  clothes_wet_kg REAL,
  picked_up_kg   REAL,
  left_behind_kg REAL,
  towelled       INTEGER,
  race           INTEGER,
  indoor         INTEGER,
  room_temp_c    REAL,
  fan            INTEGER,
  air_temp_c     REAL,
  humidity_pct   REAL,
  weighing       TEXT NOT NULL,
  gut_0_10       INTEGER,
  thirst_0_10    INTEGER,
  felt           TEXT NOT NULL,
  origin_path    TEXT NOT NULL,
  origin_line    INTEGER NOT NULL,
  origin_sha256  TEXT NOT NULL,
  origin_reader  TEXT NOT NULL
) STRICT;

CREATE TABLE consent (
  id              INTEGER PRIMARY KEY,
  change_id       INTEGER NOT NULL REFERENCES change (id),
  athlete         TEXT NOT NULL,
  at_utc_ms       INTEGER NOT NULL,
  document        TEXT NOT NULL,
  document_sha256 TEXT NOT NULL,
  scopes_json     TEXT,
  withdrawn       INTEGER NOT NULL CHECK (withdrawn IN (0, 1)),
  how             TEXT NOT NULL
) STRICT;

CREATE TABLE screen (
  id          INTEGER PRIMARY KEY,
  change_id   INTEGER NOT NULL REFERENCES change (id),
  athlete     TEXT NOT NULL,
  at_utc_ms   INTEGER NOT NULL,
  yes_1       INTEGER NOT NULL,
  yes_2       INTEGER NOT NULL,
  yes_3       INTEGER NOT NULL,
  yes_4       INTEGER NOT NULL,
  yes_5       INTEGER NOT NULL,
  safety_json TEXT
) STRICT;

CREATE TABLE sodium_test (
  id                     INTEGER PRIMARY KEY,
  change_id              INTEGER NOT NULL REFERENCES change (id),
  athlete                TEXT NOT NULL,
  at_utc_ms              INTEGER NOT NULL,
  concentration_mmol_per_l REAL NOT NULL,
  method                 TEXT NOT NULL,
  site                   TEXT NOT NULL
) STRICT;

CREATE TABLE answer (
  id        INTEGER PRIMARY KEY,
  change_id INTEGER NOT NULL REFERENCES change (id),
  question  TEXT NOT NULL,
  at_utc_ms INTEGER NOT NULL,
  choice    TEXT NOT NULL,
  session   TEXT NOT NULL,
  slot      TEXT NOT NULL,
  weigh_in  TEXT NOT NULL
) STRICT;

CREATE TABLE correction (
  id              INTEGER PRIMARY KEY,
  change_id       INTEGER NOT NULL REFERENCES change (id),
  kind            TEXT NOT NULL,
  at_utc_ms       INTEGER NOT NULL,
  activities_json TEXT,
  weigh_in        TEXT NOT NULL,
  athlete         TEXT NOT NULL
) STRICT;

CREATE TABLE weather (
  id              INTEGER PRIMARY KEY,
  change_id       INTEGER NOT NULL REFERENCES change (id),
  at_utc_ms       INTEGER NOT NULL,
  air_temp_c      REAL NOT NULL,
  dew_point_c     REAL,
  humidity_pct    REAL,
  wind_m_per_s    REAL,
  sun_w_per_m2    REAL,
  pressure_hpa    REAL,
  lat_deg         REAL,
  lon_deg         REAL,
  altitude_m      REAL,
  station         TEXT NOT NULL,
  origin_path     TEXT NOT NULL,
  origin_line     INTEGER NOT NULL,
  origin_sha256   TEXT NOT NULL,
  origin_reader   TEXT NOT NULL
) STRICT;

-- A key stays once given, whatever is retracted.
CREATE TABLE session_key (
  key         TEXT NOT NULL,
  activity_id TEXT NOT NULL,
  PRIMARY KEY (key, activity_id)
) STRICT, WITHOUT ROWID;

-- From here on everything is derived and can be rebuilt.
CREATE TABLE digest (
  activity_id TEXT NOT NULL,
  method      TEXT NOT NULL,
  body        BLOB NOT NULL,
  PRIMARY KEY (activity_id, method)
) STRICT, WITHOUT ROWID;

CREATE TABLE session (
  key          TEXT NOT NULL PRIMARY KEY,
  athlete      TEXT NOT NULL,
  start_utc_ms INTEGER NOT NULL,
  household    TEXT NOT NULL,
  status       TEXT NOT NULL,
  method       TEXT NOT NULL,
  body         BLOB NOT NULL
) STRICT;
CREATE INDEX session_household ON session (household);
CREATE INDEX session_start ON session (start_utc_ms);

CREATE TABLE meta (
  key   TEXT NOT NULL PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;
