import type { ReadingKind } from './reading.ts';

/** A closed bucket of one level holds this many of the level below; level 0 is the readings themselves. */
const factor = 16;

/** The levels of buckets that are kept: 16, 256, 4096 and 65536 readings. */
export const bucketLevels = [1, 2, 3, 4] as const;
export type BucketLevel = (typeof bucketLevels)[number];

/** How many readings a closed bucket of the level holds. */
export const bucketSize = (level: number): number => factor ** level;

/** A number and when it was read, in microseconds since the start of the run. */
export interface Spot {
  readonly atUs: number;
  readonly value: number;
}

/**
 * What is known of neighbouring readings of one channel, taken together. A single reading is the smallest bucket.
 * `numbers` + `overloads` + `unreadables` is how many there are; `spots` is null when none is a number.
 */
export interface Bucket {
  readonly firstUs: number;
  readonly lastUs: number;
  readonly numbers: number;
  readonly overloads: number;
  readonly unreadables: number;
  readonly spots: {
    readonly sum: number;
    /** The first and the last number. */
    readonly opening: Spot;
    readonly closing: Spot;
    /** The first of the lowest and of the highest numbers. */
    readonly lowest: Spot;
    readonly highest: Spot;
  } | null;
  /** The first reading that is no number; null when all are. */
  readonly voidUs: number | null;
  /** The longest time between two neighbours; of no length in a single reading. */
  readonly silence: { readonly fromUs: number; readonly toUs: number };
}

/** One reading as a bucket. `value` is looked at only when the kind is number. */
export function bucketOf(kind: ReadingKind, atUs: number, value: number | null): Bucket {
  const spot = kind === 'number' && value !== null ? { atUs, value } : null;
  return {
    firstUs: atUs,
    lastUs: atUs,
    numbers: kind === 'number' ? 1 : 0,
    overloads: kind === 'overload' ? 1 : 0,
    unreadables: kind === 'unreadable' ? 1 : 0,
    spots: spot && { sum: spot.value, opening: spot, closing: spot, lowest: spot, highest: spot },
    voidUs: spot === null ? atUs : null,
    silence: { fromUs: atUs, toUs: atUs },
  };
}

function joinSpots(a: Bucket['spots'], b: Bucket['spots']): Bucket['spots'] {
  if (a === null || b === null) return a ?? b;
  return {
    sum: a.sum + b.sum,
    opening: a.opening,
    closing: b.closing,
    lowest: b.lowest.value < a.lowest.value ? b.lowest : a.lowest,
    highest: b.highest.value > a.highest.value ? b.highest : a.highest,
  };
}

const longer = (a: Bucket['silence'], b: Bucket['silence']) => (b.toUs - b.fromUs > a.toUs - a.fromUs ? b : a);

/** Two buckets of which the second follows the first without a reading between them. */
export function joinBuckets(a: Bucket, b: Bucket): Bucket {
  return {
    firstUs: a.firstUs,
    lastUs: b.lastUs,
    numbers: a.numbers + b.numbers,
    overloads: a.overloads + b.overloads,
    unreadables: a.unreadables + b.unreadables,
    spots: joinSpots(a.spots, b.spots),
    voidUs: a.voidUs ?? b.voidUs,
    silence: longer(longer(a.silence, { fromUs: a.lastUs, toUs: b.firstUs }), b.silence),
  };
}

/** How far the buckets of one channel are filled: readings so far, and what the open bucket of each level holds. */
export interface Filling {
  readonly count: number;
  readonly open: readonly (Bucket | null)[];
}

/** A bucket that is full: its readings are those from place `number` x size on. */
export interface ClosedBucket {
  readonly level: BucketLevel;
  readonly number: number;
  readonly bucket: Bucket;
}

export const nothingFilled: Filling = { count: 0, open: [] };

/** Adds the channel's next reading. Gives the filling after it and the buckets that it closed, lowest level first. */
export function fill(before: Filling, reading: Bucket): { readonly after: Filling; readonly closed: ClosedBucket[] } {
  const count = before.count + 1;
  const open: (Bucket | null)[] = [...before.open];
  const closed: ClosedBucket[] = [];
  let rising: Bucket | null = reading;
  for (const level of bucketLevels) {
    if (rising === null) break;
    const held: Bucket | null = open[level] ?? null;
    const full: Bucket = held === null ? rising : joinBuckets(held, rising);
    if (count % bucketSize(level) === 0) {
      closed.push({ level, number: count / bucketSize(level) - 1, bucket: full });
      open[level] = null;
      rising = full;
    } else {
      open[level] = full;
      rising = null;
    }
  }
  return { after: { count, open }, closed };
}
