import { bucketOf, fill } from '../../src-shared/record/bucket.ts';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { CheckMark } from '../../src-shared/record/check.ts';
import type { Reading } from '../../src-shared/record/reading.ts';
import type { RecordEvent } from '../../src-shared/record/run.ts';
import { createWriteBucket } from './bucket-row.ts';
import type { WriteCheck } from './checks.ts';
import type { Context } from './context.ts';
import type { WriteEvent } from './events.ts';
import type { ChannelProgress, OpenRun, OpenRuns } from './open-runs.ts';
import { atUsOf, insertReading, toParameters, type ReadingParameters } from './reading-row.ts';

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

/** What is wrong with a reading of an open run; null when nothing is. */
function wrong(reading: Reading, run: OpenRun, channel: ChannelProgress | undefined) {
  if (channel === undefined) return refused('The run has no such channel.', reading);
  const { atMs, wallMs, value, resolution, kind } = reading;
  if (![atMs, wallMs, value, resolution].every(isFinite)) return refused('A reading must be finite.', reading);
  if ((kind === 'number') !== (value !== null)) return refused('A reading has a value when it is a number.', reading);
  if (atMs < 0 || atUsOf(reading) < channel.lastUs) {
    return refused('A reading is older than the one before it on its channel.', reading);
  }
  if (reading.origin === 'practice' && !run.practice) {
    return refused('A practice reading belongs in a practice run.', reading);
  }
  return null;
}

/** Writes batches over a connection; `openRuns` moves on only when a batch is in the record. */
export function createWriteBatch(
  { database, change }: Context,
  openRuns: OpenRuns,
  writeEvent: WriteEvent,
  writeCheck: WriteCheck,
): (batch: Batch) => Outcome<Written> {
  const add = database.prepare<ReadingParameters>(insertReading);
  const writeBucket = createWriteBucket(database);
  let lastId = database.prepare<[], number>('SELECT coalesce(max(reading_id), 0) FROM reading').pluck().get() ?? 0;

  /** The runs of a batch as they are once it is written. */
  function writeReadings(readings: readonly Reading[], after: OpenRuns): Outcome<null> {
    let previousId = lastId;
    for (const reading of readings) {
      const { runId, channel, readingId } = reading;
      const known = openRuns.get(runId);
      if (known === undefined) {
        return failed('no-run', 'The run of this reading is not open.', { detail: { runId, readingId } });
      }
      const run = after.get(runId) ?? { ...known, channels: [...known.channels] };
      after.set(runId, run);
      const progress = run.channels[channel];
      const failure = wrong(reading, run, progress);
      if (failure !== null || progress === undefined)
        return failure ?? refused('The run has no such channel.', reading);
      if (!Number.isSafeInteger(readingId) || readingId <= previousId) {
        return refused('The number of a reading is not above the one before it.', reading);
      }
      previousId = readingId;
      add.run(...toParameters(reading, progress.filling.count, run.startedWallMs));
      const lastUs = atUsOf(reading);
      const { after: filling, closed } = fill(progress.filling, bucketOf(reading.kind, lastUs, reading.value));
      for (const bucket of closed) writeBucket(runId, channel, bucket);
      run.channels[channel] = { lastUs, filling };
    }
    return done(null);
  }

  return ({ readings, events, checks = [] }) => {
    const after: OpenRuns = new Map();
    const outcome = change<Written>(() => {
      const written = writeReadings(readings, after);
      if (!written.ok) return written;
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
      for (const [runId, run] of after) openRuns.set(runId, run);
      lastId = readings.at(-1)?.readingId ?? lastId;
    }
    return outcome;
  };
}
