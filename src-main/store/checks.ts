import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { CheckMark } from '../../src-shared/record/check.ts';
import { checked, fromRow } from './body.ts';
import type { Context } from './context.ts';
import type { Signed } from './signed.ts';

/** Lines of checklists as they were confirmed, passed over or lapsed. Also written by `readings.writeBatch`. */
export interface Checks {
  /** `not-found` for a session, or a run that is not of this session; `session-signed`. */
  add(mark: CheckMark): Outcome<CheckMark>;
  /** In the order in which they were written. */
  ofSession(sessionId: number): readonly CheckMark[];
}

/** For the other parts of the store, inside a change of theirs. */
export type WriteCheck = (mark: CheckMark) => Outcome<CheckMark>;

/** Writes check marks over a connection. */
export function createWriteCheck({ database }: Context, signed: Signed): WriteCheck {
  const session = database.prepare<[number]>('SELECT 1 FROM session WHERE session_id = ?');
  const run = database.prepare<[number, number]>('SELECT 1 FROM run WHERE run_id = ? AND session_id = ?');
  const add = database.prepare<[number, number | null, string, string, string, string | null, number, number]>(`
    INSERT INTO check_mark (session_id, run_id, check_name, mark, who, reason, wall_ms, mono_ms)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?)`);
  return (input) => {
    const mark = checked(CheckMark, input);
    if (!mark.ok) return mark;
    const { sessionId, runId, checkId, who, reason, wallMs, monoMs } = mark.value;
    if (session.get(sessionId) === undefined) return failed('not-found', 'This session is not in the record.');
    if (runId !== null && run.get(runId, sessionId) === undefined) {
      return failed('not-found', 'This run is not in the record of the session.');
    }
    if (signed.session(sessionId)) return signed.refusal();
    add.run(sessionId, runId, checkId, mark.value.mark, who, reason, wallMs, monoMs);
    return done(mark.value);
  };
}

/** The check marks over a connection. */
export function createChecks({ database, change }: Context, write: WriteCheck): Checks {
  const bySession = database.prepare<[number], object>(`
    SELECT session_id AS sessionId, run_id AS runId, check_name AS checkId, mark, who, reason, wall_ms AS wallMs,
      mono_ms AS monoMs
    FROM check_mark WHERE session_id = ? ORDER BY check_mark_id`);
  return {
    add: (mark) => change(() => write(mark)),
    ofSession: (sessionId) => bySession.all(sessionId).map((row) => fromRow(CheckMark, row, 'check mark')),
  };
}
