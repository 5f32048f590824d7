import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { axisRange } from '../../../src-shared/chart/axis-range.ts';
import type { Chart } from '../../../src-shared/chart/chart.ts';
import { chartTable } from '../../../src-shared/chart/chart-table.ts';
import { lastAtOrBelow, nearestPoint } from '../../../src-shared/chart/interpolate.ts';
import { labelRows } from '../../../src-shared/chart/label-rows.ts';
import { instantWords, timeTicks, valueTicks } from '../../../src-shared/chart/ticks.ts';

fc.configureGlobal({ seed: 20_310_314 });

const chart: Chart = {
  title: 'Volts',
  xAxis: { kind: 'time', said: null },
  fromX: 0,
  toX: 4000,
  curves: [
    {
      id: 'a',
      label: 'Primary volts',
      unit: 'V',
      ink: 'ink',
      dash: 'solid',
      form: 'line',
      x: [0, 1000, 2000, 3000, 4000],
      y: [118, 400, null, 117, 119],
    },
  ],
  bands: [],
  levels: [],
  marks: [],
};

describe('ticks', () => {
  test('are round, inside and few, whatever the range', () => {
    const range = fc.tuple(
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
    );
    fc.assert(
      fc.property(range, fc.integer({ min: 2, max: 10 }), ([from, span], count) => {
        const to = from + span;
        fc.pre(to > from);
        const { at, words } = valueTicks(from, to, count);
        expect(words).toHaveLength(at.length);
        expect(at.length).toBeLessThanOrEqual(count + 1);
        for (const value of at) {
          expect(value).toBeGreaterThanOrEqual(from - span * 1e-6);
          expect(value).toBeLessThanOrEqual(to + span * 1e-6);
        }
      }),
    );
  });

  test('of time are told in seconds, minutes and hours', () => {
    expect(timeTicks(0, 60_000, 6).words).toEqual(['0', '10 s', '20 s', '30 s', '40 s', '50 s', '1:00']);
    expect(timeTicks(0, 3_600_000, 4).words).toEqual(['0', '15 min', '30 min', '45 min', '60 min']);
    expect(timeTicks(0, 8 * 3_600_000, 4).words).toEqual(['0', '2 h', '4 h', '6 h', '8 h']);
    expect(instantWords(62_450, 100)).toBe('1:02.5');
    expect(instantWords(3_723_000, 1000)).toBe('1:02:03');
    expect(instantWords(-500, 100)).toBe('−0.5 s');
  });
});

test('an axis takes in the curve, and a limit only when it is near', () => {
  const limit = { kind: 'limit', unit: 'V', word: 'limit', fromX: null, toX: null } as const;
  const calm = { ...chart, curves: [{ ...chart.curves[0], y: [118, 119, null, 117, 119] }] } as Chart;
  const [, near] = axisRange({ ...calm, levels: [{ ...limit, value: 120 }] });
  expect(near).toBeGreaterThan(120);
  const [, far] = axisRange({ ...calm, levels: [{ ...limit, value: 500 }] });
  expect(far).toBeLessThan(130);
});

test('the table of a chart tells first, last, lowest, highest and gaps of what is drawn', () => {
  const table = chartTable(chart, 5);
  expect(table.curves[0]).toMatchObject({
    first: '118 V at 0.000 s',
    last: '119 V at 4.000 s',
    lowest: '117 V at 3.000 s',
    highest: '400 V at 1.000 s',
    gaps: 1,
  });
  expect(table.heads).toEqual(['Since the start', 'Primary volts (V)']);
  expect(table.rows.map(([, value]) => value)).toEqual(['118', '400', '', '117', '119']);
  expect(chartTable({ ...chart, fromX: 2500 }, 3).curves[0]?.highest).toBe('119 V at 4.000 s');
});

test('the nearest point is never a gap, and never beyond reach', () => {
  const curve = { x: [0, 10, 20, 30], y: [1, null, null, 4] };
  expect(nearestPoint(curve, 12, 15)).toEqual({ x: 0, y: 1 });
  expect(nearestPoint(curve, 18, 15)).toEqual({ x: 30, y: 4 });
  expect(nearestPoint(curve, 15, 10)).toBeNull();
  expect([-1, 0, 5, 10, 99].map((at) => lastAtOrBelow([0, 10], at))).toEqual([-1, 0, 0, 1, 1]);
});

test('labels that would touch go to the next row, and out of the way when there is none', () => {
  const places = [0, 10, 20, 200].map((left) => ({ left, width: 50 }));
  expect(labelRows(places, 2, 4)).toEqual([0, 1, null, 0]);
});
