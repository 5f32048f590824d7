import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { App } from '../../../src-main/app.ts';
import { noResult } from '../../../src-shared/report/no-result.ts';
import type { Answer } from '../../../src-shared/calculation/answer.ts';
import type { ResultsOf } from '../../../src-shared/calculation/table.ts';
import { controlsAtFirst, type PracticeControls } from '../../../src-shared/practice/controls.ts';
import { tell, type Ask } from '../../walk.ts';
import { readCsv } from '../../shared/report/csv-reader.ts';
import { handClock, type HandClock } from './hand-clock.ts';
import { practisedHeatRun } from './practised-heat-run.ts';
import { startApp } from './start-app.ts';
import { mains, refusedWith } from './workbench.ts';

const timeFactor = 300;

let folder: string;
let clock: HandClock;
let app: App;
let ask: Ask;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-time-'));
  clock = handClock();
  ({ app, ask } = startApp(folder, clock));
});
afterEach(async () => {
  await app.close();
  rmSync(folder, { recursive: true, force: true });
});

const set = (controls: Partial<PracticeControls>) =>
  ask('practice.set', { controls: { ...controlsAtFirst, ...controls } });

/** The file that an export leaves beside the record. */
async function exported(runId: number, what: 'readings-csv' | 'run-sheet'): Promise<string> {
  const { exportId } = await ask('export.start', { asked: { what, runId } });
  for (;;) {
    const fetched = await ask('export.fetch', { exportId }).catch(() => null);
    if (fetched?.kind === 'saved') return readFileSync(fetched.file, 'utf8');
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

it('practises a heat run in simulated time, and says so of its record, its results and its files', async () => {
  await set({ timeFactor });
  const { runId } = await practisedHeatRun(ask, clock);
  // Twenty seconds by the clock: 100 min of the practised core, more than two of its time constants.
  clock.pass(20_000);
  const { run, soFar } = await ask('run.get', { runId });
  expect(run).toMatchObject({ practice: true, timeFactor });
  const found = (soFar as Answer<ResultsOf['heat-run']> & { ok: true }).results;
  // The slower of the two times of the invented core, by its matrix: 2443 s. One body is fitted to two.
  expect(found.timeConstant.value).toBeGreaterThan(2000);
  expect(found.timeConstant.value).toBeLessThan(2900);
  const facts = await ask('run.facts', { runId });
  expect(facts.lastMs).toBeGreaterThan(19_000 * timeFactor);
  expect(facts.lastMs).toBeLessThanOrEqual(20_000 * timeFactor);
  await ask('result.keep', { runId });
  await tell(ask, { kind: 'power-off' });
  await ask('run.end', { runId });
  const off = (await ask('run.facts', { runId })).happenings.find(({ word }) => word === 'Power off');
  expect(off?.atMs).toBeCloseTo(20_000 * timeFactor, 3);

  const rows = readCsv((await exported(runId, 'readings-csv')).replace('\ufeff', ''));
  const [head = [], ...lines] = rows;
  const seconds = head.indexOf('since start (simulated s)');
  expect(Number(lines.at(-1)?.[seconds])).toBeGreaterThan(19 * timeFactor);
  expect(new Set(lines.map((line) => line[head.indexOf('times faster than the clock')]))).toEqual(new Set(['300']));
  expect(new Set(lines.map((line) => line[head.indexOf('practice')]))).toEqual(new Set(['yes']));
  const sheet = await exported(runId, 'run-sheet');
  const said = 'simulated time, 300 times faster than the clock';
  expect(sheet).toContain(`Its times are ${said}.`);
  // At the head, with the length, among the conditions, and in both charts.
  expect(sheet.split(said).length - 1).toBe(5);
  expect(sheet).toContain('Since the start (simulated)');
});

it('says on the sheet of a heat run that was broken off why it has no result, as its page does', async () => {
  await set({ timeFactor });
  const { runId } = await practisedHeatRun(ask, clock);
  // Half an hour of the practised core: too short for its temperature to bend.
  clock.pass(6000);
  await tell(ask, { kind: 'power-off' });
  await ask('run.end', { runId });
  const { soFar, waitingFor } = await ask('run.get', { runId });
  const said = noResult('heat-run', soFar, waitingFor, true);
  expect(said).toMatchObject({ title: 'No result was kept', fit: { title: 'No final value' } });
  const sheet = await exported(runId, 'run-sheet');
  expect(sheet).toContain('<h2>No result was kept</h2>');
  for (const text of [said?.fit?.title, said?.fit?.text]) expect(sheet).toContain(text);
});

it('keeps the time of a run from its start to its end, and what it is after a restart', async () => {
  await set({ timeFactor });
  const { runId } = await practisedHeatRun(ask, clock);
  expect(await refusedWith(set({ timeFactor: 1 }))).toMatchObject({ code: 'run-open', path: 'controls.timeFactor' });
  // Anything else may be set meanwhile.
  await set({ timeFactor, loadOhms: 1 });
  await tell(ask, { kind: 'power-off' });
  await ask('run.end', { runId });
  await set({});
  await app.close();
  ({ app, ask } = startApp(folder, clock));
  expect((await ask('run.get', { runId })).run.timeFactor).toBe(timeFactor);
});

it('never simulates the time of a real bench', async () => {
  await set({ timeFactor });
  const { coreId } = await ask('core.save', { fields: { label: 'A real one', shape: 'shell' } });
  const { builds } = await ask('core.get', { coreId });
  const session = await ask('session.open', {
    fields: { buildId: builds[0]?.buildId ?? 0, supply: mains, fedWindingId: null, who: 'Rowan' },
  });
  expect(session.practice).toBe(false);
  const { meterId } = await ask('meter.save', {
    description: {
      kind: 'keyboard',
      label: 'Ohmmeter',
      responding: 'unknown',
      ranges: [],
      scales: [],
      maxVolts: 600,
      category: null,
      typicalIntervalMs: 500,
    },
  });
  const { state } = await ask('bench.set-up', {
    procedure: 'insulation-resistance',
    channels: [{ channel: 'insulation-ohms', meterId, lockedRange: null }],
    answers: {},
  });
  expect(state.setUp?.timeFactor).toBeUndefined();
  expect((await ask('run.start', {})).timeFactor).toBeUndefined();
});
