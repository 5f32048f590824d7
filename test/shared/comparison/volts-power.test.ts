import { describe, expect, it } from 'vitest';
import { comparisonOf } from '../../../src-shared/comparison/comparison.ts';
import { voltsPowers } from '../../../src-shared/comparison/volts-power.ts';
import { observe, type PracticeBench } from '../../../src-shared/practice/observed.ts';
import type { BuildRecord } from '../../../src-shared/comparison/build-record.ts';
import { stiffBench } from '../practice/given.ts';
import { record, sweep } from './given.ts';

const ampsOf = (bench: PracticeBench, volts: number): number =>
  observe({ ...bench, supply: { ...bench.supply, volts } })?.lineAmps.rms ?? NaN;
/** The slope of the simulation itself. */
const truth = (volts: number) =>
  Math.log(ampsOf(stiffBench, 1.02 * volts) / ampsOf(stiffBench, 0.98 * volts)) / Math.log(1.02 / 0.98);

describe('the power of the volts that a no-load current goes with', () => {
  const curve = sweep(stiffBench, 320);

  it.each([170, 200, 220])('is that of the simulation at %d V, within its doubt', (volts) => {
    const found = voltsPowers(curve, volts, null)?.amps;
    expect(Math.abs((found?.value ?? NaN) - truth(volts))).toBeLessThan(2 * (found?.u ?? 0));
    expect(found?.u).toBeLessThan(1);
  });

  it('is taken at the volts a turn, however many turns there are', () => {
    expect(voltsPowers(curve, (220 * 340) / 320, 340)?.amps.value).toBeCloseTo(
      voltsPowers(curve, 220, 320)?.amps.value ?? NaN,
      9,
    );
  });

  it('is not known beyond the curve, nor without one', () => {
    expect(voltsPowers(curve, 300, null)).toBeNull();
    expect(voltsPowers(undefined, 220, null)).toBeNull();
  });
});

describe('no-load points at unlike volts', () => {
  const at = (number: number, volts: number): BuildRecord => {
    const given = record({ number, turns: 320, volts, amps: ampsOf(stiffBench, volts) });
    const swept = { ...sweep(stiffBench, 320), resultId: 100 + number, buildId: number };
    return { ...given, results: [...given.results, swept] };
  };
  const rowOf = (found: ReturnType<typeof comparisonOf>) =>
    found.rows.find(({ compared }) => compared.quantity === 'No-load current');

  it('are brought to one voltage along the curve: nothing has changed, and it is said', () => {
    const found = comparisonOf(at(2, 226), at(3, 219));
    const row = rowOf(found);
    expect(row?.compared.verdict).toBe('no-visible-change');
    // As they stand they are far apart: the line was low.
    expect((row?.after?.value ?? 0) / (row?.before?.value ?? 1)).toBeLessThan(0.8);
    expect(row?.brought?.value).toBeCloseTo(row?.before?.value ?? NaN, 1);
    const [first] = found.conditions;
    expect(first).toMatchObject({ name: 'Supply volts', before: { value: 226 }, after: { value: 219 }, differs: true });
    expect(first?.effect).toMatch(
      /brought to 226\.00 ± 0\.30 V along the curve, by the power 1[01]\.\d+ ± 0\.\d+ of the volts/,
    );
  });

  it('are left apart without a curve', () => {
    const bare = (each: BuildRecord) => ({
      ...each,
      results: each.results.filter(({ calculation }) => calculation !== 'excitation'),
    });
    const found = comparisonOf(bare(at(2, 226)), bare(at(3, 219)));
    expect(rowOf(found)?.compared.verdict).toBe('not-comparable');
    expect(found.conditions[0]?.effect).toMatch(/^In the way/);
  });
});
