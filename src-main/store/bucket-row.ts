import type Database from 'better-sqlite3';
import type { Bucket, ClosedBucket, Spot } from '../../src-shared/record/bucket.ts';

/** A row of `bucket`. The columns of the numbers are null together. */
export interface BucketRow {
  readonly number: number;
  readonly first_us: number;
  readonly last_us: number;
  readonly numbers: number;
  readonly overloads: number;
  readonly unreadables: number;
  readonly sum: number | null;
  readonly opening: number | null;
  readonly opening_us: number | null;
  readonly lowest: number | null;
  readonly lowest_us: number | null;
  readonly highest: number | null;
  readonly highest_us: number | null;
  readonly closing: number | null;
  readonly closing_us: number | null;
  readonly void_us: number | null;
  readonly silence_from_us: number;
  readonly silence_to_us: number;
}

const spot = (value: number | null, atUs: number | null): Spot | null =>
  value === null || atUs === null ? null : { value, atUs };

/** The bucket that a row is. */
export function asBucket(row: BucketRow): Bucket {
  const opening = spot(row.opening, row.opening_us);
  const lowest = spot(row.lowest, row.lowest_us);
  const highest = spot(row.highest, row.highest_us);
  const closing = spot(row.closing, row.closing_us);
  const { sum } = row;
  const whole = sum !== null && opening !== null && lowest !== null && highest !== null && closing !== null;
  return {
    firstUs: row.first_us,
    lastUs: row.last_us,
    numbers: row.numbers,
    overloads: row.overloads,
    unreadables: row.unreadables,
    spots: whole ? { sum, opening, lowest, highest, closing } : null,
    voidUs: row.void_us,
    silence: { fromUs: row.silence_from_us, toUs: row.silence_to_us },
  };
}

/** Inserts one closed bucket of a run's channel. */
export type WriteBucket = (runId: number, channel: number, closed: ClosedBucket) => void;

/** Writes buckets over a connection. */
export function createWriteBucket(database: Database.Database): WriteBucket {
  const add = database.prepare<(number | null)[]>(`
    INSERT INTO bucket (
      run_id, channel, level, number, first_us, last_us, numbers, overloads, unreadables, sum, opening, opening_us,
      lowest, lowest_us, highest, highest_us, closing, closing_us, void_us, silence_from_us, silence_to_us
    ) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`);
  return (runId, channel, { level, number, bucket }) => {
    const { spots, silence } = bucket;
    add.run(
      runId,
      channel,
      level,
      number,
      bucket.firstUs,
      bucket.lastUs,
      bucket.numbers,
      bucket.overloads,
      bucket.unreadables,
      spots?.sum ?? null,
      spots?.opening.value ?? null,
      spots?.opening.atUs ?? null,
      spots?.lowest.value ?? null,
      spots?.lowest.atUs ?? null,
      spots?.highest.value ?? null,
      spots?.highest.atUs ?? null,
      spots?.closing.value ?? null,
      spots?.closing.atUs ?? null,
      bucket.voidUs,
      silence.fromUs,
      silence.toUs,
    );
  };
}
