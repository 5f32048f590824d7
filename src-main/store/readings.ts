import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Bucket } from '../../src-shared/record/bucket.ts';
import type { HistoryColumns, Reading } from '../../src-shared/record/reading.ts';
import type { Batch, Written } from './batch.ts';
import type { Context } from './context.ts';
import { createHistory, type HistoryView } from './history.ts';
import { asReading, selectReading, type ReadingRow } from './reading-row.ts';

/** The readings of the runs, with their closed buckets. */
export interface Readings {
  /** A number for the next reading, above every one in the record and never given twice by this store. */
  nextId(): number;
  /**
   * Writes the batch in one transaction, buckets included. After a failure nothing of it is in the record: keep the
   * batch and write it again. `disk-full`; `no-run` for a reading of a run that is not open; `bad-input` for one that
   * is not finite, out of order, of no channel of the run, or of practice in a run that is not; for events and checks
   * the codes of `events.add` and `checks.add`.
   */
  writeBatch(batch: Batch): Outcome<Written>;
  /**
   * A view of what has been written of a channel: at most four points a pixel. Every point is a reading at its time, or
   * null for a gap: a reading that was no number, or a channel that was quiet for long (`silenceUs`). The lowest and
   * highest reading of the range are always among them, and so is every spike of a single reading that no other within
   * two pixels outdoes (of readings at even times; fewer rows are read where readings are dense, so that more can be
   * where they are sparse). `readings` counts those that the view stands for. `rowsRead` is at most eight a pixel, of at
   * least 32 pixels, up to eight million readings (of a hundred pixels: forty million). `not-found`.
   */
  history(view: HistoryView): Outcome<HistoryColumns>;
  /** All readings of a channel, by its index in the run, taken together; null when there is none. Reads few rows. */
  whole(runId: number, channel: number): Bucket | null;
  /** The reading of a channel, by its index in the run, that lies nearest to an instant; null when there is none. */
  nearest(runId: number, channel: number, atMs: number): Reading | null;
  get(readingId: number): Reading | null;
  /** The last written readings of a channel, oldest first, at most `count`. */
  last(runId: number, channel: number, count: number): readonly Reading[];
  /**
   * Numbers of a channel over its whole time, oldest first: every one while the channel has no more than `count` readings,
   * else at most `count`, the first at or after each of as many even instants.
   */
  spread(runId: number, channel: number, count: number): readonly Reading[];
  /** Every written reading of a run in the order of acceptance, read a thousand at a time. */
  ofRun(runId: number): Iterable<Reading>;
}

const page = 1000;

/** The readings over a connection. */
export function createReadings({ database }: Context, writeBatch: Readings['writeBatch']): Readings {
  let lastId = database.prepare<[], number>('SELECT coalesce(max(reading_id), 0) FROM reading').pluck().get() ?? 0;
  const one = database.prepare<[number], ReadingRow>(`${selectReading} WHERE reading_id = ?`);
  const last = database.prepare<[number, number, number], ReadingRow>(`
    ${selectReading} WHERE reading.run_id = ? AND channel = ? ORDER BY at_us DESC, reading_id DESC LIMIT ?`);
  const before = database.prepare<[number, number, number], ReadingRow>(`
    ${selectReading} WHERE reading.run_id = ? AND channel = ? AND at_us <= ? ORDER BY at_us DESC, reading_id DESC LIMIT 1`);
  const after = database.prepare<[number, number, number], ReadingRow>(`
    ${selectReading} WHERE reading.run_id = ? AND channel = ? AND at_us > ? ORDER BY at_us, reading_id LIMIT 1`);
  const ends = database.prepare<
    [{ runId: number; channel: number }],
    { first: number | null; last: number | null; readings: number }
  >(`
    SELECT min(at_us) AS first, max(at_us) AS last, coalesce(max(place) + 1, 0) AS readings FROM (
      SELECT * FROM (SELECT at_us, place FROM reading WHERE run_id = @runId AND channel = @channel ORDER BY at_us LIMIT 1)
      UNION ALL
      SELECT * FROM (SELECT at_us, place FROM reading WHERE run_id = @runId AND channel = @channel ORDER BY at_us DESC LIMIT 1))`);
  const from = database.prepare<[number, number, number, number], ReadingRow>(
    `${selectReading} WHERE reading.run_id = ? AND channel = ? AND at_us >= ? ORDER BY at_us, reading_id LIMIT ?`,
  );
  const bounds = database.prepare<[number], { first: number | null; last: number | null }>(`
    SELECT min(first) AS first, max(last) AS last FROM (
      SELECT
        (SELECT reading_id FROM reading AS r WHERE r.run_id = c.run_id AND r.channel = c.channel
          ORDER BY at_us, reading_id LIMIT 1) AS first,
        (SELECT reading_id FROM reading AS r WHERE r.run_id = c.run_id AND r.channel = c.channel
          ORDER BY at_us DESC, reading_id DESC LIMIT 1) AS last
      FROM run_channel AS c WHERE c.run_id = ?)`);
  const pageOf = database.prepare<[number, number, number, number], ReadingRow>(`
    ${selectReading} WHERE +reading.run_id = ? AND reading_id >= ? AND reading_id <= ? ORDER BY reading_id LIMIT ?`);

  const history = createHistory(database);

  return {
    nextId: () => (lastId += 1),
    writeBatch,
    history: history.view,
    whole: history.whole,
    nearest(runId, channel, atMs) {
      const atUs = Math.round(atMs * 1000);
      const [last, next] = [before.get(runId, channel, atUs), after.get(runId, channel, atUs)];
      if (last === undefined || next === undefined) {
        const only = last ?? next;
        return only === undefined ? null : asReading(only);
      }
      return asReading(atUs - last.at_us <= next.at_us - atUs ? last : next);
    },
    get(readingId) {
      const row = one.get(readingId);
      return row === undefined ? null : asReading(row);
    },
    last: (runId, channel, count) => last.all(runId, channel, count).reverse().map(asReading),
    spread(runId, channel, count) {
      const { first, last, readings } = ends.get({ runId, channel }) ?? { first: null, last: null, readings: 0 };
      if (first === null || last === null || count < 1) return [];
      const rows =
        readings <= count
          ? from.all(runId, channel, first, readings)
          : Array.from({ length: count }, (_, step) =>
              from.get(runId, channel, Math.round(first + ((last - first) * step) / Math.max(1, count - 1)), 1),
            ).filter((row) => row !== undefined);
      const seen = new Set<number>();
      return rows
        .filter(({ reading_id: id }) => !seen.has(id) && seen.add(id))
        .map(asReading)
        .filter(({ kind }) => kind === 'number');
    },
    *ofRun(runId) {
      const ends = bounds.get(runId);
      if (ends === undefined || ends.first === null || ends.last === null) return;
      let from = ends.first;
      while (from <= ends.last) {
        const rows = pageOf.all(runId, from, ends.last, page);
        yield* rows.map(asReading);
        const end = rows.at(-1);
        if (end === undefined) return;
        from = end.reading_id + 1;
      }
    },
  };
}
