import type Database from 'better-sqlite3';
import { fill, type Taken } from '../../src-shared/record/bucket.ts';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { CheckMark } from '../../src-shared/record/check.ts';
import type { Reading } from '../../src-shared/record/reading.ts';
import type { RecordEvent } from '../../src-shared/record/run.ts';
import { createWriteBucket } from './bucket-row.ts';
import type { WriteCheck } from './checks.ts';
import type { Context } from './context.ts';
import type { WriteEvent } from './events.ts';
import type { ChannelProgress, OpenRun, OpenRuns } from './open-runs.ts';
import { addValues, atUsOf, insertReadings, valuesOfReading, type ReadingValues } from './reading-row.ts';

/** What is written together or not at all. */
export interface Batch {
  /** In the order in which they were accepted: `readingId` rises, and `atMs` never falls within a channel. */
  readonly readings: readonly Reading[];
  readonly events: readonly RecordEvent[];
  readonly checks?: readonly CheckMark[];
}

/** How many rows of each a written batch was. */
export interface Written {
  readonly readings: number;
  readonly events: number;
}

const isFinite = (value: number | null): boolean => value === null || Number.isFinite(value);
const refused = (message: string, reading: Reading) =>
  failed('bad-input', message, { detail: { readingId: reading.readingId } });

/** What is wrong with a reading of an open run, after one of its channel at `lastUs`; null when nothing is. */
function wrong(reading: Reading, run: OpenRun, atUs: number, lastUs: number) {
  const { wallMs, value, resolution, kind } = reading;
  if (!Number.isFinite(atUs) || !Number.isFinite(wallMs) || !isFinite(value) || !isFinite(resolution)) {
    return refused('A reading must be finite.', reading);
  }
  if ((kind === 'number') !== (value !== null)) return refused('A reading has a value when it is a number.', reading);
  if (atUs < lastUs) return refused('A reading is older than the one before it on its channel.', reading);
  if (reading.origin === 'practice' && !run.practice) {
    return refused('A practice reading belongs in a practice run.', reading);
  }
  return null;
}

/** At the most so many readings go into one statement. */
const together = 32;

/** Inserts readings over a connection, as many at a time as there are: each statement costs as much as some readings. */
function createInsert(database: Context['database']): (values: ReadingValues) => void {
  const inserts = new Map<number, Database.Statement<[ReadingValues]>>();
  const insertOf = (count: number) => {
    const known = inserts.get(count) ?? database.prepare<[ReadingValues]>(insertReadings(count));
    inserts.set(count, known);
    return known;
  };
  return (values) => {
    for (let from = 0; from < values.length; from += together * valuesOfReading) {
      const part = values.slice(from, from + together * valuesOfReading);
      insertOf(part.length / valuesOfReading).run(part);
    }
  };
}

/** A channel while a batch is taken in: what it was, and what the batch adds to it. */
interface Growing {
  readonly before: ChannelProgress;
  lastUs: number;
  readonly taken: Taken[];
}

/** Writes batches over a connection; `openRuns` moves on only when a batch is in the record. */
export function createWriteBatch(
  { database, change }: Context,
  openRuns: OpenRuns,
  writeEvent: WriteEvent,
  writeCheck: WriteCheck,
): (batch: Batch) => Outcome<Written> {
  const insert = createInsert(database);
  const writeBucket = createWriteBucket(database);
  let lastId = database.prepare<[], number>('SELECT coalesce(max(reading_id), 0) FROM reading').pluck().get() ?? 0;

  /** Checks the readings of one run and inserts them; gives the run as it is once they are written. */
  function writeRun(run: OpenRun, readings: readonly Reading[]): Outcome<OpenRun> {
    const growing = run.channels.map((before): Growing => ({ before, lastUs: before.lastUs, taken: [] }));
    const values: ReadingValues = [];
    for (const reading of readings) {
      const channel = growing[reading.channel];
      if (channel === undefined) return refused('The run has no such channel.', reading);
      const atUs = atUsOf(reading);
      const failure = wrong(reading, run, atUs, channel.lastUs);
      if (failure !== null) return failure;
      addValues(values, reading, channel.before.filling.count + channel.taken.length, run.startedWallMs);
      channel.taken.push({ kind: reading.kind, atUs, value: reading.value });
      channel.lastUs = atUs;
    }
    insert(values);
    const channels = growing.map(({ before, lastUs, taken }, channel): ChannelProgress => {
      if (taken.length === 0) return before;
      const { after: filling, closed } = fill(before.filling, taken);
      for (const bucket of closed) writeBucket(run.runId, channel, bucket);
      return { lastUs, filling };
    });
    return done({ ...run, channels });
  }

  /** Gives the runs of the batch as they are once it is written. */
  function writeReadings(readings: readonly Reading[]): Outcome<readonly OpenRun[]> {
    let previousId = lastId;
    for (const reading of readings) {
      if (!Number.isSafeInteger(reading.readingId) || reading.readingId <= previousId) {
        return refused('The number of a reading is not above the one before it.', reading);
      }
      previousId = reading.readingId;
    }
    const after: OpenRun[] = [];
    for (const [runId, ofRun] of Map.groupBy(readings, (reading) => reading.runId)) {
      const run = openRuns.get(runId);
      if (run === undefined) return failed('no-run', 'The run of a reading is not open.', { detail: { runId } });
      const written = writeRun(run, ofRun);
      if (!written.ok) return written;
      after.push(written.value);
    }
    return done(after);
  }

  return ({ readings, events, checks = [] }) => {
    let after: readonly OpenRun[] = [];
    const outcome = change<Written>(() => {
      const written = writeReadings(readings);
      if (!written.ok) return written;
      after = written.value;
      for (const event of events) {
        const kept = writeEvent(event);
        if (!kept.ok) return kept;
      }
      for (const check of checks) {
        const kept = writeCheck(check);
        if (!kept.ok) return kept;
      }
      return done({ readings: readings.length, events: events.length });
    });
    if (outcome.ok) {
      for (const run of after) openRuns.set(run.runId, run);
      lastId = readings.at(-1)?.readingId ?? lastId;
    }
    return outcome;
  };
}
