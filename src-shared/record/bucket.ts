import type { ReadingKind } from './reading.ts';

/** A closed bucket of one level holds this many of the level below; level 0 is the readings themselves. */
export const bucketFactor = 16;

/** The levels of buckets that are kept: 16, 256, 4096 and 65536 readings. */
export const bucketLevels = [1, 2, 3, 4] as const;
export type BucketLevel = (typeof bucketLevels)[number];

/** The level that a closed bucket is made of. */
export const levelBelow = (level: BucketLevel | 0): BucketLevel | 0 =>
  level <= 1 ? 0 : (bucketLevels[level - 2] ?? 0);

/** How many readings a closed bucket of the level holds. */
export const bucketSize = (level: number): number => bucketFactor ** level;

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

/** What a bucket takes of a reading. `value` is null unless the kind is number. */
export interface Taken {
  readonly kind: ReadingKind;
  readonly atUs: number;
  readonly value: number | null;
}

/** Neighbouring readings in the order of time, at least one, as a bucket. */
export function bucketOf(readings: readonly [Taken, ...Taken[]]): Bucket {
  const [first] = readings;
  let last = first;
  let numbers = 0;
  let overloads = 0;
  let sum = 0;
  let opening: Spot | null = null;
  let closing: Spot | null = null;
  let lowest: Spot | null = null;
  let highest: Spot | null = null;
  let voidUs: number | null = null;
  let silence = { fromUs: first.atUs, toUs: first.atUs };
  for (const reading of readings) {
    const { kind, atUs, value } = reading;
    if (atUs - last.atUs > silence.toUs - silence.fromUs) silence = { fromUs: last.atUs, toUs: atUs };
    last = reading;
    if (kind === 'number' && value !== null) {
      const spot = { atUs, value };
      numbers += 1;
      sum += value;
      opening ??= spot;
      closing = spot;
      if (lowest === null || value < lowest.value) lowest = spot;
      if (highest === null || value > highest.value) highest = spot;
    } else {
      if (kind === 'overload') overloads += 1;
      voidUs ??= atUs;
    }
  }
  return {
    firstUs: first.atUs,
    lastUs: last.atUs,
    numbers,
    overloads,
    unreadables: readings.length - numbers - overloads,
    spots: opening && closing && lowest && highest && { sum, opening, closing, lowest, highest },
    voidUs,
    silence,
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

/** How far the buckets of one channel are filled. */
export interface Filling {
  /** Readings so far. */
  readonly count: number;
  /** Those of them that are in no closed bucket. */
  readonly tail: readonly Taken[];
  /** What the open bucket of each level above the first holds, by the level; null or absent when nothing. */
  readonly open: readonly (Bucket | null)[];
}

/** A bucket that is full: its readings are those from place `number` x size on. */
export interface ClosedBucket {
  readonly level: BucketLevel;
  readonly number: number;
  readonly bucket: Bucket;
}

export const nothingFilled: Filling = { count: 0, tail: [], open: [] };

/** Puts a full bucket of the first level into the open ones above it; gives all that are closed by it, itself first. */
function close(open: (Bucket | null)[], count: number, full: Bucket): readonly ClosedBucket[] {
  const closed: ClosedBucket[] = [];
  let rising = full;
  for (const level of bucketLevels) {
    const held = open[level] ?? null;
    rising = held === null ? rising : joinBuckets(held, rising);
    if (count % bucketSize(level) !== 0) {
      open[level] = rising;
      break;
    }
    open[level] = null;
    closed.push({ level, number: count / bucketSize(level) - 1, bucket: rising });
  }
  return closed;
}

/** Adds the channel's next readings. Gives the filling after them and the buckets that they closed, in that order. */
export function fill(
  before: Filling,
  readings: readonly Taken[],
): { readonly after: Filling; readonly closed: readonly ClosedBucket[] } {
  const waiting = [...before.tail, ...readings];
  const open = [...before.open];
  const closed: ClosedBucket[] = [];
  let count = before.count - before.tail.length;
  let done = 0;
  for (; waiting.length - done >= bucketFactor; done += bucketFactor) {
    const [first, ...others] = waiting.slice(done, done + bucketFactor);
    if (first === undefined) break;
    count += bucketFactor;
    closed.push(...close(open, count, bucketOf([first, ...others])));
  }
  return { after: { count: count + waiting.length - done, tail: waiting.slice(done), open }, closed };
}
