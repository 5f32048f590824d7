import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bucketOf, joinBuckets, type Bucket, type Taken } from '../../../src-shared/record/bucket.ts';
import {
  decimate,
  pointsAPixel,
  pointsOfAll,
  silenceUs,
  type Point,
  type Stretch,
} from '../../../src-shared/record/decimation.ts';

fc.configureGlobal({ seed: 20_310_314 });

const points = fc
  .array(fc.record({ step: fc.nat(50), value: fc.option(fc.integer({ min: -500, max: 500 }), { freq: 8 }) }), {
    maxLength: 600,
  })
  .map((parts) => {
    let atMs = 0;
    return parts.map(({ step, value }): Point => ({ atMs: (atMs += step), value }));
  });

const columnOf = ({ atMs }: Point, toMs: number, pixels: number) =>
  Math.min(pixels - 1, Math.floor((atMs * pixels) / Math.max(toMs, 1)));
const taken = (atUs: number, value: number | null): Taken =>
  value === null ? { kind: 'overload', atUs, value } : { kind: 'number', atUs, value };

describe('thinning', () => {
  test('keeps a spike of a single reading', () => {
    const flat = Array.from({ length: 10_000 }, (_, index): Point => ({ atMs: index, value: index === 7777 ? 99 : 1 }));
    expect(decimate(flat, 0, 10_000, 50)).toContainEqual({ atMs: 7777, value: 99 });
  });

  test('leaves as it is what fits', () => {
    const few: Point[] = [
      { atMs: 0, value: 1 },
      { atMs: 1, value: null },
      { atMs: 2, value: 3 },
    ];
    expect(decimate(few, 0, 1000, 10)).toEqual(few);
    expect(decimate([], 0, 1000, 10)).toEqual([]);
    expect(decimate(few, 5, 5, 10)).toEqual(few);
  });

  test('gives at most four points a pixel, in order, all of them of the readings', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: 1, max: 200 }), (all, pixels) => {
        const toMs = all.at(-1)?.atMs ?? 0;
        const thin = decimate(all, 0, toMs, pixels);
        expect(thin.length).toBeLessThanOrEqual(pointsAPixel * pixels);
        let from = 0;
        for (const point of thin) {
          const at = all.indexOf(point, from);
          expect(at).toBeGreaterThanOrEqual(from);
          from = at + 1;
        }
      }),
    );
  });

  test('keeps the lowest and highest of every pixel, and a gap where there is one', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: 1, max: 60 }), (all, pixels) => {
        const toMs = all.at(-1)?.atMs ?? 0;
        const before = Map.groupBy(all, (point) => columnOf(point, toMs, pixels));
        const after = Map.groupBy(decimate(all, 0, toMs, pixels), (point) => columnOf(point, toMs, pixels));
        for (const [column, ofColumn] of before) {
          const numbers = ofColumn.flatMap(({ value }) => (value === null ? [] : [value]));
          const kept = after.get(column) ?? [];
          if (numbers.length > 0) {
            expect(kept.map(({ value }) => value)).toContain(Math.min(...numbers));
            expect(kept.map(({ value }) => value)).toContain(Math.max(...numbers));
            expect(kept.findLast(({ value }) => value !== null)).toBe(ofColumn.findLast(({ value }) => value !== null));
          }
          expect(kept.some(({ value }) => value === null)).toBe(numbers.length < ofColumn.length);
        }
      }),
    );
  });
});

const sent = (bucket: Bucket): Stretch => ({ bucket, isTyped: false });
const typed = (bucket: Bucket): Stretch => ({ bucket, isTyped: true });

describe('what buckets stand for', () => {
  test('is the number of a reading at its time, or a gap', () => {
    const buckets = [bucketOf([taken(1500, 2)]), bucketOf([taken(2500, null)])];
    expect(pointsOfAll(buckets.map(sent), Infinity)).toEqual([
      { atMs: 1.5, value: 2 },
      { atMs: 2.5, value: null },
    ]);
  });

  test('is first, lowest, highest and last in the order of time, each once', () => {
    const bucket = bucketOf([taken(1000, 5), taken(2000, 9), taken(3000, 1), taken(4000, 4)]);
    expect(pointsOfAll([sent(bucket)], Infinity).map(({ value }) => value)).toEqual([5, 9, 1, 4]);
    const flat = bucketOf([taken(1000, 5), taken(2000, 5)]);
    expect(pointsOfAll([sent(flat)], Infinity).map(({ atMs }) => atMs)).toEqual([1, 2]);
  });

  test('is a gap where a reading in it was no number, or none came for long', () => {
    const overload = bucketOf([taken(1000, 5), taken(2000, null), taken(3000, 6)]);
    expect(pointsOfAll([sent(overload)], Infinity).map(({ value }) => value)).toEqual([5, null, 6]);
    const quiet = joinBuckets(bucketOf([taken(0, 5)]), bucketOf([taken(9e6, 6)]));
    expect(pointsOfAll([sent(quiet)], 8e6).map(({ value }) => value)).toEqual([5, null, 6]);
    expect(pointsOfAll([sent(quiet)], 9e6).map(({ value }) => value)).toEqual([5, 6]);
  });

  test('is a gap between two that lie far apart', () => {
    const buckets = [bucketOf([taken(0, 5)]), bucketOf([taken(9e6, 6)])];
    expect(pointsOfAll(buckets.map(sent), 8e6)).toEqual([
      { atMs: 0, value: 5 },
      { atMs: 4500, value: null },
      { atMs: 9000, value: 6 },
    ]);
  });

  test('is no gap between two values that were typed; from what a meter sent to them it is', () => {
    const [first, second, third] = [bucketOf([taken(0, 5)]), bucketOf([taken(9e6, 6)]), bucketOf([taken(18e6, 7)])];
    const stretches = [sent(first), typed(second), typed(third)];
    expect(pointsOfAll(stretches, 8e6).map(({ value }) => value)).toEqual([5, null, 6, 7]);
  });
});

test('a channel is quiet after five of its usual intervals and two seconds, and never with two readings', () => {
  expect(silenceUs(101, 0, 100e6)).toBe(5e6);
  expect(silenceUs(1001, 0, 100e6)).toBe(2e6);
  expect(silenceUs(2, 0, 100e6)).toBe(Infinity);
});
