import { describe, expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { adjustmentOf, adjustmentsOf } from '../../../src-shared/comparison/adjustment.ts';
import type { Result } from '../../../src-shared/record/run.ts';

const kept = (input: Readonly<Record<string, unknown>>, more: Partial<Result> = {}): Result => ({
  resultId: 1,
  buildId: 1,
  runId: 1,
  calculation: 'adjust-turns',
  version: 1,
  wallMs: 0,
  input,
  output: JSON.parse(JSON.stringify(calculate('adjust-turns', input))),
  ...more,
});
const read = { winding: '24 V output', primaryVolts: 230, nominalVolts: 230, turns: 44 };
const of = (volts: number, u: number | null, targetVolts: number) =>
  adjustmentOf(kept({ ...read, measuredVolts: { value: volts, u }, targetVolts }));

describe('what a kept adjustment says', () => {
  it('names the turns to add or to take off, with the volts that they bring', () => {
    const more = of(24.5, 0.05, 26.2);
    expect(more).toMatchObject({ verdict: 'change', turns: 3, title: 'Add 3 turns to “24 V output”.' });
    expect(more?.why).toBe(
      'It gives 24.500 ± 0.050 V with nothing on it at 230 V line, and 26.2 V is wanted. With that: 26.170 ± 0.053 V. One turn is 0.557 V.',
    );
    expect(of(24.5, 0.05, 24)).toMatchObject({ verdict: 'change', title: 'Take 1 turn off “24 V output”.' });
  });

  it('says that it is to be left, or that the meters cannot tell', () => {
    expect(of(24.5, 0.05, 24.3)).toMatchObject({ verdict: 'leave', title: 'Leave “24 V output” as it is.' });
    expect(of(24.5, 0.9, 25.5)?.title).toBe('These meters cannot tell whether “24 V output” wants other turns.');
    expect(of(24.5, null, 26.2)).toMatchObject({ verdict: 'cannot-tell' });
    expect(of(24.5, null, 26.2)?.why).toMatch(/not known/);
  });

  it('is the newest of each winding of the build', () => {
    const at = (volts: number) => ({ ...read, measuredVolts: { value: volts, u: 0.05 }, targetVolts: 26.2 });
    const results = [
      kept(at(24.5)),
      kept(at(25.6)),
      kept(at(20), { buildId: 2 }),
      kept(at(20), { calculation: 'duty' }),
    ];
    expect(adjustmentsOf(results, 1).map(({ turns }) => turns)).toEqual([1]);
  });
});
