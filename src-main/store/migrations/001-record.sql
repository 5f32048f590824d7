-- The record. Rows are added and never changed: every table refuses UPDATE and DELETE by trigger, save the buckets,
-- which can be worked out again from the readings. What relates rows is a typed column with a foreign key; what
-- describes is a JSON body, read through the schemas of src-shared/record. wall_ms: milliseconds since 1970.

-- Cores and their corrections.
CREATE TABLE core (
  core_id INTEGER PRIMARY KEY
) STRICT;

CREATE TABLE core_revision (
  revision_id INTEGER PRIMARY KEY,
  core_id INTEGER NOT NULL REFERENCES core,
  replaces INTEGER UNIQUE REFERENCES core_revision,
  reason TEXT,
  wall_ms REAL NOT NULL,
  body TEXT NOT NULL CHECK (json_valid(body)),
  CHECK ((replaces IS NULL) = (reason IS NULL))
) STRICT;
CREATE INDEX core_revision_of ON core_revision (core_id);

-- Builds: the states of a core's windings, numbered from 1 within their core.
CREATE TABLE build (
  build_id INTEGER PRIMARY KEY,
  core_id INTEGER NOT NULL REFERENCES core,
  number INTEGER NOT NULL CHECK (number >= 1),
  wall_ms REAL NOT NULL,
  body TEXT NOT NULL CHECK (json_valid(body)),
  UNIQUE (core_id, number)
) STRICT;

CREATE TABLE winding (
  winding_id INTEGER PRIMARY KEY,
  build_id INTEGER NOT NULL REFERENCES build
) STRICT;
CREATE INDEX winding_of ON winding (build_id);

CREATE TABLE winding_revision (
  revision_id INTEGER PRIMARY KEY,
  winding_id INTEGER NOT NULL REFERENCES winding,
  replaces INTEGER UNIQUE REFERENCES winding_revision,
  reason TEXT,
  wall_ms REAL NOT NULL,
  -- The result that the turns are estimated by, when they are.
  turns_result_id INTEGER REFERENCES result,
  body TEXT NOT NULL CHECK (json_valid(body)),
  CHECK ((replaces IS NULL) = (reason IS NULL))
) STRICT;
CREATE INDEX winding_revision_of ON winding_revision (winding_id);

-- Meters as described; a retired one is off the list, its rows stay.
CREATE TABLE meter (
  meter_id INTEGER PRIMARY KEY
) STRICT;

CREATE TABLE meter_revision (
  revision_id INTEGER PRIMARY KEY,
  meter_id INTEGER NOT NULL REFERENCES meter,
  replaces INTEGER UNIQUE REFERENCES meter_revision,
  reason TEXT,
  wall_ms REAL NOT NULL,
  retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
  body TEXT NOT NULL CHECK (json_valid(body)),
  UNIQUE (meter_id, revision_id)
) STRICT;

