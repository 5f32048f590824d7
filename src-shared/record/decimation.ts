import type { Bucket, Spot } from './bucket.ts';

/** One point of a drawing: a number at its time, or a gap. */
export interface Point {
  readonly atMs: number;
  readonly value: number | null;
}

/** Neighbouring readings, taken together. */
export interface Stretch {
  readonly bucket: Bucket;
  /** A single value that was typed: nobody expects the next one at a time of its own. */
  readonly isTyped: boolean;
}

/** At most this many points are drawn on a pixel. */
export const pointsAPixel = 4;

const asPoint = ({ atUs, value }: Spot): Point => ({ atMs: atUs / 1000, value });
const gapAt = (atUs: number): Point => ({ atMs: atUs / 1000, value: null });
const byTime = (a: Point, b: Point) => a.atMs - b.atMs;

/**
 * How long a channel may be quiet before the drawing shows a gap: five of its usual intervals, at least two seconds.
 * Endless for fewer than three readings. Common practice, no source.
 */
export function silenceUs(readings: number, firstUs: number, lastUs: number): number {
  return readings < 3 ? Infinity : Math.max((5 * (lastUs - firstUs)) / (readings - 1), 2e6);
}

function pointsOf({ spots, voidUs, silence }: Bucket, longestUs: number): readonly Point[] {
  const points: Point[] = [];
  if (spots !== null) {
    const { opening, lowest, highest, closing } = spots;
    const apart = [opening, lowest, highest, closing].filter(
      (spot, index, all) => all.findIndex((other) => other.atUs === spot.atUs && other.value === spot.value) === index,
    );
    points.push(...apart.map(asPoint));
  }
  if (voidUs !== null) points.push(gapAt(voidUs));
  if (silence.toUs - silence.fromUs > longestUs) points.push(gapAt((silence.fromUs + silence.toUs) / 2));
  return points.length > 1 ? points.sort(byTime) : points;
}

/**
 * The points that neighbouring buckets (or single readings) in the order of time stand for: first, lowest, highest and
 * last number of each, a gap where a reading was no number, and a gap in the middle of a time longer than `longestUs`
 * without a reading. Between two typed values there is no gap, however long it was.
 */
export function pointsOfAll(stretches: readonly Stretch[], longestUs: number): readonly Point[] {
  const points: Point[] = [];
  let last: Stretch | null = null;
  for (const stretch of stretches) {
    const { bucket, isTyped } = stretch;
    if (last !== null && !(last.isTyped && isTyped) && bucket.firstUs - last.bucket.lastUs > longestUs) {
      points.push(gapAt((last.bucket.lastUs + bucket.firstUs) / 2));
    }
    points.push(...pointsOf(bucket, longestUs));
    last = stretch;
  }
  return points;
}

/** The most telling of one pixel's points, in their order: lowest, highest, last, and the first or else the first gap. */
function tell(column: readonly Point[]): readonly Point[] {
  if (column.length <= pointsAPixel) return column;
  let first = -1;
  let last = -1;
  let lowest = -1;
  let highest = -1;
  let gap = -1;
  let low = Infinity;
  let high = -Infinity;
  column.forEach(({ value }, index) => {
    if (value === null) {
      if (gap < 0) gap = index;
      return;
    }
    if (first < 0) first = index;
    last = index;
    if (value < low) [low, lowest] = [value, index];
    if (value > high) [high, highest] = [value, index];
  });
  const chosen = new Set([gap < 0 ? first : gap, lowest, highest, last]);
  return column.filter((_, index) => chosen.has(index));
}

/**
 * Thins points in the order of time to at most four on each of `pixels` equal columns from `fromMs` to `toMs`; points
 * outside go to the first and last column. The lowest and highest number of every column stay, so a spike of a single
 * reading is never lost; a column with a gap keeps one.
 */
export function decimate(points: readonly Point[], fromMs: number, toMs: number, pixels: number): readonly Point[] {
  const kept: Point[] = [];
  const scale = toMs > fromMs ? pixels / (toMs - fromMs) : 0;
  let column: Point[] = [];
  let columnAt = -1;
  for (const point of points) {
    const at = Math.min(pixels - 1, Math.max(0, Math.floor((point.atMs - fromMs) * scale)));
    if (at !== columnAt) {
      kept.push(...tell(column));
      column = [];
      columnAt = at;
    }
    column.push(point);
  }
  kept.push(...tell(column));
  return kept;
}
