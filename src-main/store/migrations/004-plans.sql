-- What projects need, what was planned for a build, and how far the winding has come.

-- Needs and their corrections; a retired one is off the list, its rows stay.
CREATE TABLE need (
  need_id INTEGER PRIMARY KEY
) STRICT;

CREATE TABLE need_revision (
  revision_id INTEGER PRIMARY KEY,
  need_id INTEGER NOT NULL REFERENCES need,
  replaces INTEGER UNIQUE REFERENCES need_revision,
  reason TEXT,
  wall_ms REAL NOT NULL,
  retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
  body TEXT NOT NULL CHECK (json_valid(body)),
  CHECK ((replaces IS NULL) = (reason IS NULL))
) STRICT;
CREATE INDEX need_revision_of ON need_revision (need_id);

-- Plans for a build. Every version is a row that names the one before it, with the measurements that it stood on.
CREATE TABLE plan (
  plan_id INTEGER PRIMARY KEY,
  build_id INTEGER NOT NULL REFERENCES build
) STRICT;
CREATE INDEX plan_of ON plan (build_id);

CREATE TABLE plan_revision (
  revision_id INTEGER PRIMARY KEY,
  plan_id INTEGER NOT NULL REFERENCES plan,
  replaces INTEGER UNIQUE REFERENCES plan_revision,
  reason TEXT,
  wall_ms REAL NOT NULL,
  need_id INTEGER REFERENCES need,
  core_revision_id INTEGER NOT NULL REFERENCES core_revision,
  body TEXT NOT NULL CHECK (json_valid(body)),
  CHECK (reason IS NULL OR replaces IS NOT NULL)
) STRICT;
CREATE INDEX plan_revision_of ON plan_revision (plan_id);

CREATE TABLE plan_winding (
  revision_id INTEGER NOT NULL REFERENCES plan_revision,
  winding_revision_id INTEGER NOT NULL REFERENCES winding_revision,
  PRIMARY KEY (revision_id, winding_revision_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_result (
  revision_id INTEGER NOT NULL REFERENCES plan_revision,
  result_id INTEGER NOT NULL REFERENCES result,
  PRIMARY KEY (revision_id, result_id)
) STRICT, WITHOUT ROWID;

-- The count while winding: every press adds a row with the new total. The newest row of an output is its count.
CREATE TABLE tally_mark (
  tally_mark_id INTEGER PRIMARY KEY,
  plan_id INTEGER NOT NULL REFERENCES plan,
  output_key TEXT NOT NULL,
  turns REAL NOT NULL CHECK (turns >= 0),
  wall_ms REAL NOT NULL
) STRICT;
CREATE INDEX tally_mark_of ON tally_mark (plan_id, output_key);

CREATE TRIGGER need_keeps_update BEFORE UPDATE ON need
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER need_keeps_delete BEFORE DELETE ON need
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER need_keeps_replace BEFORE INSERT ON need
WHEN EXISTS (SELECT 1 FROM need WHERE need_id = NEW.need_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER need_revision_keeps_update BEFORE UPDATE ON need_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER need_revision_keeps_delete BEFORE DELETE ON need_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER need_revision_keeps_replace BEFORE INSERT ON need_revision
WHEN EXISTS (SELECT 1 FROM need_revision WHERE revision_id = NEW.revision_id OR replaces = NEW.replaces)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER plan_keeps_update BEFORE UPDATE ON plan
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER plan_keeps_delete BEFORE DELETE ON plan
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER plan_keeps_replace BEFORE INSERT ON plan
WHEN EXISTS (SELECT 1 FROM plan WHERE plan_id = NEW.plan_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER plan_revision_keeps_update BEFORE UPDATE ON plan_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER plan_revision_keeps_delete BEFORE DELETE ON plan_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER plan_revision_keeps_replace BEFORE INSERT ON plan_revision
WHEN EXISTS (SELECT 1 FROM plan_revision WHERE revision_id = NEW.revision_id OR replaces = NEW.replaces)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER plan_winding_keeps_update BEFORE UPDATE ON plan_winding
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER plan_winding_keeps_delete BEFORE DELETE ON plan_winding
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER plan_winding_keeps_replace BEFORE INSERT ON plan_winding
WHEN EXISTS (SELECT 1 FROM plan_winding WHERE revision_id = NEW.revision_id AND winding_revision_id = NEW.winding_revision_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER plan_result_keeps_update BEFORE UPDATE ON plan_result
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER plan_result_keeps_delete BEFORE DELETE ON plan_result
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER plan_result_keeps_replace BEFORE INSERT ON plan_result
WHEN EXISTS (SELECT 1 FROM plan_result WHERE revision_id = NEW.revision_id AND result_id = NEW.result_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER tally_mark_keeps_update BEFORE UPDATE ON tally_mark
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER tally_mark_keeps_delete BEFORE DELETE ON tally_mark
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER tally_mark_keeps_replace BEFORE INSERT ON tally_mark
WHEN EXISTS (SELECT 1 FROM tally_mark WHERE tally_mark_id = NEW.tally_mark_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;