CREATE TABLE setting (
  setting_id INTEGER PRIMARY KEY,
  wall_ms REAL NOT NULL,
  body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

-- Sessions: one sitting with one build. Ended, and then signed off, by a further row each.
CREATE TABLE session (
  session_id INTEGER PRIMARY KEY,
  build_id INTEGER NOT NULL REFERENCES build,
  practice INTEGER NOT NULL CHECK (practice IN (0, 1)),
  wall_ms REAL NOT NULL
) STRICT;
CREATE INDEX session_of ON session (build_id);

CREATE TABLE session_revision (
  revision_id INTEGER PRIMARY KEY,
  session_id INTEGER NOT NULL REFERENCES session,
  replaces INTEGER UNIQUE REFERENCES session_revision,
  reason TEXT,
  wall_ms REAL NOT NULL,
  fed_winding_id INTEGER REFERENCES winding,
  body TEXT NOT NULL CHECK (json_valid(body)),
  CHECK ((replaces IS NULL) = (reason IS NULL))
) STRICT;
CREATE INDEX session_revision_of ON session_revision (session_id);

CREATE TABLE session_end (
  session_id INTEGER PRIMARY KEY REFERENCES session,
  wall_ms REAL NOT NULL
) STRICT;

CREATE TABLE session_sign_off (
  session_id INTEGER PRIMARY KEY REFERENCES session_end,
  who TEXT NOT NULL,
  wall_ms REAL NOT NULL,
  content_hash TEXT NOT NULL CHECK (length(content_hash) = 64),
  -- What the hash covers, so that it can be worked out again when the core or a winding was corrected since.
  row_count INTEGER NOT NULL,
  core_revision_id INTEGER NOT NULL REFERENCES core_revision,
  winding_revision_id INTEGER REFERENCES winding_revision
) STRICT;

-- Runs: one execution of a procedure, with who filled its channels. mono_ms: the program's clock that never steps.
CREATE TABLE run (
  run_id INTEGER PRIMARY KEY,
  session_id INTEGER NOT NULL REFERENCES session,
  procedure TEXT NOT NULL,
  practice INTEGER NOT NULL CHECK (practice IN (0, 1)),
  wall_ms REAL NOT NULL,
  mono_ms REAL NOT NULL
) STRICT;
CREATE INDEX run_of ON run (session_id);

CREATE TABLE run_channel (
  run_id INTEGER NOT NULL REFERENCES run,
  channel INTEGER NOT NULL CHECK (channel >= 0),
  name TEXT NOT NULL,
  unit TEXT NOT NULL,
  meter_id INTEGER NOT NULL,
  meter_revision_id INTEGER NOT NULL,
  locked_range INTEGER CHECK (locked_range >= 0),
  PRIMARY KEY (run_id, channel),
  UNIQUE (run_id, name),
  FOREIGN KEY (meter_id, meter_revision_id) REFERENCES meter_revision (meter_id, revision_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE run_end (
  run_id INTEGER PRIMARY KEY REFERENCES run,
  ending TEXT NOT NULL CHECK (ending IN ('ended', 'tripped', 'interrupted')),
  wall_ms REAL NOT NULL
) STRICT;

-- Readings. Lean, for there may be ten million: what is one of a few words is part of one number (reading_plain spells
-- it out), and the wall clock is kept as its difference from run.wall_ms + at_us / 1000.
CREATE TABLE reading (
  reading_id INTEGER PRIMARY KEY,
  run_id INTEGER NOT NULL,
  channel INTEGER NOT NULL,
  -- Counts the readings of the channel from 0, without gaps.
  place INTEGER NOT NULL CHECK (place >= 0),
  -- Microseconds since the start of the run on the clock that never steps.
  at_us INTEGER NOT NULL CHECK (at_us >= 0),
  wall_offset_ms INTEGER NOT NULL,
  -- In the unit of the channel; null when the reading is no number.
  value REAL CHECK (abs(value) < 9e999),
  resolution REAL,
  text TEXT NOT NULL,
  range_index INTEGER CHECK (range_index >= 0),
  -- The sum of kind (0 number, 1 overload, 2 unreadable), 4 x coupling (0 none, 1 ac, 2 dc, 3 ac+dc), 16 x origin
  -- (0 meter, 1 keyboard, 2 practice), 64 when the range was locked by hand, 128 when it was accepted while tripped,
  -- and 256 when it is at the bottom of its range.
  form INTEGER NOT NULL CHECK (form BETWEEN 0 AND 511 AND form & 3 < 3 AND form & 48 < 48),
  CHECK ((form & 3 = 0) = (value IS NOT NULL)),
  FOREIGN KEY (run_id, channel) REFERENCES run_channel
) STRICT;
CREATE INDEX reading_at ON reading (run_id, channel, at_us);

CREATE VIEW reading_plain AS
SELECT
  reading.reading_id,
  reading.run_id,
  run_channel.name AS channel,
  reading.at_us / 1e6 AS at_seconds,
  run.wall_ms + reading.at_us / 1e3 + reading.wall_offset_ms AS wall_ms,
  CASE reading.form & 3 WHEN 0 THEN 'number' WHEN 1 THEN 'overload' ELSE 'unreadable' END AS kind,
  reading.value,
  run_channel.unit,
  CASE (reading.form >> 2) & 3 WHEN 1 THEN 'ac' WHEN 2 THEN 'dc' WHEN 3 THEN 'ac+dc' END AS coupling,
  reading.resolution,
  reading.text,
  CASE (reading.form >> 4) & 3 WHEN 0 THEN 'meter' WHEN 1 THEN 'keyboard' ELSE 'practice' END AS origin,
  reading.range_index,
  (reading.form >> 6) & 1 AS range_locked,
  (reading.form >> 7) & 1 AS tripped,
  (reading.form >> 8) & 1 AS bottom_of_range
FROM reading
JOIN run USING (run_id)
JOIN run_channel ON run_channel.run_id = reading.run_id AND run_channel.channel = reading.channel;

-- Closed buckets: 16 ^ level readings of a channel each, those of place number * 16 ^ level and after.
CREATE TABLE bucket (
  run_id INTEGER NOT NULL,
  channel INTEGER NOT NULL,
  level INTEGER NOT NULL CHECK (level BETWEEN 1 AND 4),
  number INTEGER NOT NULL,
  first_us INTEGER NOT NULL,
  last_us INTEGER NOT NULL,
  numbers INTEGER NOT NULL,
  overloads INTEGER NOT NULL,
  unreadables INTEGER NOT NULL,
  -- Of the numbers in it; null when there is none.
  sum REAL,
  opening REAL,
  opening_us INTEGER,
  lowest REAL,
  lowest_us INTEGER,
  highest REAL,
  highest_us INTEGER,
  closing REAL,
  closing_us INTEGER,
  -- The first reading in it that is no number.
  void_us INTEGER,
  -- The longest time between two neighbours in it.
  silence_from_us INTEGER NOT NULL,
  silence_to_us INTEGER NOT NULL,
  PRIMARY KEY (run_id, channel, level, number),
  FOREIGN KEY (run_id, channel) REFERENCES run_channel
) STRICT, WITHOUT ROWID;

-- What happened. A kept pair is an event with its body; so is its withdrawal.
CREATE TABLE event (
  event_id INTEGER PRIMARY KEY,
  session_id INTEGER REFERENCES session,
  run_id INTEGER REFERENCES run,
  wall_ms REAL NOT NULL,
  mono_ms REAL NOT NULL,
  kind TEXT NOT NULL,
  body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;
CREATE INDEX event_of_session ON event (session_id) WHERE session_id IS NOT NULL;
CREATE INDEX event_of_run ON event (run_id) WHERE run_id IS NOT NULL;
CREATE INDEX event_of_guard ON event (event_id) WHERE kind = 'guard';

CREATE TABLE kept_pair (
  event_id INTEGER PRIMARY KEY REFERENCES event,
  run_id INTEGER NOT NULL REFERENCES run
) STRICT;
CREATE INDEX kept_pair_of ON kept_pair (run_id);

CREATE TABLE kept_pair_reading (
  event_id INTEGER NOT NULL REFERENCES kept_pair,
  quantity TEXT NOT NULL CHECK (quantity IN ('primary', 'coil')),
  reading_id INTEGER NOT NULL REFERENCES reading,
  PRIMARY KEY (event_id, quantity, reading_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE kept_pair_withdrawal (
  event_id INTEGER PRIMARY KEY REFERENCES event,
  kept_event_id INTEGER NOT NULL UNIQUE REFERENCES kept_pair,
  reason TEXT NOT NULL
) STRICT;

CREATE TABLE check_mark (
  check_mark_id INTEGER PRIMARY KEY,
  session_id INTEGER NOT NULL REFERENCES session,
  run_id INTEGER REFERENCES run,
  check_name TEXT NOT NULL,
  mark TEXT NOT NULL CHECK (mark IN ('confirmed', 'seen-by-program', 'passed-over', 'lapsed')),
  who TEXT NOT NULL,
  reason TEXT,
  wall_ms REAL NOT NULL,
  mono_ms REAL NOT NULL
) STRICT;
CREATE INDEX check_mark_of ON check_mark (session_id);

CREATE TABLE result (
  result_id INTEGER PRIMARY KEY,
  build_id INTEGER NOT NULL REFERENCES build,
  run_id INTEGER REFERENCES run,
  calculation TEXT NOT NULL,
  version INTEGER NOT NULL,
  wall_ms REAL NOT NULL,
  body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;
CREATE INDEX result_of_build ON result (build_id);
CREATE INDEX result_of_run ON result (run_id) WHERE run_id IS NOT NULL;

CREATE TABLE result_reading (
  result_id INTEGER NOT NULL REFERENCES result,
  reading_id INTEGER NOT NULL REFERENCES reading,
  PRIMARY KEY (result_id, reading_id)
) STRICT, WITHOUT ROWID;

-- Which program brought the record to which version.
CREATE TABLE migration (
  version INTEGER PRIMARY KEY,
  program TEXT NOT NULL,
  wall_ms REAL NOT NULL
) STRICT;
