import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PracticeMeter } from '../../../src-shared/meter/description.ts';
import { judge } from '../../../src-shared/meter/accuracy.ts';
import { readLine, type ReadValue } from '../../../src-shared/meter/line-grammar.ts';
import { simulateMeter } from '../../../src-shared/meter/practice-meter.ts';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { keyboardMeter } from './describe.ts';

const practiceMeter = (more: Partial<PracticeMeter> = {}): PracticeMeter => {
  const { kind: _, ...common } = keyboardMeter();
  return { kind: 'practice', ...common, unit: 'V', coupling: 'ac', ...more };
};
const simulated = (more: Partial<PracticeMeter> = {}, seed = 1) =>
  simulateMeter(practiceMeter(more), seededGenerator(seed));
const valueOf = (text: string): ReadValue | undefined => readLine(text, 'point')[0]?.value;

describe('a simulated meter', () => {
  it('sends lines that the generic grammar reads, in its unit and coupling', () => {
    expect(valueOf(simulated().lineFor(230, 0, null))).toMatchObject({ kind: 'number', unit: 'V', coupling: 'ac' });
    for (const unit of ['Ω', '°C', 'A', 'W', 'Hz'] as const) {
      expect(valueOf(simulated({ unit, coupling: null }).lineFor(21.5, 0, null))).toMatchObject({ unit, value: 21.5 });
    }
  });

  it('stays within what its description states, at any value and time', () => {
    const meter = simulated({}, 5);
    const seen: number[] = [];
    fc.assert(
      fc.property(fc.double({ min: 0, max: 600, noNaN: true }), fc.nat(3_600_000), (trueValue, atMs) => {
        const value = valueOf(meter.lineFor(trueValue, atMs, null));
        if (value?.kind !== 'number') throw new Error('no number');
        const allowed = 0.01 * trueValue + 5 * value.resolution + value.resolution / 2;
        expect(Math.abs(value.value - trueValue)).toBeLessThanOrEqual(allowed + 1e-9);
        seen.push((value.value - trueValue) / allowed);
      }),
      { numRuns: 2000, seed: 29 },
    );
    expect(Math.max(...seen.map(Math.abs))).toBeGreaterThan(0.2);
  });

  it('errs in its own way: another seed, another gain, the same seed the same lines', () => {
    const lines = (seed: number) => {
      const meter = simulated({}, seed);
      return [10, 20, 30].map((volts, index) => meter.lineFor(volts, index * 500, null));
    };
    expect(lines(3)).toEqual(lines(3));
    expect(lines(3)).not.toEqual(lines(4));
  });

  it('changes range by itself, reluctant to go down, or stays on the one that is locked', () => {
    const meter = simulated();
    const steps = [5, 6.5, 5.8, 5.2, 59, 61, 55, 50].map((volts) => {
      const value = valueOf(meter.lineFor(volts, 0, null));
      return value?.kind === 'number' ? value.resolution : null;
    });
    expect(steps).toEqual([0.001, 0.01, 0.01, 0.001, 0.01, 0.1, 0.1, 0.01]);
    expect(valueOf(meter.lineFor(5, 0, 2))).toMatchObject({ resolution: 0.1 });
  });

  it('shows an overload above its highest range and above the locked one', () => {
    expect(simulated().lineFor(601, 0, null)).toBe('OL V AC');
    expect(simulated().lineFor(61, 0, 1)).toBe('OL V AC');
    expect(simulated().lineFor(Number.NaN, 0, null)).toBe('OL V AC');
    expect(simulated({ coupling: 'dc', ranges: [] }).lineFor(-3000, 0, null)).toBe('-OL V DC');
  });

  it('can be judged by its own description: the range is told by the last digit', () => {
    const description = practiceMeter();
    const value = valueOf(simulateMeter(description, seededGenerator(2)).lineFor(19.2, 0, null));
    if (value?.kind !== 'number' || value.unit === undefined) throw new Error('no number');
    expect(judge(1, description, { ...value, unit: value.unit }, null)).toMatchObject({
      rangeIndex: 1,
      found: 'last-digit',
    });
  });
});
