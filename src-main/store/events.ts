import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { RecordEvent } from '../../src-shared/record/run.ts';
import { bodyText, bodyValue, fromRow } from './body.ts';
import type { Context } from './context.ts';
import type { Signed } from './signed.ts';

/** What happened, in the order of the numbers. Written alone here, or with readings by `readings.writeBatch`. */
export interface Events {
  /** A number for the next event, above every one in the record and never given twice by this store. */
  nextId(): number;
  /**
   * Writes one event at once, numbered by the store. `not-found` for a session or run that is not there; `bad-input`
   * for a run of another session or a body that is no JSON; `session-signed`.
   */
  add(event: Omit<RecordEvent, 'eventId' | 'wallMs'>): Outcome<RecordEvent>;
  get(eventId: number): RecordEvent | null;
  /** Oldest first. */
  ofRun(runId: number): readonly RecordEvent[];
  /** Those of some kinds, oldest first. */
  ofRunAndKind(runId: number, kind: string): readonly RecordEvent[];
  /** Those of a kind in the whole record, oldest first. */
  ofKind(kind: string): readonly RecordEvent[];
  /** Stretches of power that the guard was told of in the run, on the clock of its start; `offAtMs` null while on. */
  powerOf(runId: number): readonly { readonly onAtMs: number; readonly offAtMs: number | null }[];
  /** Oldest first, those of its runs included. */
  ofSession(sessionId: number): readonly RecordEvent[];
  /** The guard's last state before a run of the session was started at `wallMs`; null when none is known. */
  guardBefore(sessionId: number, runId: number, wallMs: number): RecordEvent | null;
  /** The last written state of the guard (`eventKind.guard`); null when there is none. */
  lastGuard(): RecordEvent | null;
}

/** For the other parts of the store, inside a change of theirs: writes an event, or says why not. */
export type WriteEvent = (event: RecordEvent) => Outcome<RecordEvent>;

interface EventRow {
  readonly event_id: number;
  readonly session_id: number | null;
  readonly run_id: number | null;
  readonly wall_ms: number;
  readonly mono_ms: number;
  readonly kind: string;
  readonly body: string;
}

const asEvent = (row: EventRow): RecordEvent =>
  fromRow(
    RecordEvent,
    {
      eventId: row.event_id,
      sessionId: row.session_id,
      runId: row.run_id,
      wallMs: row.wall_ms,
      monoMs: row.mono_ms,
      kind: row.kind,
      body: bodyValue(row.body),
    },
    `event ${row.event_id}`,
  );
const orNull = (row: EventRow | undefined) => (row === undefined ? null : asEvent(row));

/** Writes events over a connection. */
export function createWriteEvent({ database }: Context, signed: Signed): WriteEvent {
  const session = database.prepare<[number]>('SELECT 1 FROM session WHERE session_id = ?');
  const sessionOfRun = database.prepare<[number], number>('SELECT session_id FROM run WHERE run_id = ?').pluck();
  const add = database.prepare<[number, number | null, number | null, number, number, string, string]>(
    'INSERT INTO event (event_id, session_id, run_id, wall_ms, mono_ms, kind, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
  );

  function refusal({ sessionId, runId }: RecordEvent) {
    if (sessionId !== null && session.get(sessionId) === undefined) {
      return failed('not-found', 'This session is not in the record.');
    }
    if (runId !== null) {
      const ofRun = sessionOfRun.get(runId);
      if (ofRun === undefined) return failed('not-found', 'This run is not in the record.');
      if (sessionId !== null && sessionId !== ofRun) return failed('bad-input', 'The run belongs to another session.');
      if (signed.run(runId)) return signed.refusal();
    }
    return sessionId !== null && signed.session(sessionId) ? signed.refusal() : null;
  }

  return (event) => {
    const refused = refusal(event);
    if (refused !== null) return refused;
    const body = bodyText(event.body ?? null);
    if (!body.ok) return body;
    if (!Number.isFinite(event.wallMs) || !Number.isFinite(event.monoMs)) {
      return failed('bad-input', 'The time of an event must be a finite number.');
    }
    add.run(event.eventId, event.sessionId, event.runId, event.wallMs, event.monoMs, event.kind, body.value);
    return done(event);
  };
}

/** The events over a connection. */
export function createEvents({ database, change, wallNow }: Context, write: WriteEvent): Events {
  let lastId = database.prepare<[], number>('SELECT coalesce(max(event_id), 0) FROM event').pluck().get() ?? 0;
  const one = database.prepare<[number], EventRow>('SELECT * FROM event WHERE event_id = ?');
  const byRun = database.prepare<[number], EventRow>('SELECT * FROM event WHERE run_id = ? ORDER BY event_id');
  const byKind = database.prepare<[number, string], EventRow>(
    'SELECT * FROM event WHERE run_id = ? AND kind = ? ORDER BY event_id',
  );
  const everyOfKind = database.prepare<[string], EventRow>('SELECT * FROM event WHERE kind = ? ORDER BY event_id');
  const power = database.prepare<[number], { onAtMs: number; offAtMs: number | null }>(`
    SELECT json_extract(body, '$.power.onAtMs') AS onAtMs, max(json_extract(body, '$.power.offAtMs')) AS offAtMs
    FROM event
    WHERE run_id = ? AND kind = 'guard' AND json_extract(body, '$.power.onAtMs') IS NOT NULL
    GROUP BY 1 ORDER BY 1`);
  const bySession = database.prepare<[number, number], EventRow>(`
    SELECT * FROM event
    WHERE session_id = ? OR run_id IN (SELECT run_id FROM run WHERE session_id = ?)
    ORDER BY event_id`);
  const guard = database.prepare<[], EventRow>(
    `SELECT * FROM event WHERE kind = 'guard' ORDER BY event_id DESC LIMIT 1`,
  );
  const guardBefore = database.prepare<[number, number, number], EventRow>(`
    SELECT * FROM event
    WHERE session_id = ? AND kind = 'guard' AND run_id IS NOT ? AND wall_ms <= ?
    ORDER BY event_id DESC LIMIT 1`);
  const nextId = () => (lastId += 1);

  return {
    nextId,
    add: (event) => change(() => write({ ...event, eventId: nextId(), wallMs: wallNow() })),
    get: (eventId) => orNull(one.get(eventId)),
    ofRun: (runId) => byRun.all(runId).map(asEvent),
    ofRunAndKind: (runId, kind) => byKind.all(runId, kind).map(asEvent),
    ofKind: (kind) => everyOfKind.all(kind).map(asEvent),
    powerOf: (runId) => power.all(runId),
    ofSession: (sessionId) => bySession.all(sessionId, sessionId).map(asEvent),
    guardBefore: (sessionId, runId, wallMs) => orNull(guardBefore.get(sessionId, runId, wallMs)),
    lastGuard: () => orNull(guard.get()),
  };
}
