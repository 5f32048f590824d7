import { describe, expect, it } from 'vitest';
import { meterUncertainty } from '../../../src-shared/calculation/meter-uncertainty.ts';
import { judge, type Judged } from '../../../src-shared/meter/accuracy.ts';
import type { MeterRange } from '../../../src-shared/meter/range.ts';
import { propagate } from '../../../src-shared/quantity/propagate.ts';
import { acVolts, keyboardMeter } from './describe.ts';

const volts = (value: number, resolution: number) => ({ value, unit: 'V', coupling: 'ac', resolution }) as const;
const meterOf = (...ranges: MeterRange[]) => keyboardMeter({ ranges });

const judged = (result: Judged) => {
  if (result.kind !== 'judged') throw new Error(result.why);
  return result;
};

describe('the uncertainty of a reading', () => {
  it('is that of a digital multimeter in the Guide', () => {
    // JCGM 100:2008, 4.3.7 example 2: 0.928571 V, 14e-6 of reading + 2e-6 of the 1 V range: a = 15 uV, u = 8.7 uV.
    const guide = acVolts(1, 1e-6, { coupling: 'dc', percentOfReading: 14e-4, digits: 2 });
    const { u } = judged(
      judge(1, meterOf(guide), { value: 0.928571, unit: 'V', coupling: 'dc', resolution: 1e-6 }, null),
    );
    expect(u * 1e6).toBeCloseTo(8.66, 2);
  });

  it('is half a step of the last digit where the meter is stated to be exact', () => {
    // EA-4/02 M:2013, supplement S9: 0.1 V resolution, half-width 0.05 V, u = 0.029 V.
    const exact = acVolts(200, 0.1, { percentOfReading: 0, digits: 0 });
    const { estimate, u } = judged(judge(1, meterOf(exact), volts(100.1, 0.1), null));
    expect(u).toBeCloseTo(0.0289, 4);
    expect(estimate).toMatchObject({ value: 100.1, shape: 'rectangular', dof: Infinity });
    expect(estimate.shared).toBeUndefined();
  });

  it('halves a normal statement with k = 2 (JCGM 100:2008, 4.3.3)', () => {
    const range = acVolts(200, 0.1, { percentOfReading: 1, digits: 5, shape: 'normal-k2' });
    expect(judged(judge(1, meterOf(range), volts(100, 0.1), null)).u).toBeCloseTo(1.5 / 2, 12);
  });

  it('shares the gain within one meter and range, so that a ratio keeps the digits only', () => {
    const meter = keyboardMeter();
    const primary = judged(judge(7, meter, volts(5.9, 0.001), 0));
    const coil = judged(judge(7, meter, volts(2.95, 0.001), 0));
    expect(primary.estimate.shared?.id).toBe('meter 7 range 0');
    const onOne = propagate({ p: primary.estimate, c: coil.estimate }, ({ p, c }) => p / c);
    const other = judged(judge(8, meter, volts(2.95, 0.001), 0));
    const onTwo = propagate({ p: primary.estimate, c: other.estimate }, ({ p, c }) => p / c);
    expect(onOne.u).toBeLessThan(0.8 * (onTwo.u ?? 0));
    expect(onOne.budget.find(({ input }) => input.startsWith('shared'))?.u ?? 0).toBeCloseTo(0, 12);
  });

  it('is what the calculation of the same name gives', () => {
    for (const [percentOfReading, digits, shape] of [
      [0.8, 5, 'rectangular'],
      [1.2, 0, 'rectangular'],
      [0, 3, 'normal'],
    ] as const) {
      const range = acVolts(200, 0.1, { percentOfReading, digits, shape: shape === 'normal' ? 'normal-k2' : shape });
      const calculated = meterUncertainty.answer({ reading: 118.4, percentOfReading, digits, resolution: 0.1, shape });
      expect(judged(judge(1, meterOf(range), volts(118.4, 0.1), null)).u).toBeCloseTo(
        calculated.ok ? calculated.results.u.value : NaN,
        12,
      );
    }
  });

  it('never falls below the digits alone, nor above the whole statement taken twice', () => {
    const range = acVolts(60, 0.01, { percentOfReading: 1.2, digits: 10 });
    for (const value of [0, 0.5, 6, 30, 59]) {
      const { estimate, u } = judged(judge(1, meterOf(range), volts(value, 0.01), null));
      expect(u).toBeCloseTo((0.012 * value + 0.1) / Math.sqrt(3), 12);
      expect(estimate.u).toBeGreaterThanOrEqual(0.1 / Math.sqrt(3) - 1e-12);
    }
  });
});

