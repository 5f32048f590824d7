import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { App } from '../../../src-main/app.ts';
import type { Answer } from '../../../src-shared/calculation/answer.ts';
import type { ResultsOf } from '../../../src-shared/calculation/table.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import { demonstrationTruth } from '../../../src-shared/practice/demonstration.ts';
import { confirmAll, shelve, tell, type Ask } from '../../walk.ts';
import { handClock, type HandClock } from './hand-clock.ts';
import { startApp } from './start-app.ts';

let folder: string;
let clock: HandClock;
let app: App;
let ask: Ask;
let pushes: Push[];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-practice-'));
  clock = handClock();
  ({ app, ask, pushes } = startApp(folder, clock));
});
afterEach(async () => {
  await app.close();
  rmSync(folder, { recursive: true, force: true });
});

const source = { kind: 'isolated-low-voltage', volts: 24, hertz: 50, earthed: 'floating', rcd: 'no' } as const;
const acRange = 2;
const dcRange = 5;

/** The demonstration laid out, and the first core with its primary. */
async function layOut() {
  const { coreIds, meterIds } = await ask('practice.lay-out', {});
  const coreId = coreIds[0] ?? 0;
  const build = (await ask('core.get', { coreId })).builds[0];
  const primary = build?.windings.find(({ fields }) => fields.role === 'primary');
  return { coreIds, coreId, meterIds, buildId: build?.buildId ?? 0, windingId: primary?.windingId ?? 0 };
}

const setUp = (meterIds: readonly number[]) =>
  ask('bench.set-up', {
    procedure: 'test-coil',
    channels: [
      { channel: 'primary-volts', meterId: meterIds[0] ?? 0, lockedRange: 2 },
      { channel: 'coil-volts', meterId: meterIds[1] ?? 0, lockedRange: null },
    ],
  });

/** Proves dead with the first practice meter, as its readings come. */
async function proveDead(meterId: number) {
  for (const checkId of ['pd-plug', 'pd-cap', 'pd-lead'] as const)
    await tell(ask, { kind: 'check-confirmed', checkId });
  const instrument = { kind: 'meter', meterId, acRange, dcRange, knownAcVolts: 24, knownDcVolts: 36 } as const;
  let view = await tell(ask, { kind: 'proof-started', instrument });
  while (view.state.proofInProgress !== null) {
    const { readings, steps } = view.state.proofInProgress;
    const next = steps[readings.length];
    clock.pass(2000);
    const { meters } = await ask('app.present', {});
    const last = meters.find((meter) => meter.meterId === meterId)?.state.last;
    expect(last).toMatchObject({ kind: 'number', coupling: next?.coupling, origin: 'practice' });
    view = await tell(ask, {
      kind: 'proof-step',
      step: readings.length,
      result: {
        kind: 'volts',
        volts: last?.value ?? Number.NaN,
        coupling: last?.coupling ?? 'ac',
        meterId,
        range: last?.rangeIndex ?? null,
        lowImpedance: false,
      },
    });
  }
  return view;
}

it('lays the demonstration out once, invented for good', async () => {
  const first = await layOut();
  expect(await layOut()).toEqual(first);
  expect(first).toMatchObject({ coreIds: [1, 2], meterIds: [1, 2] });
  const { core } = await ask('core.get', { coreId: first.coreId });
  const { demonstration, ...said } = core.fields;
  expect(demonstration).toBe('dimmer-a');
  await ask('core.save', { coreId: first.coreId, reason: 'another name', fields: { ...said, label: 'Renamed' } });
  await ask('core.save', { fields: { label: 'A real one', shape: 'shell', demonstration: 'dimmer-b' } });
  const cores = (await ask('core.list', {})).map((one) => one.core.fields);
  expect(cores.map(({ label, demonstration: id }) => [label, id])).toEqual([
    ['Renamed', 'dimmer-a'],
    ['Dimmer core B', 'dimmer-b'],
    ['A real one', undefined],
  ]);
});

