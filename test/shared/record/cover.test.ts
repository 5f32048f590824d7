import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bucketSize } from '../../../src-shared/record/bucket.ts';
import { cover, coverWithin, rowsOf, type Piece } from '../../../src-shared/record/cover.ts';

fc.configureGlobal({ seed: 20_310_314 });

const sizeOf = (piece: Piece) => (piece.kind === 'readings' ? 1 : bucketSize(piece.level));
const range = fc.tuple(fc.nat(3_000_000), fc.nat(3_000_000)).map(([a, b]) => [Math.min(a, b), Math.max(a, b)] as const);
const levels = fc.constantFrom(0, 1, 2, 3, 4);

/** Where the pieces begin and end, in places. */
const places = (pieces: readonly Piece[]) =>
  pieces.map((piece) => [piece.from * sizeOf(piece), piece.to * sizeOf(piece)] as const);

describe('a cover', () => {
  test('takes whole buckets in the middle and smaller pieces towards the ends', () => {
    expect(cover(10, 600, 2)).toEqual([
      { kind: 'readings', from: 10, to: 16 },
      { kind: 'buckets', level: 1, from: 1, to: 16 },
      { kind: 'buckets', level: 2, from: 1, to: 2 },
      { kind: 'buckets', level: 1, from: 32, to: 37 },
      { kind: 'readings', from: 592, to: 600 },
    ]);
    expect(cover(5, 5, 4)).toEqual([]);
    expect(cover(17, 30, 4)).toEqual([{ kind: 'readings', from: 17, to: 30 }]);
  });

  test('meets without a gap and holds exactly the range', () => {
    fc.assert(
      fc.property(range, levels, ([from, to], level) => {
        const ends = places(cover(from, to, level));
        expect(ends.flat().filter((_, index, all) => index === 0 || index === all.length - 1)).toEqual(
          from === to ? [] : [from, to],
        );
        ends.forEach(([begin], index) => index > 0 && expect(begin).toBe(ends[index - 1]?.[1]));
        for (const [begin, end] of ends) expect(end).toBeGreaterThan(begin);
      }),
    );
  });

  test('names single readings only at its ends', () => {
    fc.assert(
      fc.property(range, levels, ([from, to], level) => {
        for (const piece of cover(from, to, level)) {
          if (piece.kind === 'readings') expect(piece.from === from || piece.to === to).toBe(true);
        }
      }),
    );
  });

  test('within a number of rows is the finest that is so small', () => {
    fc.assert(
      fc.property(range, fc.integer({ min: 1, max: 5000 }), ([from, to], rows) => {
        const chosen = coverWithin(from, to, rows);
        const all = ([0, 1, 2, 3, 4] as const).map((level) => rowsOf(cover(from, to, level)));
        const finest = all.find((count) => count <= rows);
        expect(rowsOf(chosen)).toBe(finest ?? Math.min(...all));
      }),
    );
  });

  test('of up to eight million readings takes no more than 252 rows', () => {
    fc.assert(
      fc.property(fc.nat(10_000_000), fc.integer({ min: 0, max: 8_000_000 }), (from, length) => {
        expect(rowsOf(coverWithin(from, from + length, 252))).toBeLessThanOrEqual(252);
      }),
      {
        examples: [
          [15, 8_000_000],
          [65_535, 7_999_999],
        ],
      },
    );
  });
});
