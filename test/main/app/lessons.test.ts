import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { App } from '../../../src-main/app.ts';
import type { Answers } from '../../../src-shared/procedure/field.ts';
import { controlsAtFirst, type PracticeControls } from '../../../src-shared/practice/controls.ts';
import type { LessonId } from '../../../src-shared/practice/lesson/lesson.ts';
import { rewound } from '../../../src-shared/record/rewound.ts';
import type { SupplyKind } from '../../../src-shared/record/session.ts';
import { confirmAll, proveDead, tell, type Ask } from '../../walk.ts';
import { handClock, type HandClock } from './hand-clock.ts';
import { startApp } from './start-app.ts';
import { refusedWith } from './workbench.ts';

let folder: string;
let clock: HandClock;
let app: App;
let ask: Ask;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-lessons-'));
  clock = handClock();
  ({ app, ask } = startApp(folder, clock));
  await ask('practice.lay-out', {});
  await ask('practice.more-meters', {});
});
afterEach(async () => {
  await app.close();
  rmSync(folder, { recursive: true, force: true });
});

const begin = (lessonId: LessonId) => ask('lesson.mark', { lessonId, act: 'begun' });
async function standing(lessonId: LessonId) {
  const { lessons } = await ask('lesson.list', {});
  return lessons.find((one) => one.lessonId === lessonId)?.steps ?? [];
}
/** Which step is next, counted from 0; -1 when none is left. */
const next = async (lessonId: LessonId) => (await standing(lessonId)).indexOf('next');

/** The newest build of the lessons' core, with its primary. */
async function onShelf() {
  const { core } = await ask('lesson.list', {});
  const { builds } = await ask('core.get', { coreId: core?.coreId ?? 0 });
  const build = builds.at(-1);
  const primary = build?.windings.find(({ fields }) => fields.role === 'primary');
  if (build === undefined || primary === undefined) throw new Error('The core of the lessons is laid out.');
  return { coreId: core?.coreId ?? 0, build, primary };
}

async function openSession(kind: SupplyKind, volts: number): Promise<void> {
  const { build, primary } = await onShelf();
  const supply = { kind, volts, hertz: 50, earthed: 'earthed', rcd: 'yes' } as const;
  await ask('session.open', {
    fields: { buildId: build.buildId, supply, fedWindingId: primary.windingId, ambientCelsius: 21, who: 'Rowan' },
  });
}

async function setUp(procedure: string, channels: Readonly<Record<string, string>>, answers: Answers = {}) {
  const { meters } = await ask('app.present', {});
  await ask('bench.set-up', {
    procedure,
    channels: Object.entries(channels).map(([channel, label]) => ({
      channel,
      meterId: meters.find(({ description }) => description.label === label)?.meterId ?? 0,
      lockedRange: null,
    })),
    answers,
  });
  clock.pass(1500);
}

async function powerOn(): Promise<number> {
  await confirmAll(ask);
  await tell(ask, { kind: 'ready-asked' });
  await tell(ask, { kind: 'power-on-begun' });
  clock.pass(1100);
  await tell(ask, { kind: 'power-on-confirmed' });
  const { runId } = await ask('run.start', {});
  clock.pass(8000);
  return runId;
}

const set = (controls: Partial<PracticeControls>) =>
  ask('practice.set', { controls: { ...controlsAtFirst, ...controls } });
const pair = { 'primary-volts': 'Practice bench meter', 'coil-volts': 'Practice pocket meter' };
const bench = { 'primary-volts': 'Practice bench meter', 'line-amps': 'Practice ammeter' };

