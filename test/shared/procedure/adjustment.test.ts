import { describe, expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { loadedRun } from '../../../src-shared/procedure/loaded-run.ts';
import type { RunMaterial, WantedOutput } from '../../../src-shared/procedure/material.ts';
import { noLoad } from '../../../src-shared/procedure/no-load.ts';
import type { Winding, WindingFields } from '../../../src-shared/record/build.ts';
import type { KeptValue } from '../../../src-shared/record/run.ts';

const winding = (windingId: number, label: string, role: WindingFields['role'], turns: number): Winding => ({
  windingId,
  revisionId: windingId,
  replaces: null,
  reason: null,
  wallMs: 0,
  fields: { label, role, turns: { kind: 'counted', turns }, metal: 'copper', oneEndOnCore: 'no', onPlug: false },
});
const value = (channel: string, reads: number, u: number): KeptValue => ({
  channel,
  value: reads,
  u,
  shape: 'rectangular',
  dof: null,
  shared: null,
  unit: channel.endsWith('amps') ? 'A' : 'V',
  readingIds: [1],
  meterId: 1,
  rangeIndex: 0,
  bottomOfRange: false,
});
const wanted: WantedOutput = {
  label: '24 V output',
  loadVolts: 24,
  loadAmps: 6,
  dropVolts: { value: 1.6, u: 0.2 },
  lineVolts: 230,
};
const reads = (values: Readonly<Record<string, number>>) => ({
  atMs: 0,
  fields: {},
  values: Object.entries(values).map(([channel, reading]) => value(channel, reading, 0.002 * reading)),
});
const material = (more: Partial<RunMaterial>): RunMaterial => ({
  supply: { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes' },
  fedWindingId: 1,
  ambientCelsius: 21,
  core: { label: 'Dimmer core A', shape: 'shell', fromVolts: 230 },
  windings: [winding(1, 'Primary', 'primary', 412), winding(2, '24 V output', 'secondary', 44)],
  answers: {},
  points: [],
  series: {},
  onAtMs: 0,
  offAtMs: null,
  responding: {},
  earlierNoLoad: null,
  wanted: [wanted],
  ...more,
});
/** What the run comes to besides, worked out. */
function besides({ work }: typeof noLoad, given: RunMaterial) {
  const found = work(given);
  if (found.kind === 'waiting') throw new Error(found.sentence);
  const main = calculate(found.main.calculation, found.main.input);
  return (found.besides?.(main.ok ? main.results : null) ?? []).map(({ calculation, input }) => ({
    calculation,
    input,
    answer: calculate(calculation, input),
  }));
}
const open = { 'primary-volts': 224, 'line-amps': 0.4, 'secondary-volts': 23.9 };

describe('after a no-load point with the output read', () => {
  it('judges the turns at the planned line volts: a low line wants none', () => {
    // 44 turns of 412 give 24.56 V on 230 V; planned are 24 V at load with 1.6 V of drop, 25.6 V with nothing on it.
    const [found] = besides(noLoad, material({ points: [reads(open)] }));
    expect(found).toMatchObject({
      calculation: 'adjust-turns',
      input: { winding: '24 V output', nominalVolts: 230, targetVolts: 24, dropVolts: { value: 1.6, u: 0.2 } },
      answer: { ok: true, results: { turnsToAdd: 2, worthwhile: true } },
    });
    const enough = besides(noLoad, material({ points: [reads({ ...open, 'secondary-volts': 24.93 })] }));
    expect(enough[0]?.answer).toMatchObject({ ok: true, results: { turnsToAdd: 0, worthwhile: false } });
  });

  it('takes what was answered at set-up where no plan was followed, and says nothing without either', () => {
    const points = [reads(open)];
    const asked = besides(noLoad, material({ points, wanted: [], answers: { wantedVolts: 26.2 } }));
    expect(asked[0]?.answer).toMatchObject({ ok: true, results: { turnsToAdd: 3 } });
    expect(besides(noLoad, material({ points, wanted: [] }))).toEqual([]);
    expect(besides(noLoad, material({ points: [reads({ 'primary-volts': 230, 'line-amps': 0.4 })] }))).toEqual([]);
  });

  it('tells by the volts which of two outputs was read, and guesses at none that are alike', () => {
    const [primary, first] = material({}).windings;
    if (primary === undefined || first === undefined) throw new Error('The windings are given above.');
    const two = (turns: number) => [primary, winding(3, 'Fan', 'secondary', turns), first];
    const points = [reads(open)];
    expect(besides(noLoad, material({ points, windings: two(22) }))[0]?.input).toMatchObject({
      winding: '24 V output',
    });
    expect(besides(noLoad, material({ points, windings: two(45) }))).toEqual([]);
  });
});

it('under load judges with the drop that was measured at the planned amps', () => {
  const at = (amps: number) =>
    reads({ 'secondary-amps': amps, 'secondary-volts': 24.6 - 0.5 * amps, 'primary-volts': 230 });
  const [found] = besides(loadedRun, material({ points: [at(0.1), at(3), at(6)] }));
  // 24.6 V less 6 A x 0.5 ohm is 21.6 V where 24 V were planned; a turn gives 21.6 / 44 = 0.491 V.
  expect(found?.answer).toMatchObject({ ok: true, results: { turnsToAdd: 5, worthwhile: true } });
  expect(besides(loadedRun, material({ wanted: [], points: [at(0.1), at(6)] }))).toEqual([]);
});
