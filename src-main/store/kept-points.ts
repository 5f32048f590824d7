import * as v from 'valibot';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { eventKind, KeptPoint, type RecordEvent } from '../../src-shared/record/run.ts';
import { checked, fromRow } from './body.ts';
import type { Context } from './context.ts';
import type { Events, WriteEvent } from './events.ts';

const Point = v.omit(KeptPoint, ['eventId', 'withdrawn']);
const Withdrawal = v.strictObject({ eventId: v.number(), reason: v.string() });

/** A point about to be kept. The readings that it names must have been written before. */
export type NewPoint = v.InferOutput<typeof Point>;

/** The points of the runs. Each is an event; so is its withdrawal. */
export interface KeptPoints {
  /** `not-found` for a run, or a reading that is not of this run; `session-signed`. */
  keep(runId: number, monoMs: number, point: NewPoint): Outcome<KeptPoint>;
  /** The point counts no more; it stays in the record. `not-found`, also when it was withdrawn before; `session-signed`. */
  withdraw(runId: number, eventId: number, monoMs: number, reason: string): Outcome<KeptPoint>;
  /** All points of the run, withdrawn ones included, in the order in which they were kept. */
  ofRun(runId: number): readonly KeptPoint[];
}

/** The kept points over a connection; `nextEventId` numbers their events. */
export function createKeptPoints(
  { database, change, wallNow }: Context,
  write: WriteEvent,
  nextEventId: () => number,
  events: Pick<Events, 'ofRunAndKind'>,
): KeptPoints {
  const sessionOfRun = database.prepare<[number], number>('SELECT session_id FROM run WHERE run_id = ?').pluck();
  const reading = database.prepare<[number, number]>('SELECT 1 FROM reading WHERE reading_id = ? AND run_id = ?');

  function ofRun(runId: number): readonly KeptPoint[] {
    const withdrawn = new Map(
      events.ofRunAndKind(runId, eventKind.pointWithdrawn).map(({ eventId, body }) => {
        const { eventId: of, reason } = fromRow(Withdrawal, body, `withdrawal ${eventId}`);
        return [of, reason];
      }),
    );
    return events.ofRunAndKind(runId, eventKind.pointKept).map(({ eventId, body }) => ({
      ...fromRow(Point, body, `kept point ${eventId}`),
      eventId,
      withdrawn: withdrawn.get(eventId) ?? null,
    }));
  }

  /** Writes an event of the run; its number is the point's. */
  function add(runId: number, monoMs: number, kind: string, body: unknown): Outcome<RecordEvent> {
    const sessionId = sessionOfRun.get(runId);
    if (sessionId === undefined) return failed('not-found', 'This run is not in the record.');
    return write({ eventId: nextEventId(), sessionId, runId, wallMs: wallNow(), monoMs, kind, body });
  }

  return {
    keep: (runId, monoMs, input) =>
      change(() => {
        const point = checked(Point, input);
        if (!point.ok) return point;
        const named = point.value.values.flatMap(({ readingIds }) => readingIds);
        const missing = named.find((id) => reading.get(id, runId) === undefined);
        if (missing !== undefined) return failed('not-found', `Reading ${missing} is not in the record of this run.`);
        const kept = add(runId, monoMs, eventKind.pointKept, point.value);
        return kept.ok ? done({ ...point.value, eventId: kept.value.eventId, withdrawn: null }) : kept;
      }),
    withdraw: (runId, eventId, monoMs, reason) =>
      change(() => {
        const point = ofRun(runId).find((one) => one.eventId === eventId);
        if (point === undefined) return failed('not-found', 'This point is not in the record.');
        if (point.withdrawn !== null) return failed('not-found', 'This point was withdrawn before.');
        const written = add(runId, monoMs, eventKind.pointWithdrawn, { eventId, reason });
        return written.ok ? done({ ...point, withdrawn: reason }) : written;
      }),
    ofRun,
  };
}