it('follows a lesson by what the record and the guard say, over leaving it and over a restart', async () => {
  expect(await standing('low-coil')).toEqual([]);
  expect(await refusedWith(ask('lesson.mark', { lessonId: 'low-coil', act: 'taken-up' }))).toMatchObject({
    code: 'not-found',
  });
  expect((await begin('low-coil')).inHand).toBe('low-coil');
  // Nothing else is open, so its first step is done; the session is next.
  expect(await next('low-coil')).toBe(1);
  await openSession('isolated-low-voltage', 24);
  expect(await next('low-coil')).toBe(2);
  await setUp('test-coil', pair);
  expect(await next('low-coil')).toBe(3);
  await proveDead(ask);
  expect(await next('low-coil')).toBe(4);
  // A proof that ended is asked for again.
  await tell(ask, { kind: 'changed', what: ['wiring'] });
  expect(await next('low-coil')).toBe(3);
  await proveDead(ask);
  const runId = await powerOn();
  expect(await next('low-coil')).toBe(6);
  await ask('pair.keep', { runId, coilTurns: 10, swapped: false });
  await ask('practice.exchange', { exchanged: true });
  clock.pass(8000);
  await ask('pair.keep', { runId, coilTurns: 10, swapped: true });
  expect(await next('low-coil')).toBe(8);
  expect(await refusedWith(ask('lesson.found', { lessonId: 'low-coil' }))).toMatchObject({ code: 'not-found' });
  await ask('lesson.mark', { lessonId: 'low-coil', act: 'left' });
  await tell(ask, { kind: 'power-off' });

  await app.close();
  ({ app, ask } = startApp(folder, clock));
  expect(await ask('lesson.list', {})).toMatchObject({ inHand: null });
  // What was kept is kept: the turns on the primary are next.
  expect(await next('low-coil')).toBe(9);
  await ask('lesson.mark', { lessonId: 'low-coil', act: 'taken-up' });
  const { resultId } = await ask('result.keep', { runId });
  const { primary } = await onShelf();
  await ask('result.apply', { resultId, windingId: primary.windingId });
  expect(await standing('low-coil')).toEqual(Array.from({ length: 11 }, () => 'done'));
  const rows = await ask('lesson.found', { lessonId: 'low-coil' });
  expect(rows).toMatchObject([{ truth: 312, unit: '', holds: true }]);
  expect(rows[0]?.low).toBeGreaterThan(300);
  expect(rows[0]?.high).toBeLessThan(324);
});

