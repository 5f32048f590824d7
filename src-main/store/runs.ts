import * as v from 'valibot';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import {
  ChannelExtras,
  ChannelTakenOver,
  eventKind,
  Run,
  TimeFactor,
  type RunChannel,
} from '../../src-shared/record/run.ts';
import { bodyValue, fromRow } from './body.ts';
import type { WriteEvent } from './events.ts';
import { rowId, type Context } from './context.ts';
import { sinceStartMs, type TimedRun } from '../../src-shared/record/run-time.ts';
import { freshRun, grownRun, type OpenRuns } from './open-runs.ts';

/** A run about to start. */
export interface NewRun {
  readonly sessionId: number;
  readonly procedure: string;
  /** In the order that readings name them by. */
  readonly channels: readonly RunChannel[];
  /** Any channel is filled by practice: the whole run is practice for good. A practice session makes it so too. */
  readonly practice: boolean;
  readonly startedMonoMs: number;
  /** How many times faster than the clock its time goes; of practice alone, absent is 1. */
  readonly timeFactor?: number | undefined;
}

/** The runs. At most one is open. */
export interface Runs {
  /**
   * Starts a run; its start by the wall clock is now. `not-found` for a session or meter that is not there;
   * `session-closed`; `run-open` while another run is open; `bad-input` when a channel is named twice.
   */
  start(run: NewRun): Outcome<Run>;
  /**
   * Adds channels to an open run, after those it has: a meter that came later. `not-found` for the run or a meter;
   * `no-run` when it was ended; `bad-input` when a channel is named twice.
   */
  addChannels(runId: number, channels: readonly RunChannel[]): Outcome<Run>;
  /**
   * Says who reads a channel from an instant on, on the clock of the run's start. `not-found` for the run, the channel or
   * the meter; `no-run` when it was ended.
   */
  takeOver(runId: number, monoMs: number, taken: ChannelTakenOver): Outcome<Run>;
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

const Simulated = v.strictObject({ factor: TimeFactor });
const Extras = v.strictObject({ channel: v.string(), ...ChannelExtras.entries });

/** The channels with what is said beside them, which few have. */
function withExtras(channels: readonly { readonly channel: string }[], bodies: readonly string[]): object[] {
  const extras = bodies.map((body) => fromRow(Extras, bodyValue(body), 'channel of a run'));
  return channels.map((one) => ({ ...one, ...extras.find(({ channel }) => channel === one.channel) }));
}

interface TakenRow {
  readonly mono_ms: number;
  readonly body: string;
}

/** The channels with who took them over since, which few have. */
function withTakeOvers(channels: readonly object[], run: TimedRun, rows: readonly TakenRow[]): object[] {
  const taken = rows.map(({ mono_ms, body }) => ({
    ...fromRow(ChannelTakenOver, bodyValue(body), 'take-over of a channel'),
    fromMs: sinceStartMs(run, mono_ms),
  }));
  return channels.map((one) => {
    const own = taken.filter(({ channel }) => 'channel' in one && one.channel === channel);
    return own.length === 0 ? one : { ...one, takenOver: own.map(({ fromMs, filler }) => ({ fromMs, ...filler })) };
  });
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
    channels: database.prepare<[number], { readonly channel: string }>(`
      SELECT name AS channel, unit, meter_id AS meterId, meter_revision_id AS meterRevisionId, locked_range AS lockedRange
      FROM run_channel WHERE run_id = ? ORDER BY run_channel.channel`),
    extras: database
      .prepare<[number], string>(`SELECT body FROM event WHERE run_id = ? AND kind = '${eventKind.channelExtras}'`)
      .pluck(),
    taken: database.prepare<[number], TakenRow>(`
      SELECT mono_ms, body FROM event WHERE run_id = ? AND kind = '${eventKind.channelTakenOver}' ORDER BY event_id`),
    simulated: database
      .prepare<[number], string>(`SELECT body FROM event WHERE run_id = ? AND kind = '${eventKind.simulatedTime}'`)
      .pluck(),
    one: database.prepare<[number], RunRow>(`${select} WHERE run_id = ?`),
    open: database.prepare<[], RunRow>(`${select} WHERE run_end.run_id IS NULL`),
    ofSession: database.prepare<[number], RunRow>(`${select} WHERE session_id = ? ORDER BY run_id`),
    ofCore: database.prepare<[number], RunRow>(
      `${select} WHERE build_id IN (SELECT build_id FROM build WHERE core_id = ?) ORDER BY run_id`,
    ),
  };
}

