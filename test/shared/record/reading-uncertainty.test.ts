import { expect, test } from 'vitest';
import { judge } from '../../../src-shared/meter/accuracy.ts';
import type { MeterRange } from '../../../src-shared/meter/range.ts';
import { readingUncertainty } from '../../../src-shared/record/reading-uncertainty.ts';

const range = (unit: 'V' | 'A', top: number, resolution: number): MeterRange => ({
  unit,
  coupling: 'ac',
  top,
  resolution,
  percentOfReading: 1,
  digits: 3,
  shape: 'rectangular',
});
const ranges = [range('V', 2, 0.001), range('A', 20, 0.01), range('A', 200, 0.1)];
const scales = [{ unit: 'V' as const, factor: 100, becomes: 'A' as const, percent: 0.5 }];
const reading = (value: number, resolution: number, rangeIndex: number | null) =>
  ({ kind: 'number', value, coupling: 'ac', resolution, rangeIndex }) as const;
const live = (shown: { value: number; unit: 'V' | 'A'; resolution: number }, value: number, resolution: number) => {
  const judged = judge(1, { ranges, scales }, { value, unit: 'A', coupling: 'ac', resolution, shown }, null);
  return judged.kind === 'judged' ? judged : null;
};

test('is what it was when the reading came: as shown, through a scale, and through a clamp', () => {
  const plain = live({ value: 5, unit: 'A', resolution: 0.01 }, 5, 0.01);
  expect(readingUncertainty(reading(5, 0.01, 1), { unit: 'A' }, { ranges, scales: [] })).toBeCloseTo(
    plain?.u ?? NaN,
    12,
  );
  const scaled = live({ value: 1.5, unit: 'V', resolution: 0.001 }, 150, 0.1);
  expect(scaled?.rangeIndex).toBe(0);
  expect(readingUncertainty(reading(150, 0.1, 0), { unit: 'A' }, { ranges, scales })).toBeCloseTo(scaled?.u ?? NaN, 12);
  const clamped = live({ value: 15, unit: 'A', resolution: 0.01 }, 3, 0.002);
  expect(clamped?.rangeIndex).toBe(1);
  expect(readingUncertainty(reading(3, 0.002, 1), { unit: 'A', passes: 5 }, { ranges, scales: [] })).toBeCloseTo(
    clamped?.u ?? NaN,
    12,
  );
});

test('at the very top of a range is not lost to rounding', () => {
  for (const passes of [3, 7, 9, 11]) {
    expect(
      readingUncertainty(reading(20 / passes, 0.01 / passes, 1), { unit: 'A', passes }, { ranges, scales }),
    ).toBeGreaterThan(0);
  }
});

test('is not known where the range was not, or where there is no number', () => {
  const from = { ranges, scales };
  expect(readingUncertainty(reading(5, 0.01, null), { unit: 'A' }, from)).toBeNull();
  expect(readingUncertainty(reading(5, 0.01, 9), { unit: 'A' }, from)).toBeNull();
  expect(readingUncertainty({ ...reading(5, 0.01, 1), kind: 'overload', value: null }, { unit: 'A' }, from)).toBeNull();
  expect(readingUncertainty(reading(5, 0.01, 1), { unit: 'furlong' }, from)).toBeNull();
});

test('is what it was with a stated correction in the value, through a scale too', () => {
  const corrections = [
    { rangeIndex: 0, factor: 0.98, percent: 0.1, wallMs: 0, against: 'Voltage reference' },
    { rangeIndex: 1, factor: 1.02, percent: 0.2, wallMs: 0, against: 'Voltage reference' },
  ];
  const shown = { value: 1.5, unit: 'V', resolution: 0.001 } as const;
  const from = { ranges, scales, corrections };
  const came = judge(1, from, { value: 150, unit: 'A', coupling: 'ac', resolution: 0.1, shown }, null);
  if (came.kind !== 'judged') throw new Error('not judged');
  expect(came.estimate.value).toBeCloseTo(147, 9);
  expect(readingUncertainty(reading(147, 0.1, 0), { unit: 'A' }, from)).toBeCloseTo(came.u, 12);
  // 1 % of the sheet has given way to 0.2 % of the check.
  const plain = readingUncertainty(reading(15, 0.01, 1), { unit: 'A' }, { ranges, scales }) ?? 0;
  expect(readingUncertainty(reading(15, 0.01, 1), { unit: 'A' }, from)).toBeLessThan(plain / 2);
});
