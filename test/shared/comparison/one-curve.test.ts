import { describe, expect, it } from 'vitest';
import { curvePointsOf, oneCurve as laid, sweepPoints } from '../../../src-shared/comparison/one-curve.ts';
import { observe } from '../../../src-shared/practice/observed.ts';
import { stiffBench } from '../practice/given.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import { record, sweep } from './given.ts';

const oneCurve = (one: Result | undefined, other: Result | undefined, called: typeof names) =>
  laid(sweepPoints(one), sweepPoints(other), called);

const names = ['Build 1', 'Build 2'] as const;
const asFound = sweep(stiffBench, 320);
const more = { ...stiffBench, added: { turns: 20, ohms20: 0.1, opposed: false } };
const codes = (found: ReturnType<typeof oneCurve>) => found?.candidates.map(({ code }) => code) ?? [];

describe('the sweeps of two builds', () => {
  it('fall on one curve for a stiff supply, however many turns carried the current', () => {
    const found = oneCurve(asFound, sweep(more, 340), names);
    expect(found?.verdict).toBe('one');
    expect(found?.chart.curves.map(({ label, x }) => [label, x.length > 5])).toEqual([
      ['The core', true],
      ['Build 1', true],
      ['Build 2', true],
    ]);
  });

  it('name a wrong count where the turns that were added are not what was said', () => {
    const found = oneCurve(asFound, sweep(more, 348), names);
    expect(found?.verdict).toBe('apart');
    expect(codes(found)).toContain('candidate-turn-count');
  });

  it('say of which build the points are that lie apart, and at which volts', () => {
    const found = oneCurve(asFound, sweep(more, 348), names);
    expect(found?.rests).toMatch(/^Points: .*\d of 7 of build [12] apart/);
    const count = found?.candidates.find(({ code }) => code === 'candidate-turn-count');
    expect(count?.text).toMatch(/Build [12] at \d+(\.\d)? V.* would fit with about \d+ turns/);
  });

  it('take the no-load points of a build that was not swept', () => {
    const point = (amps: number) => curvePointsOf(record({ number: 2, turns: 340, amps }));
    const seen = observe(more);
    const [volts, amps] = [seen?.volts['primary']?.rms ?? 0, seen?.lineAmps.rms ?? 0];
    expect(volts).toBeCloseTo(230, 0);
    const found = laid(sweepPoints(asFound), point(amps), names);
    expect(found?.verdict).toBe('one');
    expect(found?.rests).toBe('Points: all 7 of build 1 on it, the one of build 2 on it.');
    expect(laid(sweepPoints(asFound), point(2 * amps), names)?.verdict).toBe('apart');
    expect(laid(point(amps), point(amps), names)).toBeNull();
  });

  it('name the joint where a core was closed anew', () => {
    const { transformer } = more;
    const open = { ...more, transformer: { ...transformer, iron: { ...transformer.iron, gapM: 1.2e-4 } } };
    const found = oneCurve(asFound, sweep(open, 340), names);
    expect(found?.verdict).toBe('apart');
    expect(codes(found).some((code) => code.includes('joint'))).toBe(true);
  });

  it('name a soft supply', () => {
    const soft = { ...more, supply: { ...more.supply, ohms: 60, henries: 0.05 } };
    const found = oneCurve(asFound, sweep(soft, 340, 'mains-through-lamp'), names);
    expect(found?.verdict).toBe('apart');
    expect(codes(found)).toContain('candidate-soft-supply');
  });

  it('are not laid over each other where one of them is missing', () => {
    expect(oneCurve(asFound, undefined, names)).toBeNull();
    expect(oneCurve({ ...asFound, input: { points: 'none' } }, asFound, names)).toBeNull();
  });
});
