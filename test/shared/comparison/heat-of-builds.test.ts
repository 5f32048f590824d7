import { describe, expect, test } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { BuildRecord } from '../../../src-shared/comparison/build-record.ts';
import { comparisonOf } from '../../../src-shared/comparison/comparison.ts';
import { noLoadNear } from '../../../src-shared/comparison/no-load-near.ts';
import { noLoadHeat } from '../../../src-shared/record/heat-results.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import { mains, record } from './given.ts';

const minutes = [0, 10, 20, 40, 60, 120];
const heat = (rise: number) => ({
  points: minutes.map((at) => ({ seconds: 60 * at, celsius: { value: 21 - rise * Math.expm1(-at / 40), u: 0.1 } })),
  ambientCelsius: 21,
});
const load = (amps: number) => ({
  points: [0.5, 1].map((part) => ({ amps: amps * part, volts: 25 - 0.1 * amps * part })),
});

/** A build with heat found in runs of one procedure: the rises of one act in the order in which they are kept. */
function warmed(
  number: number,
  runs: readonly { readonly rises: readonly number[]; readonly loadAmps?: number }[],
  volts = 230,
): BuildRecord {
  const whole = record({ number, supply: { ...mains, volts } });
  const [plain] = whole.runs;
  if (plain === undefined) throw new Error('The fixture has a run.');
  let resultId = 100 * number;
  const results = runs.flatMap(({ rises, loadAmps }, at): readonly Result[] => {
    const kept = (calculation: 'heat-run' | 'loaded-run', input: object): Result => {
      const output: unknown = JSON.parse(JSON.stringify(calculate(calculation, input)));
      resultId += 1;
      const runId = 10 * number + at;
      return { resultId, buildId: number, runId, calculation, version: 1, wallMs: 0, input, output };
    };
    const first = loadAmps === undefined ? [] : [kept('loaded-run', load(loadAmps))];
    return [...first, ...rises.map((rise) => kept('heat-run', heat(rise)))];
  });
  const channel = {
    channel: 'core-temperature',
    unit: '°C',
    meterId: 9,
    meterRevisionId: 1,
    lockedRange: null,
  } as const;
  return {
    ...whole,
    results,
    runs: runs.map(({ loadAmps }, at) => ({
      ...plain,
      ...{ runId: 10 * number + at, channels: [channel] },
      procedure: loadAmps === undefined ? 'heat-run' : 'loaded-run',
    })),
  };
}

const idle = 'Final rise, no load';
const loaded = 'Final rise of the core, loaded';

/** The verdict of each quantity, and its values. */
const verdictsOf = (before: BuildRecord, after: BuildRecord) => {
  const { answer } = comparisonOf(before, after);
  if (!answer.ok) throw new Error(answer.error.message);
  return Object.fromEntries(
    answer.results.quantities.map((each) => [
      each.quantity,
      [each.verdict, ...[each.before, each.after].map((value) => (value === null ? null : Math.round(value)))],
    ]),
  );
};

describe('the heat of two builds', () => {
  test('holds no loaded run against one without a load, however new it is', () => {
    const before = warmed(2, [{ rises: [40] }]);
    const after = warmed(3, [{ rises: [31] }, { rises: [55, 70], loadAmps: 6 }]);
    const found = verdictsOf(before, after);
    expect(found[idle]).toEqual(['changed', 40, 31]);
    expect(found[loaded]?.slice(1)).toEqual([null, 55]);
  });

  test('holds loaded cores against each other at the same amps alone, and never a winding against a core', () => {
    const before = warmed(2, [{ rises: [60, 80], loadAmps: 6 }]);
    expect(verdictsOf(before, warmed(3, [{ rises: [50, 79], loadAmps: 6 }]))[loaded]).toEqual(['changed', 60, 50]);
    const lighter = verdictsOf(before, warmed(3, [{ rises: [50], loadAmps: 3 }]));
    expect(lighter[loaded]?.[0]).toBe('not-comparable');
    expect(lighter).not.toHaveProperty([idle]);
  });

  test('compares no heat at other volts: no curve says what they do to it', () => {
    const [before, after] = [warmed(2, [{ rises: [40] }]), warmed(3, [{ rises: [31] }], 240)];
    expect(verdictsOf(before, after)[idle]?.[0]).toBe('not-comparable');
  });

  test('takes the core of a heat run, which is kept behind its winding', () => {
    const { results } = warmed(2, [{ rises: [60, 40] }, { rises: [90], loadAmps: 6 }]);
    expect(noLoadHeat(results)?.resultId).toBe(202);
    expect(noLoadHeat([])).toBeUndefined();
  });
});

test('of a sweep the point nearest to the line counts, the newest of those that are as good as there', () => {
  const point = (resultId: number, volts: number): Result => {
    const [result] = record({ number: resultId, volts }).results;
    if (result === undefined) throw new Error('The fixture has a result.');
    return result;
  };
  const sweep = [point(1, 251), point(2, 230.3), point(3, 229.9), point(4, 138)];
  expect(noLoadNear(sweep, 230)?.resultId).toBe(3);
  expect(noLoadNear(sweep, 120)?.resultId).toBe(4);
  expect(noLoadNear([], 230)).toBeUndefined();
});
