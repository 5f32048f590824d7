import { describe, expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { predictedRows } from '../../../src-shared/comparison/predicted.ts';
import type { BuildRecord } from '../../../src-shared/comparison/build-record.ts';
import { observe, type PracticeBench } from '../../../src-shared/practice/observed.ts';
import type { PlanVersion } from '../../../src-shared/record/plan.ts';
import { cutterPlan } from '../../main/store/plan-fixture.ts';
import { stiffBench } from '../practice/given.ts';
import { record, sweep } from './given.ts';

const more: PracticeBench = { ...stiffBench, added: { turns: 20, ohms20: 0.1, opposed: false } };
const ampsOf = (bench: PracticeBench) => observe(bench)?.lineAmps.rms ?? NaN;
const rests = { coreRevisionId: 1, windingRevisionIds: [], resultIds: [] };
const version = (fields: Partial<PlanVersion['fields']>): PlanVersion => ({
  planId: 1,
  revisionId: 1,
  number: 2,
  replaces: null,
  reason: null,
  wallMs: 0,
  fields: cutterPlan(rests, fields),
});

const before: BuildRecord = (() => {
  const given = record({ number: 2, turns: 320, amps: ampsOf(stiffBench) });
  return { ...given, results: [...given.results, { ...sweep(stiffBench, 320), resultId: 100, buildId: 2 }] };
})();
const after = (bench: PracticeBench, calculation?: string, input?: unknown): BuildRecord => {
  const given = record({ number: 3, turns: 340, amps: ampsOf(bench) });
  const [first] = given.results;
  if (first === undefined || calculation === undefined) return given;
  const output: unknown = JSON.parse(JSON.stringify(calculate(calculation, input)));
  return { ...given, results: [...given.results, { ...first, resultId: 200, calculation, input, output }] };
};

describe('what the curve of the build before says of the build after', () => {
  it('holds the truth of the simulation for turns that were added as said', () => {
    const [row] = predictedRows(before, after(more), null);
    expect(row).toMatchObject({
      name: 'No-load current at 230 V',
      kind: 'as-predicted',
      from: 'the curve of build 2, with 20 more turns',
    });
    const [low, high] = row?.interval ?? [NaN, NaN];
    expect(high - low).toBeLessThan(0.3 * (row?.predicted.value ?? 0));
  });

  it('is not as predicted where the turns were wound the wrong way round', () => {
    const opposed = { ...more, added: { turns: 20, ohms20: 0.1, opposed: true } };
    const [row] = predictedRows(before, after(opposed), null);
    expect(row).toMatchObject({ kind: 'not-as-predicted', verdict: 'not as predicted' });
  });

  it('is silent for another core, and without a curve', () => {
    const given = after(more);
    expect(predictedRows(before, { ...given, build: { ...given.build, coreId: 9 } }, null)).toEqual([]);
    expect(predictedRows(record({ number: 2 }), given, null)).toEqual([]);
  });
});

describe('what was planned beside what was measured', () => {
  const noLoad = { amps: { value: ampsOf(more), u: 0.02 }, watts: null, ampsIfOpposing: null };
  const named = (rows: ReturnType<typeof predictedRows>) =>
    Object.fromEntries(rows.map(({ name, kind, outcome }) => [name, [kind, outcome?.value.toFixed(2) ?? null]]));

  it('takes the volts of the output from the loaded run, at the planned amps and line', () => {
    const points = [0.1, 5, 9].map((amps) => ({
      amps,
      volts: { value: (25.1 - 0.11 * amps) * (225 / 230), u: 0.03 },
      primaryVolts: 225,
    }));
    const loaded = after(more, 'loaded-run', { points, referenceVolts: 230, hertz: 50 });
    expect(named(predictedRows(before, loaded, version({ noLoad })))).toEqual({
      'No-load current at 230 V': ['as-predicted', ampsOf(more).toFixed(2)],
      // Planned are 25 ± 0.1 V and 24 ± 0.2 V; measured 25.1 V, and 25.1 − 9.5 × 0.11 V.
      'Cutter: volts with no load': ['as-predicted', '25.10'],
      'Cutter: volts at 9.5 A': ['as-predicted', '24.06'],
    });
  });

  it('takes the open volts from a no-load point, and says what was not measured', () => {
    const input = {
      winding: 'Cutter',
      measuredVolts: { value: 23.9, u: 0.05 },
      primaryVolts: { value: 230, u: 0.5 },
      nominalVolts: 230,
      turns: 22,
      targetVolts: 24,
    };
    expect(named(predictedRows(before, after(more, 'adjust-turns', input), version({ noLoad })))).toMatchObject({
      'Cutter: volts with no load': ['not-as-predicted', '23.90'],
      'Cutter: volts at 9.5 A': ['not-measured', null],
    });
  });
});

describe('the heat that was planned', () => {
  const points = [0, 600, 1200, 2400, 3600, 7200].map((seconds) => ({
    seconds,
    celsius: { value: 22 - 31 * Math.expm1(-seconds / 2400), u: 0.2 },
  }));
  const heat = { noLoad: { value: 30, u: 2 }, loaded: { value: 44, u: 3 } };
  const warmed = (procedure: string, channel: string): BuildRecord => {
    const given = after(more, 'heat-run', { points, ambientCelsius: { value: 22, u: 0.2 } });
    const [first] = given.runs;
    if (first === undefined) throw new Error('The build has a run.');
    const channels = [{ channel, unit: '°C', meterId: 7, meterRevisionId: 1, lockedRange: null }];
    return {
      ...given,
      results: given.results.map((each) => (each.calculation === 'heat-run' ? { ...each, runId: 50 } : each)),
      runs: [first, { ...first, runId: 50, procedure, channels }],
    };
  };
  const rises = (record: BuildRecord, fields: Partial<PlanVersion['fields']> = { heat }) =>
    predictedRows(before, record, version(fields))
      .filter(({ name }) => name.startsWith('Rise'))
      .map(({ name, kind, outcome }) => [name, kind, outcome?.value.toFixed(0) ?? null]);

  it('stands beside the heat run of the build; a load that was not measured stays so', () => {
    expect(rises(warmed('heat-run', 'core-temperature'))).toEqual([
      ['Rise of the core with no load', 'as-predicted', '31'],
      ['Rise of the core, loaded', 'not-measured', null],
    ]);
  });

  it('is not held against a winding, nor a rise with no load against a loaded run', () => {
    const unmeasured = [
      ['Rise of the core with no load', 'not-measured', null],
      ['Rise of the core, loaded', 'not-measured', null],
    ];
    expect(rises(warmed('heat-run', 'winding-temperature'))).toEqual(unmeasured);
    expect(rises(warmed('loaded-run', 'core-temperature'))).toEqual(unmeasured);
  });

  it('is silent where the plan told of none', () => {
    const record = warmed('heat-run', 'core-temperature');
    expect(rises(record, {})).toEqual([]);
    expect(rises(record, { heat: { noLoad: null, loaded: null } })).toEqual([]);
  });
});
