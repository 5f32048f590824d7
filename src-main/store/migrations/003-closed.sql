-- What is ended takes no more. A run that is ended takes no readings; a session that is ended takes no runs; a session
-- that is signed off takes nothing at all.

CREATE VIEW signed_run AS
SELECT run.run_id FROM run JOIN session_sign_off USING (session_id);

CREATE TRIGGER reading_closed BEFORE INSERT ON reading
WHEN EXISTS (SELECT 1 FROM run_end WHERE run_id = NEW.run_id)
BEGIN SELECT RAISE(ABORT, 'the run is ended'); END;

CREATE TRIGGER run_channel_closed BEFORE INSERT ON run_channel
WHEN EXISTS (SELECT 1 FROM run_end WHERE run_id = NEW.run_id)
BEGIN SELECT RAISE(ABORT, 'the run is ended'); END;

CREATE TRIGGER run_closed BEFORE INSERT ON run
WHEN EXISTS (SELECT 1 FROM session_end WHERE session_id = NEW.session_id)
BEGIN SELECT RAISE(ABORT, 'the session is ended'); END;

CREATE TRIGGER session_end_after_runs BEFORE INSERT ON session_end
WHEN EXISTS (
  SELECT 1 FROM run LEFT JOIN run_end USING (run_id)
  WHERE run.session_id = NEW.session_id AND run_end.run_id IS NULL
)
BEGIN SELECT RAISE(ABORT, 'a run of the session is open'); END;

CREATE TRIGGER session_revision_signed BEFORE INSERT ON session_revision
WHEN EXISTS (SELECT 1 FROM session_sign_off WHERE session_id = NEW.session_id)
BEGIN SELECT RAISE(ABORT, 'the session is signed off'); END;

CREATE TRIGGER event_signed BEFORE INSERT ON event
WHEN EXISTS (SELECT 1 FROM session_sign_off WHERE session_id = NEW.session_id)
  OR EXISTS (SELECT 1 FROM signed_run WHERE run_id = NEW.run_id)
BEGIN SELECT RAISE(ABORT, 'the session is signed off'); END;

CREATE TRIGGER event_of_its_session BEFORE INSERT ON event
WHEN NEW.session_id IS NOT NULL AND NEW.run_id IS NOT NULL
  AND NOT EXISTS (SELECT 1 FROM run WHERE run_id = NEW.run_id AND session_id = NEW.session_id)
BEGIN SELECT RAISE(ABORT, 'the run belongs to another session'); END;

CREATE TRIGGER check_mark_signed BEFORE INSERT ON check_mark
WHEN EXISTS (SELECT 1 FROM session_sign_off WHERE session_id = NEW.session_id)
BEGIN SELECT RAISE(ABORT, 'the session is signed off'); END;

CREATE TRIGGER check_mark_of_its_session BEFORE INSERT ON check_mark
WHEN NEW.run_id IS NOT NULL
  AND NOT EXISTS (SELECT 1 FROM run WHERE run_id = NEW.run_id AND session_id = NEW.session_id)
BEGIN SELECT RAISE(ABORT, 'the run belongs to another session'); END;

CREATE TRIGGER kept_pair_signed BEFORE INSERT ON kept_pair
WHEN EXISTS (SELECT 1 FROM signed_run WHERE run_id = NEW.run_id)
BEGIN SELECT RAISE(ABORT, 'the session is signed off'); END;

CREATE TRIGGER kept_pair_reading_signed BEFORE INSERT ON kept_pair_reading
WHEN EXISTS (SELECT 1 FROM kept_pair JOIN signed_run USING (run_id) WHERE kept_pair.event_id = NEW.event_id)
BEGIN SELECT RAISE(ABORT, 'the session is signed off'); END;

CREATE TRIGGER kept_pair_reading_of_its_run BEFORE INSERT ON kept_pair_reading
WHEN NOT EXISTS (
  SELECT 1 FROM kept_pair JOIN reading USING (run_id)
  WHERE kept_pair.event_id = NEW.event_id AND reading.reading_id = NEW.reading_id
)
BEGIN SELECT RAISE(ABORT, 'the reading belongs to another run'); END;

CREATE TRIGGER kept_pair_withdrawal_signed BEFORE INSERT ON kept_pair_withdrawal
WHEN EXISTS (SELECT 1 FROM kept_pair JOIN signed_run USING (run_id) WHERE kept_pair.event_id = NEW.kept_event_id)
BEGIN SELECT RAISE(ABORT, 'the session is signed off'); END;

CREATE TRIGGER result_signed BEFORE INSERT ON result
WHEN EXISTS (SELECT 1 FROM signed_run WHERE run_id = NEW.run_id)
BEGIN SELECT RAISE(ABORT, 'the session is signed off'); END;

CREATE TRIGGER result_reading_signed BEFORE INSERT ON result_reading
WHEN EXISTS (SELECT 1 FROM result JOIN signed_run USING (run_id) WHERE result.result_id = NEW.result_id)
BEGIN SELECT RAISE(ABORT, 'the session is signed off'); END;