/** The runs over a connection. Keeps `openRuns` up to date; `nextEventId` numbers what is said beside a run. */
export function createRuns(
  { database, change, wallNow }: Context,
  openRuns: OpenRuns,
  writeEvent: WriteEvent,
  nextEventId: () => number,
): Runs {
  const sql = statements(database);

  const simulatedTime = (row: RunRow): { readonly timeFactor?: number } => {
    const body = row.practice === 1 ? sql.simulated.get(row.run_id) : undefined;
    if (body === undefined) return {};
    return { timeFactor: fromRow(Simulated, bodyValue(body), 'simulated time of a run').factor };
  };

  const asRun = (row: RunRow): Run => {
    const time = simulatedTime(row);
    const channels = withExtras(sql.channels.all(row.run_id), sql.extras.all(row.run_id));
    const timed = { startedMonoMs: row.mono_ms, ...time };
    return fromRow(
      Run,
      {
        runId: row.run_id,
        sessionId: row.session_id,
        buildId: row.build_id,
        procedure: row.procedure,
        channels: withTakeOvers(channels, timed, sql.taken.all(row.run_id)),
        startedWallMs: row.wall_ms,
        startedMonoMs: row.mono_ms,
        endedWallMs: row.end_wall_ms,
        ending: row.ending ?? 'running',
        practice: row.practice === 1,
        ...time,
      },
      `run ${row.run_id}`,
    );
  };
  const orNull = (row: RunRow | undefined) => (row === undefined ? null : asRun(row));
  const missing = () => failed('not-found', 'This run is not in the record.');
  const asItIs = (runId: number): Outcome<Run> => {
    const run = orNull(sql.one.get(runId));
    return run === null ? missing() : done(run);
  };

  function refusal({ channels, startedMonoMs }: Pick<NewRun, 'channels' | 'startedMonoMs'>) {
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
    const { sessionId, procedure, channels, startedMonoMs, timeFactor = 1 } = run;
    if (timeFactor !== 1 && !practice) return failed('bad-input', 'Only a practised run has a simulated time.');
    const runId = rowId(sql.add.run(sessionId, procedure, practice ? 1 : 0, wallNow(), startedMonoMs));
    const at = { runId, sessionId, monoMs: startedMonoMs };
    const failure = writeChannels(at, 0, channels) ?? writeTime(at, timeFactor);
    return failure === null ? asItIs(runId) : { ok: false, failure };
  }

  interface Place {
    readonly runId: number;
    readonly sessionId: number;
    readonly monoMs: number;
  }
  /** Writes what is said beside a run; what went wrong, or null. */
  const say = (at: Place, kind: string, body: unknown) => {
    const written = writeEvent({ eventId: nextEventId(), ...at, wallMs: wallNow(), kind, body });
    return written.ok ? null : written.failure;
  };
  const writeTime = (at: Place, factor: number) => (factor === 1 ? null : say(at, eventKind.simulatedTime, { factor }));

  /** Writes channels of a run, and what they have beyond the columns; what went wrong, or null. */
  const writeChannels = (at: Place, from: number, channels: readonly RunChannel[]) => {
    channels.forEach(({ channel, unit, meterId, meterRevisionId, lockedRange }, index) =>
      sql.addChannel.run(at.runId, from + index, channel, unit, meterId, meterRevisionId, lockedRange),
    );
    for (const { channel, value, passes } of channels) {
      if (value === undefined && passes === undefined) continue;
      const extras = { ...(value === undefined ? {} : { value }), ...(passes === undefined ? {} : { passes }) };
      const failure = say(at, eventKind.channelExtras, { channel, ...extras });
      if (failure !== null) return failure;
    }
    return null;
  };

  function addChannels(runId: number, channels: readonly RunChannel[]): Outcome<Run> {
    const run = orNull(sql.one.get(runId));
    if (run === null) return missing();
    if (run.ending !== 'running') return failed('no-run', 'This run was ended before.');
    const refused = refusal({ channels: [...run.channels, ...channels], startedMonoMs: run.startedMonoMs });
    if (refused !== null) return refused;
    const at = { runId, sessionId: run.sessionId, monoMs: run.startedMonoMs };
    const failure = writeChannels(at, run.channels.length, channels);
    return failure === null ? asItIs(runId) : { ok: false, failure };
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
    addChannels(runId, channels) {
      const grown = change(() => addChannels(runId, channels));
      const open = openRuns.get(runId);
      if (grown.ok && open !== undefined) openRuns.set(runId, grownRun(open, channels.length));
      return grown;
    },
    takeOver: (runId, monoMs, taken) =>
      change(() => {
        const run = orNull(sql.one.get(runId));
        if (run === null) return missing();
        if (run.ending !== 'running') return failed('no-run', 'This run was ended before.');
        const { channel, filler } = taken;
        if (!run.channels.some((one) => one.channel === channel)) {
          return failed('not-found', `The run has no channel ${channel}.`);
        }
        if (sql.meter.get(filler.meterId, filler.meterRevisionId) === undefined) {
          return failed('not-found', `The meter of ${channel} is not in the record.`);
        }
        const failure = say({ runId, sessionId: run.sessionId, monoMs }, eventKind.channelTakenOver, taken);
        return failure === null ? asItIs(runId) : { ok: false, failure };
      }),
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
