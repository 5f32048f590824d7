import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Chart } from '../../../src-shared/chart/chart.ts';
import { onRange } from '../../../src-shared/chart/clip.ts';
import { laneTicks, lanesOf, shareOf, wholeRange } from '../../../src-shared/chart/lanes.ts';
import { readoutAt } from '../../../src-shared/chart/readout.ts';
import { isWhole, panned, zoomed } from '../../../src-shared/chart/x-range.ts';

fc.configureGlobal({ seed: 20_310_314 });

const curve = { ink: 'ink', dash: 'solid', form: 'line' } as const;
const chart: Chart = {
  title: '',
  xAxis: { kind: 'time', said: null },
  fromX: 0,
  toX: 100,
  curves: [
    { ...curve, id: 'a', label: 'A', unit: 'V', x: [0, 10, 20, 30, 100], y: [230, 231, null, 229, 230] },
    { ...curve, id: 'b', label: 'B', unit: 'A', x: [5, 50], y: [0.7, 0.8] },
    { ...curve, id: 'c', label: 'C', unit: 'V', x: [0, 100], y: [24, 24] },
  ],
  bands: [],
  levels: [{ kind: 'limit', unit: 'W', value: 40, word: 'limit', fromX: null, toX: null }],
  marks: [],
};

describe('the stretch that is shown', () => {
  const whole = { from: 0, to: 1000 };
  const place = fc.double({ min: 0, max: 1000, noNaN: true });

  test('stays within all there is, whatever is asked of it', () => {
    fc.assert(
      fc.property(
        place,
        place,
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        place,
        (one, other, factor, around) => {
          const range = { from: Math.min(one, other), to: Math.max(one, other) };
          for (const next of [zoomed(range, whole, factor, around, 1), panned(range, whole, (around - 500) * 4)]) {
            expect(next.from).toBeGreaterThanOrEqual(-1e-9);
            expect(next.to).toBeLessThanOrEqual(1000 + 1e-9);
            expect(next.to).toBeGreaterThanOrEqual(next.from);
          }
        },
      ),
    );
  });

  test('keeps what is under the pointer where it is', () => {
    const near = zoomed({ from: 200, to: 600 }, whole, 0.5, 300, 1);
    expect(near).toEqual({ from: 250, to: 450 });
    expect((300 - near.from) / (near.to - near.from)).toBeCloseTo(0.25, 12);
    expect(zoomed(near, whole, 2, 300, 1)).toEqual({ from: 200, to: 600 });
    expect(isWhole(zoomed(near, whole, 100, 300, 1), whole)).toBe(true);
    expect(panned({ from: 250, to: 450 }, whole, 900)).toEqual({ from: 800, to: 1000 });
  });
});

test('a curve cut to a stretch keeps one point beyond each edge, so that its line goes on to it', () => {
  const cut = onRange(chart, 12, 28);
  expect([cut.fromX, cut.toX]).toEqual([12, 28]);
  expect(cut.curves[0]).toMatchObject({ x: [10, 20, 30], y: [231, null, 229] });
  expect(cut.curves[1]).toMatchObject({ x: [5, 50] });
});

test('the cursor reads the nearest point of each curve that is in reach', () => {
  expect(readoutAt(chart, 12, 8).map(({ id, value }) => [id, value])).toEqual([
    ['a', 231],
    ['b', 0.7],
  ]);
});

test('every unit has a lane of its own, apart from the others, in which all of its curves lie', () => {
  const lanes = lanesOf(chart);
  expect(lanes.map(({ name }) => name)).toEqual(['V', 'A', 'W']);
  lanes.forEach((lane, nth) => {
    expect(lane.top).toBeCloseTo(nth === 0 ? 0 : (lanes[nth - 1]?.bottom ?? NaN) + 0.035, 12);
    expect(laneTicks(lane, 60).at.length).toBeGreaterThanOrEqual(2);
    // In a low lane the words stand apart all the same.
    expect(laneTicks(lane, 20).at.length).toBe(2);
    for (const { unit, y } of chart.curves) {
      for (const value of y) {
        if (unit !== lane.unit || value === null) continue;
        expect(shareOf(lane, value)).toBeGreaterThan(lane.top);
        expect(shareOf(lane, value)).toBeLessThan(lane.bottom);
      }
    }
    // The scale of the whole height puts the lane's own ends where the lane is.
    const [low, high] = wholeRange(lane);
    expect((high - lane.high) / (high - low)).toBeCloseTo(lane.top, 12);
    expect((high - lane.low) / (high - low)).toBeCloseTo(lane.bottom, 12);
  });
  expect(lanes.at(-1)?.bottom).toBeCloseTo(1, 12);
});