describe('the range of a reading', () => {
  const meter = keyboardMeter();

  it('is the one whose last digit it shows, else the smallest that holds it', () => {
    expect(judge(1, meter, volts(5.12, 0.001), null)).toMatchObject({ rangeIndex: 0, found: 'last-digit' });
    expect(judge(1, meter, volts(5.12, 0.01), null)).toMatchObject({ rangeIndex: 1, found: 'last-digit' });
    expect(judge(1, meter, volts(5.12, 0.0001), null)).toMatchObject({ rangeIndex: 0, found: 'size' });
    expect(judge(1, meter, volts(-118.6, 0.0001), null)).toMatchObject({ rangeIndex: 2, found: 'size' });
  });

  it('is the locked one, and unknown where that cannot be', () => {
    expect(judge(1, meter, volts(5.1, 0.1), 2)).toMatchObject({ rangeIndex: 2, found: 'locked', bottomOfRange: true });
    expect(judge(1, meter, volts(61, 0.1), 1)).toMatchObject({ kind: 'unknown', u: null, why: 'above-locked-range' });
    expect(judge(1, meter, { value: 1, unit: 'A', resolution: 0.1 }, 1)).toMatchObject({ why: 'locked-elsewhere' });
    expect(judge(1, meter, volts(1, 0.1), 9)).toMatchObject({ why: 'locked-elsewhere' });
  });

  it('is marked under five per cent of its top', () => {
    expect(judge(1, meter, volts(29.9, 0.1), 2)).toMatchObject({ bottomOfRange: true });
    expect(judge(1, meter, volts(30, 0.1), 2)).toMatchObject({ bottomOfRange: false });
  });

  it('is not guessed: no accuracy, no coupling or too high is unknown, with the reason', () => {
    const both = meterOf(acVolts(6, 0.001), acVolts(6, 0.001, { coupling: 'dc' }));
    expect(judge(1, both, { value: 1, unit: 'V', resolution: 0.001 }, null)).toMatchObject({ why: 'coupling-unknown' });
    expect(judge(1, both, volts(1, 0.001), null)).toMatchObject({ rangeIndex: 0 });
    expect(judge(1, meter, { value: 1, unit: 'V', coupling: 'dc', resolution: 0.001 }, null)).toMatchObject({
      why: 'no-ranges',
    });
    expect(judge(1, meterOf(), volts(1, 0.1), null)).toEqual({
      kind: 'unknown',
      u: null,
      why: 'no-ranges',
      sentence: 'The meter is described without accuracy for this unit.',
    });
    expect(judge(1, meter, volts(601, 0.1), null)).toMatchObject({ why: 'above-ranges' });
  });
});

describe('a scaled reading', () => {
  it('is judged by what the meter showed, with the factor and its own accuracy', () => {
    const millivolts = acVolts(0.6, 0.0001, { percentOfReading: 1, digits: 5 });
    const scales = [{ unit: 'V', factor: 100, becomes: 'A', percent: 2 }] as const;
    const reading = {
      value: 12,
      unit: 'A',
      resolution: 0.01,
      shown: { value: 0.12, unit: 'V', resolution: 0.0001 },
    } as const;
    const result = judged(judge(3, keyboardMeter({ ranges: [millivolts], scales: [...scales] }), reading, null));
    expect(result.rangeIndex).toBe(0);
    expect(result.estimate.value).toBe(12);
    // 1 % of 12 A and 5 steps of 10 mA in one statement, and 2 % of 12 A of the clamp.
    expect(result.u).toBeCloseTo(Math.hypot(0.17, 0.24) / Math.sqrt(3), 12);
    expect(result.estimate.shared?.u).toBeCloseTo(Math.hypot(0.12, 0.24) / Math.sqrt(3), 12);
  });
});
