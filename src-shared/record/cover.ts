import { bucketLevels, bucketSize, levelBelow, type BucketLevel } from './bucket.ts';

/** A stretch of a channel to read: readings by their places, or closed buckets by their numbers. `to` is not in it. */
export type Piece =
  | { readonly kind: 'readings'; readonly from: number; readonly to: number }
  | { readonly kind: 'buckets'; readonly level: BucketLevel; readonly from: number; readonly to: number };

/** How many rows the pieces are. */
export const rowsOf = (pieces: readonly Piece[]): number => pieces.reduce((sum, { from, to }) => sum + to - from, 0);

/**
 * The places `from` up to, not including, `to`, as pieces in order that meet without a gap and hold nothing else: whole
 * buckets of the level in the middle, smaller ones towards both ends, single readings at the ends. Only full buckets
 * are named, so that what was closed suffices.
 */
export function cover(from: number, to: number, level: BucketLevel | 0): readonly Piece[] {
  if (from >= to) return [];
  if (level === 0) return [{ kind: 'readings', from, to }];
  const size = bucketSize(level);
  const first = Math.ceil(from / size);
  const end = Math.floor(to / size);
  const below = levelBelow(level);
  if (first >= end) return cover(from, to, below);
  return [
    ...cover(from, first * size, below),
    { kind: 'buckets', level, from: first, to: end },
    ...cover(end * size, to, below),
  ];
}

/** The finest cover of at most `rows` rows; when none is that small, the smallest there is. */
export function coverWithin(from: number, to: number, rows: number): readonly Piece[] {
  let smallest = cover(from, to, 0);
  for (const level of bucketLevels) {
    if (rowsOf(smallest) <= rows) return smallest;
    const next = cover(from, to, level);
    if (rowsOf(next) < rowsOf(smallest)) smallest = next;
  }
  return smallest;
}
