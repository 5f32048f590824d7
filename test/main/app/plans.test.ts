import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { dimmerCore, primary } from '../store/furnish.ts';
import { cutterNeed, cutterPlan } from '../store/plan-fixture.ts';
import { startApp } from './start-app.ts';

/** The program with one core of one winding on its shelf. */
async function withCore() {
  const folder = mkdtempSync(join(tmpdir(), 'turnwright-plans-'));
  const { app, ask, pushes } = startApp(folder);
  onTestFinished(async () => {
    await app.close();
    rmSync(folder, { recursive: true, force: true });
  });
  const { coreId } = await ask('core.save', { fields: dimmerCore });
  const { builds, core } = await ask('core.get', { coreId });
  const buildId = builds[0]?.buildId ?? 0;
  const { windingId } = await ask('winding.save', { buildId, fields: primary });
  const row = (await ask('core.get', { coreId })).builds[0]?.windings[0]?.revisionId ?? 0;
  const rests = { coreRevisionId: core.revisionId, windingRevisionIds: [row], resultIds: [] };
  return { ask, pushes, coreId, buildId, windingId, rests };
}

test('a plan is kept version by version, every page is told, and a corrected core makes those that stood on it stale', async () => {
  const { ask, pushes, coreId, buildId, rests } = await withCore();
  const first = await ask('plan.save', { buildId, fields: cutterPlan(rests) });
  const { planId } = first;
  await ask('plan.save', { planId, buildId, reason: 'runs hot', fields: cutterPlan(rests, { addedTurns: 8 }) });
  expect(pushes.filter((push) => push.kind === 'changed' && push.what === 'plan').length).toBe(2);
  const fresh = await ask('plan.get', { planId });
  expect(fresh.versions.map(({ number, reason, stale }) => [number, reason, stale])).toEqual([
    [1, null, []],
    [2, 'runs hot', []],
  ]);
  await ask('core.save', { coreId, reason: 'read again', fields: { ...dimmerCore, tongue: { value: 30, u: 0.1 } } });
  const [plan] = await ask('plan.list', { coreId });
  expect(plan?.versions.map(({ stale }) => stale.map(({ kind }) => kind))).toEqual([['core'], ['core']]);
  const now = (await ask('core.get', { coreId })).core.revisionId;
  await ask('plan.save', { planId, buildId, fields: cutterPlan({ ...rests, coreRevisionId: now }) });
  const [again] = await ask('plan.list', { coreId });
  expect(again?.versions.map(({ stale }) => stale.length)).toEqual([1, 1, 0]);
});

test('a plan of one build is not made to be another build’s', async () => {
  const { ask, coreId, buildId, rests } = await withCore();
  const { planId } = await ask('plan.save', { buildId, fields: cutterPlan(rests) });
  const next = await ask('build.add', {
    coreId,
    fields: { title: 'rewound', joint: 'as-welded', shunts: 'none' },
    windings: [primary],
  });
  await expect(ask('plan.save', { planId, buildId: next.buildId, fields: cutterPlan(rests) })).rejects.toMatchObject({
    failure: { code: 'bad-input', path: 'buildId' },
  });
});

test('the tally goes up and down by presses, and tells every page', async () => {
  const { ask, pushes, buildId, rests } = await withCore();
  const { planId } = await ask('plan.save', { buildId, fields: cutterPlan(rests) });
  expect(await ask('tally.get', { planId })).toEqual([]);
  for (const turns of [1, 2, 1]) await ask('tally.mark', { planId, output: 'a', turns });
  expect(await ask('tally.get', { planId })).toMatchObject([{ output: 'a', turns: 1 }]);
  expect(pushes.filter((push) => push.kind === 'changed' && push.what === 'tally' && push.id === planId).length).toBe(
    3,
  );
});

test('a need is corrected with a reason only, and told to every page', async () => {
  const { ask, pushes } = await withCore();
  const { needId } = await ask('need.save', { fields: cutterNeed });
  await expect(ask('need.save', { needId, fields: cutterNeed })).rejects.toMatchObject({
    failure: { code: 'bad-input', path: 'reason' },
  });
  await ask('need.save', { needId, reason: 'longer bow', fields: { ...cutterNeed, amps: 11 } });
  expect(await ask('need.list', {})).toMatchObject([{ needId, fields: { amps: 11 } }]);
  await ask('need.retire', { needId, reason: 'sold' });
  expect(await ask('need.list', {})).toEqual([]);
  expect(pushes.filter((push) => push.kind === 'changed' && push.what === 'need').length).toBe(3);
});
