import { describe, expect, it } from 'vitest';
import { judge } from '../../../src-shared/meter/accuracy.ts';
import { correctionOf, verdictOf } from '../../../src-shared/meter/meter-check.ts';
import type { MeterRange } from '../../../src-shared/meter/range.ts';

const range: MeterRange = {
  unit: 'V',
  coupling: 'dc',
  top: 20,
  resolution: 0.01,
  percentOfReading: 0.5,
  digits: 2,
  shape: 'rectangular',
};
const check = (shown: number, value: number, u: number | null) => ({
  shown,
  resolution: 0.01,
  rangeIndex: 0,
  wallMs: 1000,
  reference: { label: 'Voltage reference', value, u },
});

describe('a check against something known', () => {
  // 0.5 % of 10.06 V and two steps of 0.01 V: 0.0703 V, by hand.
  it('agrees, disagrees, or cannot tell where the reference itself is too poor', () => {
    expect(verdictOf(check(10.06, 10, 0.005), range)).toBe('within');
    expect(verdictOf(check(10.06, 10, 0.006), range)).toBe('cannot-tell');
    expect(verdictOf(check(10.1, 10, 0.01), range)).toBe('outside');
    expect(verdictOf(check(10.06, 10, null), range)).toBe('cannot-tell');
    expect(verdictOf(check(10.06, 10, 0.005), null)).toBe('no-sheet');
  });

  it('gives the factor and its doubt, reference and half a step in quadrature', () => {
    const found = correctionOf(check(10.1, 10, 0.005), range);
    if (!found.ok) throw new Error(found.why);
    expect(found.correction.factor).toBeCloseTo(0.990099, 6);
    // (0.005 / 10)^2 + (0.005 / sqrt 3 / 10.1)^2, by hand: 0.0577 %.
    expect(found.correction.percent).toBeCloseTo(0.0576, 3);
    expect(found.correction.against).toBe('Voltage reference');
  });

  it('gives none where it would be worth nothing', () => {
    expect(correctionOf(check(2, 2.1, 0.005), range)).toEqual({ ok: false, why: 'low-on-range' });
    expect(correctionOf(check(10, 13, 0.005), range)).toEqual({ ok: false, why: 'too-far' });
    expect(correctionOf(check(10, 10.1, null), range)).toEqual({ ok: false, why: 'no-doubt' });
    expect(correctionOf({ ...check(10, 10.1, 0.005), rangeIndex: null }, null)).toEqual({ ok: false, why: 'no-range' });
  });
});

describe('a stated correction', () => {
  const correction = { rangeIndex: 0, factor: 0.99, percent: 0.06, wallMs: 1000, against: 'Voltage reference' };
  const reading = { value: 12, unit: 'V', coupling: 'dc', resolution: 0.01 } as const;
  const plain = judge(3, { ranges: [range], scales: [] }, reading, 0);
  const better = judge(3, { ranges: [range], scales: [], corrections: [correction] }, reading, 0);

  it('multiplies the reading, and its doubt takes the place of the per cent', () => {
    if (plain.kind !== 'judged' || better.kind !== 'judged') throw new Error('not judged');
    expect(plain.estimate.value).toBe(12);
    expect(better.estimate.value).toBeCloseTo(11.88, 9);
    // Digits alone: 0.02 V rectangular; gain: 0.06 % of 11.88 V.
    expect(better.u).toBeCloseTo(Math.hypot(0.02 / Math.sqrt(3), 0.0006 * 11.88), 6);
    expect(better.u).toBeLessThan(plain.u);
    expect(better.correction).toEqual(correction);
  });

  it('touches no other range', () => {
    const other = judge(
      3,
      { ranges: [range], scales: [], corrections: [{ ...correction, rangeIndex: 1 }] },
      reading,
      0,
    );
    expect(other).toEqual(plain);
  });
});
