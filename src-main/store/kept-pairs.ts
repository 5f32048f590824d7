import * as v from 'valibot';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { eventKind, KeptPair, type RecordEvent } from '../../src-shared/record/run.ts';
import { bodyValue, checked, fromRow } from './body.ts';
import type { Context } from './context.ts';
import type { WriteEvent } from './events.ts';
import type { Signed } from './signed.ts';

const Pair = v.omit(KeptPair, ['eventId', 'withdrawn']);

/** A pair about to be kept. The readings that it names must have been written before. */
export type NewPair = v.InferOutput<typeof Pair>;

/** The pairs of voltages kept for the turns. Each is an event; so is its withdrawal. */
export interface KeptPairs {
  /** `not-found` for a run, or a reading that is not of this run; `session-signed`. */
  keep(runId: number, monoMs: number, pair: NewPair): Outcome<KeptPair>;
  /** The pair counts no more; it stays in the record. `not-found`, also when it was withdrawn before; `session-signed`. */
  withdraw(eventId: number, monoMs: number, reason: string): Outcome<KeptPair>;
  get(eventId: number): KeptPair | null;
  /** All pairs of the run, withdrawn ones included, in the order in which they were kept. */
  ofRun(runId: number): readonly KeptPair[];
}

interface PairRow {
  readonly event_id: number;
  readonly run_id: number;
  readonly session_id: number;
  readonly body: string;
  readonly withdrawn: string | null;
}

const asPair = (row: PairRow): KeptPair => ({
  ...fromRow(Pair, bodyValue(row.body), `kept pair ${row.event_id}`),
  eventId: row.event_id,
  withdrawn: row.withdrawn,
});

/** The kept pairs over a connection; `nextEventId` numbers their events. */
export function createKeptPairs(
  { database, change, wallNow }: Context,
  write: WriteEvent,
  nextEventId: () => number,
  signed: Signed,
): KeptPairs {
  const sessionOfRun = database.prepare<[number], number>('SELECT session_id FROM run WHERE run_id = ?').pluck();
  const reading = database.prepare<[number, number]>('SELECT 1 FROM reading WHERE reading_id = ? AND run_id = ?');
  const add = database.prepare<[number, number]>('INSERT INTO kept_pair (event_id, run_id) VALUES (?, ?)');
  const addReading = database.prepare<[number, string, number]>(
    'INSERT INTO kept_pair_reading (event_id, quantity, reading_id) VALUES (?, ?, ?)',
  );
  const addWithdrawal = database.prepare<[number, number, string]>(
    'INSERT INTO kept_pair_withdrawal (event_id, kept_event_id, reason) VALUES (?, ?, ?)',
  );
  const select = `
    SELECT kept_pair.event_id, kept_pair.run_id, run.session_id, event.body, kept_pair_withdrawal.reason AS withdrawn
    FROM kept_pair
    JOIN event USING (event_id)
    JOIN run ON run.run_id = kept_pair.run_id
    LEFT JOIN kept_pair_withdrawal ON kept_pair_withdrawal.kept_event_id = kept_pair.event_id`;
  const one = database.prepare<[number], PairRow>(`${select} WHERE kept_pair.event_id = ?`);
  const byRun = database.prepare<[number], PairRow>(`${select} WHERE kept_pair.run_id = ? ORDER BY kept_pair.event_id`);

  const event = (sessionId: number, runId: number, monoMs: number, kind: string, body: unknown): RecordEvent => ({
    eventId: nextEventId(),
    sessionId,
    runId,
    wallMs: wallNow(),
    monoMs,
    kind,
    body,
  });

  return {
    keep: (runId, monoMs, input) =>
      change(() => {
        const sessionId = sessionOfRun.get(runId);
        if (sessionId === undefined) return failed('not-found', 'This run is not in the record.');
        const pair = checked(Pair, input);
        if (!pair.ok) return pair;
        const { primary, coil } = pair.value;
        const missing = [...primary.readingIds, ...coil.readingIds].find((id) => reading.get(id, runId) === undefined);
        if (missing !== undefined) return failed('not-found', `Reading ${missing} is not in the record of this run.`);
        const kept = write(event(sessionId, runId, monoMs, eventKind.pairKept, pair.value));
        if (!kept.ok) return kept;
        const { eventId } = kept.value;
        add.run(eventId, runId);
        for (const readingId of new Set(primary.readingIds)) addReading.run(eventId, 'primary', readingId);
        for (const readingId of new Set(coil.readingIds)) addReading.run(eventId, 'coil', readingId);
        return done({ ...pair.value, eventId, withdrawn: null });
      }),
    withdraw: (eventId, monoMs, reason) =>
      change(() => {
        const row = one.get(eventId);
        if (row === undefined) return failed('not-found', 'This pair is not in the record.');
        if (row.withdrawn !== null) return failed('not-found', 'This pair was withdrawn before.');
        if (signed.session(row.session_id)) return signed.refusal();
        const withdrawn = write(
          event(row.session_id, row.run_id, monoMs, eventKind.pairWithdrawn, { eventId, reason }),
        );
        if (!withdrawn.ok) return withdrawn;
        addWithdrawal.run(withdrawn.value.eventId, eventId, reason);
        return done({ ...asPair(row), withdrawn: reason });
      }),
    get(eventId) {
      const row = one.get(eventId);
      return row === undefined ? null : asPair(row);
    },
    ofRun: (runId) => byRun.all(runId).map(asPair),
  };
}
