import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { Run, type RunChannel } from '../../src-shared/record/run.ts';
import { fromRow } from './body.ts';
import { rowId, type Context } from './context.ts';
import { freshRun, type OpenRuns } from './open-runs.ts';

/** A run about to start. */
export interface NewRun {
  readonly sessionId: number;
  readonly procedure: string;
  /** In the order that readings name them by. */
  readonly channels: readonly RunChannel[];
  /** Any channel is filled by practice: the whole run is practice for good. A practice session makes it so too. */
  readonly practice: boolean;
  readonly startedMonoMs: number;
}

/** The runs. At most one is open. */
export interface Runs {
  /**
   * Starts a run; its start by the wall clock is now. `not-found` for a session or meter that is not there;
   * `session-closed`; `run-open` while another run is open; `bad-input` when a channel is named twice.
   */
  start(run: NewRun): Outcome<Run>;
  /**
   * Ends the run, now, after everything that was accepted has been written: later readings of it are refused.
   * `tripped` says that it was tripped before it was ended. `not-found`; `no-run` when it was ended before.
   */
  end(runId: number, ending: 'ended' | 'tripped'): Outcome<Run>;
  /** The run that is open; null when none is. */
  current(): Run | null;
  get(runId: number): Run | null;
  /** In the order in which they were started. */
  ofSession(sessionId: number): readonly Run[];
  ofCore(coreId: number): readonly Run[];
}

interface RunRow {
  readonly run_id: number;
  readonly session_id: number;
  readonly build_id: number;
  readonly procedure: string;
  readonly practice: number;
  readonly wall_ms: number;
  readonly mono_ms: number;
  readonly ending: string | null;
  readonly end_wall_ms: number | null;
}

/** Everything that the runs ask of a connection. */
function statements(database: Context['database']) {
  const select = `
    SELECT run.*, session.build_id, run_end.ending, run_end.wall_ms AS end_wall_ms
    FROM run JOIN session USING (session_id) LEFT JOIN run_end USING (run_id)`;
  return {
    session: database.prepare<[number], { practice: number; ended: number }>(`
      SELECT practice, EXISTS (SELECT 1 FROM session_end WHERE session_id = session.session_id) AS ended
      FROM session WHERE session_id = ?`),
    meter: database.prepare<[number, number]>('SELECT 1 FROM meter_revision WHERE meter_id = ? AND revision_id = ?'),
    add: database.prepare<[number, string, number, number, number]>(
      'INSERT INTO run (session_id, procedure, practice, wall_ms, mono_ms) VALUES (?, ?, ?, ?, ?)',
    ),
    addChannel: database.prepare<[number, number, string, string, number, number, number | null]>(`
      INSERT INTO run_channel (run_id, channel, name, unit, meter_id, meter_revision_id, locked_range)
      VALUES (?, ?, ?, ?, ?, ?, ?)`),
    addEnd: database.prepare<[number, string, number]>(
      'INSERT INTO run_end (run_id, ending, wall_ms) VALUES (?, ?, ?)',
    ),
    channels: database.prepare<[number], object>(`
      SELECT name AS channel, unit, meter_id AS meterId, meter_revision_id AS meterRevisionId, locked_range AS lockedRange
      FROM run_channel WHERE run_id = ? ORDER BY run_channel.channel`),
    one: database.prepare<[number], RunRow>(`${select} WHERE run_id = ?`),
    open: database.prepare<[], RunRow>(`${select} WHERE run_end.run_id IS NULL`),
    ofSession: database.prepare<[number], RunRow>(`${select} WHERE session_id = ? ORDER BY run_id`),
    ofCore: database.prepare<[number], RunRow>(
      `${select} WHERE build_id IN (SELECT build_id FROM build WHERE core_id = ?) ORDER BY run_id`,
    ),
  };
}

/** The runs over a connection. Keeps `openRuns` up to date. */
export function createRuns({ database, change, wallNow }: Context, openRuns: OpenRuns): Runs {
  const sql = statements(database);

  const asRun = (row: RunRow): Run =>
    fromRow(
      Run,
      {
        runId: row.run_id,
        sessionId: row.session_id,
        buildId: row.build_id,
        procedure: row.procedure,
        channels: sql.channels.all(row.run_id),
        startedWallMs: row.wall_ms,
        startedMonoMs: row.mono_ms,
        endedWallMs: row.end_wall_ms,
        ending: row.ending ?? 'running',
        practice: row.practice === 1,
      },
      `run ${row.run_id}`,
    );
  const orNull = (row: RunRow | undefined) => (row === undefined ? null : asRun(row));
  const missing = () => failed('not-found', 'This run is not in the record.');
  const asItIs = (runId: number): Outcome<Run> => {
    const run = orNull(sql.one.get(runId));
    return run === null ? missing() : done(run);
  };

  function refusal({ channels, startedMonoMs }: NewRun) {
    if (new Set(channels.map(({ channel }) => channel)).size !== channels.length) {
      return failed('bad-input', 'A run names each of its channels once.');
    }
    if (!Number.isFinite(startedMonoMs)) return failed('bad-input', 'The start of a run must be a finite number.');
    const unknown = channels.find(
      ({ meterId, meterRevisionId }) => sql.meter.get(meterId, meterRevisionId) === undefined,
    );
    if (unknown !== undefined) return failed('not-found', `The meter of ${unknown.channel} is not in the record.`);
    return null;
  }

  function start(run: NewRun): Outcome<Run> {
    const session = sql.session.get(run.sessionId);
    if (session === undefined) return failed('not-found', 'This session is not in the record.');
    if (session.ended === 1) return failed('session-closed', 'This session is ended. A run needs an open one.');
    if (sql.open.get() !== undefined) return failed('run-open', 'A run is open. End it before another is started.');
    const refused = refusal(run);
    if (refused !== null) return refused;
    const practice = run.practice || session.practice === 1;
    const { sessionId, procedure, channels, startedMonoMs } = run;
    const runId = rowId(sql.add.run(sessionId, procedure, practice ? 1 : 0, wallNow(), startedMonoMs));
    channels.forEach(({ channel, unit, meterId, meterRevisionId, lockedRange }, index) =>
      sql.addChannel.run(runId, index, channel, unit, meterId, meterRevisionId, lockedRange),
    );
    return asItIs(runId);
  }

  return {
    start(run) {
      const started = change(() => start(run));
      if (started.ok) {
        const { runId, startedWallMs, practice, channels } = started.value;
        openRuns.set(runId, freshRun(runId, startedWallMs, practice, channels.length));
      }
      return started;
    },
    end(runId, ending) {
      const ended = change(() => {
        const row = sql.one.get(runId);
        if (row === undefined) return missing();
        if (row.ending !== null) return failed('no-run', 'This run was ended before.');
        sql.addEnd.run(runId, ending, wallNow());
        return asItIs(runId);
      });
      if (ended.ok) openRuns.delete(runId);
      return ended;
    },
    current: () => orNull(sql.open.get()),
    get: (runId) => orNull(sql.one.get(runId)),
    ofSession: (sessionId) => sql.ofSession.all(sessionId).map(asRun),
    ofCore: (coreId) => sql.ofCore.all(coreId).map(asRun),
  };
}
