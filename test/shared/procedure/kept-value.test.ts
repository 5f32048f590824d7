import { describe, expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { betweenValues, keptValue, testCoilInput, type KeptReading } from '../../../src-shared/procedure/kept-value.ts';
import type { Estimate } from '../../../src-shared/quantity/estimate.ts';
import type { KeptPair } from '../../../src-shared/record/run.ts';

const estimate: Estimate = {
  value: 100,
  u: 0.2,
  shape: 'rectangular',
  dof: Infinity,
  shared: { id: 'meter 1 range 2', u: 0.7 },
};
const reading = (value: number, readingId = 1): KeptReading => ({
  readingId,
  value,
  estimate,
  rangeIndex: 2,
  bottomOfRange: false,
});
const source = { channel: 'primary-volts', unit: 'V', meterId: 1 };

describe('a kept value', () => {
  it('keeps the doubt of one reading when repeats agree: rounding does not shrink by repeating', () => {
    const kept = keptValue([reading(100), reading(100), reading(100)], source);
    expect(kept).toMatchObject({ value: 100, u: 0.2, shape: 'rectangular', dof: null, shared: { u: 0.7 } });
  });
  it('adds the scatter of the mean, s / sqrt(n)', () => {
    // JCGM 100:2008, 4.2.3: s of {99, 100, 101} is 1, of their mean 1 / sqrt(3).
    const kept = keptValue([reading(99, 1), reading(100, 2), reading(101, 3)], source);
    expect(kept.value).toBe(100);
    expect(kept.u).toBeCloseTo(Math.hypot(0.2, 1 / Math.sqrt(3)), 12);
    // JCGM 100:2008, G.4.1, with 2 degrees of freedom for the scatter.
    expect(kept.dof).toBeCloseTo(2 * (1 + 0.04 * 3) ** 2, 9);
    expect(kept.readingIds).toEqual([1, 2, 3]);
  });
  it('has no known doubt when its meter has none', () => {
    expect(keptValue([{ ...reading(100), estimate: null }], source)).toMatchObject({ u: null, shared: null });
  });
  it('names no range when its readings were on two', () => {
    expect(keptValue([reading(100), { ...reading(100), rangeIndex: 3 }], source).rangeIndex).toBeNull();
  });
});

describe('a value between two of its own', () => {
  it('takes steady drift out and counts half of it as doubt', () => {
    const { value, driftVolts } = betweenValues(
      keptValue([reading(100, 1)], source),
      keptValue([reading(102, 2)], source),
    );
    expect(driftVolts).toBe(2);
    expect(value.value).toBe(101);
    expect(value.u).toBeCloseTo(Math.hypot(0.2, 1 / Math.sqrt(3)), 12);
    expect(value.readingIds).toEqual([1, 2]);
  });
});

describe('the input that kept pairs amount to', () => {
  const pair = (coilTurns: number, coilVolts: number, withdrawn: string | null = null): KeptPair => ({
    eventId: coilTurns,
    coilTurns,
    swapped: false,
    order: 'together',
    primary: keptValue([reading(118.6)], source),
    coil: keptValue([reading(coilVolts)], { ...source, channel: 'coil-volts' }),
    driftVolts: null,
    withdrawn,
  });
  it('leaves withdrawn pairs out, and is nothing without any', () => {
    expect(testCoilInput([{ pair: pair(10, 9.87, 'miscounted'), facts: {} }], 60)).toBeNull();
    expect(
      testCoilInput(
        [
          { pair: pair(10, 9.87), facts: {} },
          { pair: pair(9, 1, 'slip'), facts: {} },
        ],
        60,
      )?.readings,
    ).toHaveLength(1);
  });
  it('is what the calculation takes: 10 x 118.6 / 9.87', () => {
    const answer = calculate(
      'test-coil',
      testCoilInput([{ pair: pair(10, 9.87), facts: { coilMeterKind: 'true-rms' } }], 60),
    );
    expect(answer.ok && answer.results.primaryTurns.value).toBeCloseTo(120.162, 3);
  });
});
