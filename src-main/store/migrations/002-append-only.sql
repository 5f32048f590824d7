-- What was written stays. UPDATE and DELETE are refused on every table of the record; so is INSERT OR REPLACE, which
-- deletes without asking the triggers that guard against DELETE.

CREATE TRIGGER core_keeps_update BEFORE UPDATE ON core
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER core_keeps_delete BEFORE DELETE ON core
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER core_keeps_replace BEFORE INSERT ON core
WHEN EXISTS (SELECT 1 FROM core WHERE core_id = NEW.core_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER core_revision_keeps_update BEFORE UPDATE ON core_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER core_revision_keeps_delete BEFORE DELETE ON core_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER core_revision_keeps_replace BEFORE INSERT ON core_revision
WHEN EXISTS (SELECT 1 FROM core_revision WHERE revision_id = NEW.revision_id OR replaces = NEW.replaces)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER build_keeps_update BEFORE UPDATE ON build
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER build_keeps_delete BEFORE DELETE ON build
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER build_keeps_replace BEFORE INSERT ON build
WHEN EXISTS (SELECT 1 FROM build WHERE build_id = NEW.build_id OR (core_id = NEW.core_id AND number = NEW.number))
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER winding_keeps_update BEFORE UPDATE ON winding
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER winding_keeps_delete BEFORE DELETE ON winding
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER winding_keeps_replace BEFORE INSERT ON winding
WHEN EXISTS (SELECT 1 FROM winding WHERE winding_id = NEW.winding_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER winding_revision_keeps_update BEFORE UPDATE ON winding_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER winding_revision_keeps_delete BEFORE DELETE ON winding_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER winding_revision_keeps_replace BEFORE INSERT ON winding_revision
WHEN EXISTS (SELECT 1 FROM winding_revision WHERE revision_id = NEW.revision_id OR replaces = NEW.replaces)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER meter_keeps_update BEFORE UPDATE ON meter
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER meter_keeps_delete BEFORE DELETE ON meter
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER meter_keeps_replace BEFORE INSERT ON meter
WHEN EXISTS (SELECT 1 FROM meter WHERE meter_id = NEW.meter_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER meter_revision_keeps_update BEFORE UPDATE ON meter_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER meter_revision_keeps_delete BEFORE DELETE ON meter_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER meter_revision_keeps_replace BEFORE INSERT ON meter_revision
WHEN EXISTS (SELECT 1 FROM meter_revision WHERE revision_id = NEW.revision_id OR replaces = NEW.replaces)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER setting_keeps_update BEFORE UPDATE ON setting
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER setting_keeps_delete BEFORE DELETE ON setting
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER setting_keeps_replace BEFORE INSERT ON setting
WHEN EXISTS (SELECT 1 FROM setting WHERE setting_id = NEW.setting_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER session_keeps_update BEFORE UPDATE ON session
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER session_keeps_delete BEFORE DELETE ON session
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER session_keeps_replace BEFORE INSERT ON session
WHEN EXISTS (SELECT 1 FROM session WHERE session_id = NEW.session_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER session_revision_keeps_update BEFORE UPDATE ON session_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER session_revision_keeps_delete BEFORE DELETE ON session_revision
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER session_revision_keeps_replace BEFORE INSERT ON session_revision
WHEN EXISTS (SELECT 1 FROM session_revision WHERE revision_id = NEW.revision_id OR replaces = NEW.replaces)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER session_end_keeps_update BEFORE UPDATE ON session_end
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER session_end_keeps_delete BEFORE DELETE ON session_end
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER session_end_keeps_replace BEFORE INSERT ON session_end
WHEN EXISTS (SELECT 1 FROM session_end WHERE session_id = NEW.session_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER session_sign_off_keeps_update BEFORE UPDATE ON session_sign_off
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER session_sign_off_keeps_delete BEFORE DELETE ON session_sign_off
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER session_sign_off_keeps_replace BEFORE INSERT ON session_sign_off
WHEN EXISTS (SELECT 1 FROM session_sign_off WHERE session_id = NEW.session_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER run_keeps_update BEFORE UPDATE ON run
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER run_keeps_delete BEFORE DELETE ON run
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER run_keeps_replace BEFORE INSERT ON run
WHEN EXISTS (SELECT 1 FROM run WHERE run_id = NEW.run_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER run_channel_keeps_update BEFORE UPDATE ON run_channel
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER run_channel_keeps_delete BEFORE DELETE ON run_channel
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER run_channel_keeps_replace BEFORE INSERT ON run_channel
WHEN EXISTS (SELECT 1 FROM run_channel WHERE (run_id = NEW.run_id AND channel = NEW.channel) OR (run_id = NEW.run_id AND name = NEW.name))
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER run_end_keeps_update BEFORE UPDATE ON run_end
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER run_end_keeps_delete BEFORE DELETE ON run_end
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER run_end_keeps_replace BEFORE INSERT ON run_end
WHEN EXISTS (SELECT 1 FROM run_end WHERE run_id = NEW.run_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER reading_keeps_update BEFORE UPDATE ON reading
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER reading_keeps_delete BEFORE DELETE ON reading
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER reading_keeps_replace BEFORE INSERT ON reading
WHEN EXISTS (SELECT 1 FROM reading WHERE reading_id = NEW.reading_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER event_keeps_update BEFORE UPDATE ON event
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER event_keeps_delete BEFORE DELETE ON event
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER event_keeps_replace BEFORE INSERT ON event
WHEN EXISTS (SELECT 1 FROM event WHERE event_id = NEW.event_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER kept_pair_keeps_update BEFORE UPDATE ON kept_pair
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER kept_pair_keeps_delete BEFORE DELETE ON kept_pair
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER kept_pair_keeps_replace BEFORE INSERT ON kept_pair
WHEN EXISTS (SELECT 1 FROM kept_pair WHERE event_id = NEW.event_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER kept_pair_reading_keeps_update BEFORE UPDATE ON kept_pair_reading
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER kept_pair_reading_keeps_delete BEFORE DELETE ON kept_pair_reading
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER kept_pair_reading_keeps_replace BEFORE INSERT ON kept_pair_reading
WHEN EXISTS (SELECT 1 FROM kept_pair_reading WHERE event_id = NEW.event_id AND quantity = NEW.quantity AND reading_id = NEW.reading_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER kept_pair_withdrawal_keeps_update BEFORE UPDATE ON kept_pair_withdrawal
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER kept_pair_withdrawal_keeps_delete BEFORE DELETE ON kept_pair_withdrawal
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER kept_pair_withdrawal_keeps_replace BEFORE INSERT ON kept_pair_withdrawal
WHEN EXISTS (SELECT 1 FROM kept_pair_withdrawal WHERE event_id = NEW.event_id OR kept_event_id = NEW.kept_event_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER check_mark_keeps_update BEFORE UPDATE ON check_mark
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER check_mark_keeps_delete BEFORE DELETE ON check_mark
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER check_mark_keeps_replace BEFORE INSERT ON check_mark
WHEN EXISTS (SELECT 1 FROM check_mark WHERE check_mark_id = NEW.check_mark_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER result_keeps_update BEFORE UPDATE ON result
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER result_keeps_delete BEFORE DELETE ON result
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER result_keeps_replace BEFORE INSERT ON result
WHEN EXISTS (SELECT 1 FROM result WHERE result_id = NEW.result_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER result_reading_keeps_update BEFORE UPDATE ON result_reading
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER result_reading_keeps_delete BEFORE DELETE ON result_reading
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER result_reading_keeps_replace BEFORE INSERT ON result_reading
WHEN EXISTS (SELECT 1 FROM result_reading WHERE result_id = NEW.result_id AND reading_id = NEW.reading_id)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;

CREATE TRIGGER migration_keeps_update BEFORE UPDATE ON migration
BEGIN SELECT RAISE(ABORT, 'a row of the record is never changed'); END;
CREATE TRIGGER migration_keeps_delete BEFORE DELETE ON migration
BEGIN SELECT RAISE(ABORT, 'a row of the record is never removed'); END;
CREATE TRIGGER migration_keeps_replace BEFORE INSERT ON migration
WHEN EXISTS (SELECT 1 FROM migration WHERE version = NEW.version)
BEGIN SELECT RAISE(ABORT, 'a row of the record is never replaced'); END;
