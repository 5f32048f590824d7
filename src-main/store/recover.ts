import { bucketLevels, bucketSize, fill, nothingFilled } from '../../src-shared/record/bucket.ts';
import { done, type Outcome } from '../../src-shared/contract/failure.ts';
import { createWriteBucket } from './bucket-row.ts';
import type { Context } from './context.ts';
import { kindOf } from './reading-row.ts';

interface LeanRow {
  readonly reading_id: number;
  readonly at_us: number;
  readonly form: number;
  readonly value: number | null;
}

const page = 4096;

/** Works out all buckets of a run's channel again from its readings, in one change. */
export function rebuildBuckets({ database, change }: Context, runId: number, channel: number): Outcome<null> {
  const remove = database.prepare<[number, number]>('DELETE FROM bucket WHERE run_id = ? AND channel = ?');
  const write = createWriteBucket(database);
  const rows = database.prepare<[number, number, number, number, number], LeanRow>(`
    SELECT reading_id, at_us, form, value FROM reading
    WHERE run_id = ? AND channel = ? AND (at_us, reading_id) > (?, ?) ORDER BY at_us, reading_id LIMIT ?`);
  return change(() => {
    remove.run(runId, channel);
    let filling = nothingFilled;
    let after: readonly [number, number] = [-1, 0];
    for (;;) {
      const read = rows.all(runId, channel, ...after, page);
      const filled = fill(
        filling,
        read.map(({ at_us: atUs, form, value }) => ({ kind: kindOf(form), atUs, value })),
      );
      filling = filled.after;
      for (const closed of filled.closed) write(runId, channel, closed);
      const last = read.at(-1);
      if (last === undefined || read.length < page) return done(null);
      after = [last.at_us, last.reading_id];
    }
  });
}

/** How many buckets of each level a channel of so many readings has closed. */
const closedOf = (readings: number) => bucketLevels.map((level) => Math.floor(readings / bucketSize(level)));

/** Whether the channel has every bucket that it should have, counted. */
function createHasBuckets({ database }: Context): (runId: number, channel: number) => boolean {
  const last = database
    .prepare<[number, number], number>(
      'SELECT place FROM reading WHERE run_id = ? AND channel = ? ORDER BY at_us DESC, reading_id DESC LIMIT 1',
    )
    .pluck();
  const count = database
    .prepare<[number, number, number], number>(
      'SELECT count(*) FROM bucket WHERE run_id = ? AND channel = ? AND level = ?',
    )
    .pluck();
  return (runId, channel) => {
    const closed = closedOf((last.get(runId, channel) ?? -1) + 1);
    return bucketLevels.every((level, index) => count.get(runId, channel, level) === closed[index]);
  };
}

/**
 * Ends every run that has no end, as interrupted at the time of its last reading (of its start when there is none),
 * after completing its buckets. Gives the runs' numbers.
 */
export function endInterrupted(context: Context): Outcome<readonly number[]> {
  const { database, change } = context;
  const open = database.prepare<[], { run_id: number; wall_ms: number }>(
    'SELECT run_id, wall_ms FROM run WHERE run_id NOT IN (SELECT run_id FROM run_end)',
  );
  const channels = database
    .prepare<[number], number>('SELECT channel FROM run_channel WHERE run_id = ? ORDER BY channel')
    .pluck();
  const last = database.prepare<[number, number], { at_us: number; wall_offset_ms: number }>(`
    SELECT at_us, wall_offset_ms FROM reading WHERE run_id = ? AND channel = ?
    ORDER BY at_us DESC, reading_id DESC LIMIT 1`);
  const end = database.prepare<[number, number]>(
    `INSERT INTO run_end (run_id, ending, wall_ms) VALUES (?, 'interrupted', ?)`,
  );
  const hasBuckets = createHasBuckets(context);

  return change(() => {
    const runs = open.all();
    for (const { run_id: runId, wall_ms: startedMs } of runs) {
      let latest = { at_us: 0, wall_offset_ms: 0 };
      for (const channel of channels.all(runId)) {
        if (!hasBuckets(runId, channel)) {
          const rebuilt = rebuildBuckets(context, runId, channel);
          if (!rebuilt.ok) return rebuilt;
        }
        const reading = last.get(runId, channel);
        if (reading !== undefined && reading.at_us >= latest.at_us) latest = reading;
      }
      end.run(runId, startedMs + Math.round(latest.at_us / 1000) + latest.wall_offset_ms);
    }
    return done(runs.map(({ run_id: runId }) => runId));
  });
}