it('walks from the sweep to the comparison, and every interval holds the truth of the bench as it was', async () => {
  const { primary } = await onShelf();
  const estimated = { kind: 'estimated', value: 312.3, u: 1, resultId: null } as const;
  await ask('winding.save', {
    buildId: (await onShelf()).build.buildId,
    windingId: primary.windingId,
    reason: 'measured',
    fields: { ...primary.fields, turns: estimated },
  });

  await begin('sweep');
  await set({ line: 'steady' });
  await openSession('variable-transformer', 260);
  await setUp('no-load-sweep', bench, { turnsAdded: 'no', temporaryTurns: 'no', expectedAmps: 0.8 });
  await proveDead(ask);
  let runId = await powerOn();
  for (const supplyPercent of [30, 60, 80, 95]) {
    await set({ line: 'steady', supplyPercent });
    clock.pass(8000);
    await ask('point.keep', { runId, fields: { turns: 312 } });
  }
  await tell(ask, { kind: 'power-off' });
  await ask('result.keep', { runId });
  await ask('run.end', { runId });
  expect(await next('sweep')).toBe(-1);
  const swept = await ask('lesson.found', { lessonId: 'sweep' });
  expect(swept.map(({ unit, holds }) => [unit, holds])).toEqual([...swept].map(() => ['A', true]));
  expect(swept.length).toBeGreaterThanOrEqual(4);

  await begin('heat-run');
  // The knob stays where the sweep left it: the mains have none.
  await set({ line: 'steady', timeFactor: 300, supplyPercent: 95 });
  // The session of the sweep is of another supply.
  expect(await next('heat-run')).toBe(2);
  await ask('session.end', {});
  await openSession('mains', 230);
  await setUp(
    'heat-run',
    { ...bench, 'core-temperature': 'Practice thermometer' },
    { insulationClass: 'unknown', byResistance: 'no', turnsAdded: 'no', expectedAmps: 0.8 },
  );
  await proveDead(ask);
  runId = await powerOn();
  clock.pass(8000);
  expect(await next('heat-run')).toBe(8);
  clock.pass(6000);
  expect(await next('heat-run')).toBe(9);
  await tell(ask, { kind: 'power-off' });
  await ask('result.keep', { runId });
  await ask('run.end', { runId });
  expect(await next('heat-run')).toBe(12);
  await set({ line: 'steady' });
  const heated = await ask('lesson.found', { lessonId: 'heat-run' });
  expect(heated).toMatchObject([{ unit: '°C', holds: true }]);
  // Warm, not burning: some 25 K over a room of 21 °C.
  expect(heated[0]?.truth).toBeGreaterThan(40);

  await begin('add-turns');
  expect(await next('add-turns')).toBe(3);
  const { coreId, build } = await onShelf();
  const windings = build.windings.map(({ fields }) => (fields.role === 'primary' ? rewound(fields, 40) : fields));
  await ask('build.add', {
    coreId,
    fields: { ...build.fields, title: '40 turns added' },
    windings: windings.filter((one) => one !== null),
  });
  expect(await next('add-turns')).toBe(4);
  await ask('session.end', {});
  await openSession('mains', 230);
  await setUp('no-load', bench, { turnsAdded: 'yes', addedTurns: 40, expectedAmps: 0.3 });
  await proveDead(ask);
  runId = await powerOn();
  clock.pass(8000);
  await ask('point.keep', { runId, fields: {} });
  await tell(ask, { kind: 'power-off' });
  await ask('result.keep', { runId });
  await ask('run.end', { runId });
  // What the bench said of it goes with the run.
  const { faults } = await ask('run.facts', { runId });
  expect(faults).toMatchObject([{ title: expect.stringMatching(/A where 0\.3 A was expected/), isAsExpected: true }]);
  expect(await next('add-turns')).toBe(-1);
  expect(await ask('lesson.found', { lessonId: 'add-turns' })).toMatchObject([{ holds: true }]);

  await begin('compare');
  expect(await next('compare')).toBe(1);
  await ask('lesson.mark', { lessonId: 'compare', act: 'compared' });
  const compared = await ask('lesson.found', { lessonId: 'compare' });
  expect(compared.map(({ what, holds }) => [what.replace(/,? at .*/, ''), holds])).toEqual([
    ['Build 1: no-load current', true],
    ['Build 2: no-load current', true],
    ['By how much the current fell', true],
  ]);
});

it('ends the lesson of making it dead with what the practice meter read on the circuit', async () => {
  await begin('make-dead');
  await openSession('isolated-low-voltage', 24);
  await setUp('test-coil', pair);
  // An indicator proves it as well, but reads nothing that could be shown.
  await proveDead(ask);
  expect(await next('make-dead')).toBe(3);
  await tell(ask, { kind: 'changed', what: ['wiring'] });
  for (const checkId of ['pd-plug', 'pd-cap', 'pd-lead'] as const)
    await tell(ask, { kind: 'check-confirmed', checkId });
  const { meters } = await ask('app.present', {});
  const meterId = meters.find(({ description }) => description.label === 'Practice bench meter')?.meterId ?? 0;
  let view = await tell(ask, {
    kind: 'proof-started',
    instrument: { kind: 'meter', meterId, acRange: 2, dcRange: 5, knownAcVolts: 24, knownDcVolts: 36 },
  });
  while (view.state.proofInProgress !== null) {
    clock.pass(3000);
    const { readings } = view.state.proofInProgress;
    const last = (await ask('app.present', {})).meters.find((meter) => meter.meterId === meterId)?.state.last;
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
  expect(await next('make-dead')).toBe(-1);
  expect(await ask('lesson.found', { lessonId: 'make-dead' })).toMatchObject([{ unit: 'V', low: 0, holds: true }]);
});