it('finds the turns of an invented core with the practice pair, and marks everything as practice', async () => {
  const { coreId, meterIds, buildId, windingId } = await layOut();
  const session = await ask('session.open', {
    fields: { buildId, supply: source, fedWindingId: windingId, who: 'Rowan' },
  });
  expect(session.practice).toBe(true);
  await setUp(meterIds);
  const proved = await proveDead(meterIds[0] ?? 0);
  expect(proved.state).toMatchObject({ kind: 'isolated', lastProof: { practice: true } });
  // The meters read the circuit again before anything is made ready.
  clock.pass(1500);
  await confirmAll(ask);
  await tell(ask, { kind: 'ready-asked' });
  await tell(ask, { kind: 'power-on-begun' });
  clock.pass(1100);
  expect((await tell(ask, { kind: 'power-on-confirmed' })).state.kind).toBe('live');
  const run = await ask('run.start', {});
  expect(run.practice).toBe(true);
  clock.pass(8000);
  await ask('pair.keep', { runId: run.runId, coilTurns: 10, swapped: false });
  await ask('practice.exchange', { exchanged: true });
  clock.pass(8000);
  await ask('pair.keep', { runId: run.runId, coilTurns: 10, swapped: true });
  const { soFar } = await ask('run.get', { runId: run.runId });
  const { primaryTurns } = (soFar as Answer<ResultsOf['test-coil']> & { ok: true }).results;
  const truth = demonstrationTruth('dimmer-a').turns.primary;
  expect(Math.abs(primaryTurns.value - truth)).toBeLessThan(2 * (primaryTurns.u ?? 0));
  const result = await ask('result.keep', { runId: run.runId });
  await ask('result.apply', { resultId: result.resultId, windingId });
  await tell(ask, { kind: 'power-off' });
  await ask('run.end', { runId: run.runId });
  const whole = await ask('core.get', { coreId });
  expect(whole.runs.map(({ practice }) => practice)).toEqual([true]);
  expect(pushes.filter(({ kind }) => kind === 'readings').length).toBeGreaterThan(10);
});

it('keeps a hidden fault in the record of the run, and tells it there only when it is asked', async () => {
  const { meterIds, buildId, windingId } = await layOut();
  await ask('session.open', { fields: { buildId, supply: source, fedWindingId: windingId, who: 'Rowan' } });
  await setUp(meterIds);
  expect((await ask('practice.hide', {})).controls.fault).toBe('none');
  const { runId } = await ask('run.start', {});
  const written = async () =>
    (await ask('run.get', { runId })).events.filter(({ kind }) => kind.startsWith('practice'));
  const [bench] = await written();
  expect(bench).toMatchObject({
    kind: 'practice-bench',
    body: { isHidden: true, text: 'Practice bench: one fault is hidden in it.' },
  });
  await app.close();
  ({ app, ask, pushes } = startApp(folder, clock));
  expect((await ask('practice.get', {})).hiding).toEqual({ kind: 'hidden' });
  const told = await ask('practice.tell', {});
  const events = await written();
  expect(events.map(({ kind }) => kind)).toEqual(['practice-bench', 'practice-told']);
  const hiding = told.hiding.kind === 'told' ? told.hiding : null;
  expect(bench?.body).toMatchObject({ fault: hiding?.fault });
  const { happenings } = await ask('run.facts', { runId });
  expect(happenings.map(({ text }) => text)).toContainEqual(expect.stringMatching(/^What was hidden: /));
});

it('never lets a practice meter watch over a real bench, nor prove it dead', async () => {
  const { meterIds } = await layOut();
  const { buildId, windingId } = await shelve(ask);
  const session = await ask('session.open', {
    fields: { buildId, supply: source, fedWindingId: windingId, who: 'Rowan' },
  });
  expect(session.practice).toBe(false);
  await expect(setUp(meterIds)).rejects.toMatchObject({ failure: { detail: { code: 'practice-meter' } } });
  for (const checkId of ['pd-plug', 'pd-cap', 'pd-lead'] as const)
    await tell(ask, { kind: 'check-confirmed', checkId });
  const instrument = { kind: 'meter', meterId: meterIds[0] ?? 0, acRange, dcRange, knownAcVolts: 24, knownDcVolts: 36 };
  await expect(
    tell(ask, { kind: 'proof-started', instrument: { ...instrument, kind: 'meter' } }),
  ).rejects.toMatchObject({ failure: { detail: { code: 'practice-does-not-count' } } });
});
