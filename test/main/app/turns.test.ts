import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Answer } from '../../../src-shared/calculation/answer.ts';
import type { ResultsOf } from '../../../src-shared/calculation/table.ts';
import type { Outcome } from '../../../src-shared/contract/failure.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import { createApp, type App } from '../../../src-main/app.ts';
import {
  confirmAll,
  powerOn,
  proveDead,
  serialMeter,
  setUpOnMains,
  shelve,
  tell,
  typed,
  typedMeter,
  type Ask,
} from '../../walk.ts';
import { openPtyPair, type PtyPair } from '../meter/pty-pair.ts';

let folder: string;
let app: App;
let pushes: Push[];
let ask: Ask;
let pairs: PtyPair[];
let streaming: NodeJS.Timeout[];
let hasPower: boolean;

const start = () => {
  const created = createApp({ folder, version: '0.1.0', warning: null, log: () => undefined });
  if (!created.ok) throw new Error(created.failure.message);
  app = created.value;
  pushes = [];
  app.subscribe((push) => pushes.push(push));
  ask = typed(async (name, input) => {
    const service = app.services[name] as (given: unknown) => Outcome<unknown> | Promise<Outcome<unknown>>;
    const outcome = await service(input);
    if (!outcome.ok) throw Object.assign(new Error(outcome.failure.message), { failure: outcome.failure });
    return outcome.value;
  });
};

/** A meter that sends ten lines a second: the given one while the bench has power, a nought before and after. */
const streams = async (line: string, nought: string): Promise<string> => {
  const pair = await openPtyPair();
  pairs.push(pair);
  streaming.push(setInterval(() => void pair.write(`${hasPower ? line : nought}\r\n`), 100));
  return pair.programEnd;
};

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-app-'));
  pairs = [];
  streaming = [];
  hasPower = false;
  start();
});
afterEach(async () => {
  for (const timer of streaming) clearInterval(timer);
  await app.close();
  for (const pair of pairs) await pair.close();
  rmSync(folder, { recursive: true, force: true });
});

const twoMeters = async () => {
  const primary = await ask('meter.save', {
    description: serialMeter('Bench meter', await streams('118.6 V', '000.0 V')),
  });
  const coil = await ask('meter.save', {
    description: serialMeter('Pocket meter', await streams('+9.870E+00 VAC', '+0.000E+00 VAC')),
  });
  return { primary: primary.meterId, coil: coil.meterId };
};

const turnsOf = (answer: unknown) => (answer as Answer<ResultsOf['test-coil']> & { ok: true }).results.primaryTurns;

it('finds 120.2 turns from two meters on a mains-fed bench, and puts them on the primary', async () => {
  const shelved = await shelve(ask);
  const meters = await twoMeters();
  await setUpOnMains(ask, shelved, meters);
  expect((await proveDead(ask)).state.kind).toBe('isolated');
  await confirmAll(ask);
  expect((await powerOn(ask)).state.kind).toBe('live');
  hasPower = true;
  const run = await ask('run.start', {});
  await new Promise((resolve) => setTimeout(resolve, 4000));
  const pair = await ask('pair.keep', { runId: run.runId, coilTurns: 10, swapped: false });
  expect(pair.primary).toMatchObject({ value: expect.closeTo(118.6, 9), unit: 'V', bottomOfRange: false });
  const { soFar } = await ask('run.get', { runId: run.runId });
  // 10 x 118.6 / 9.87, by hand.
  expect(turnsOf(soFar).value).toBeCloseTo(120.16, 2);
  expect(turnsOf(soFar).u).toBeGreaterThan(0.5);
  const result = await ask('result.keep', { runId: run.runId });
  await ask('result.apply', { resultId: result.resultId, windingId: shelved.windingId });
  hasPower = false;
  expect((await tell(ask, { kind: 'power-off' })).state.kind).toBe('proving');
  await ask('run.end', { runId: run.runId });
  const { builds, results } = await ask('core.get', { coreId: shelved.coreId });
  expect(builds[0]?.windings[0]?.fields.turns).toMatchObject({ kind: 'estimated', resultId: result.resultId });
  expect(results.map(({ resultId }) => resultId)).toEqual([result.resultId]);
});

it('takes no volts of an energised circuit before power is declared, whoever sends them', async () => {
  const shelved = await shelve(ask);
  const primary = await ask('meter.save', { description: typedMeter('Typed one') });
  const coil = await ask('meter.save', { description: typedMeter('Typed two') });
  await setUpOnMains(ask, shelved, { primary: primary.meterId, coil: coil.meterId });
  await ask('run.start', {});
  await expect(ask('reading.type', { channel: 'primary-volts', text: '1.2' })).rejects.toMatchObject({
    failure: { code: 'guard-refused' },
  });
});

it('sees volts while nobody declared power on, and calls it unproved', async () => {
  const shelved = await shelve(ask);
  const primary = await ask('meter.save', { description: typedMeter('Typed one') });
  const coil = await ask('meter.save', { description: typedMeter('Typed two') });
  await setUpOnMains(ask, shelved, { primary: primary.meterId, coil: coil.meterId });
  expect((await proveDead(ask)).state.kind).toBe('isolated');
  await ask('reading.type', { channel: 'primary-volts', text: '118' }).catch(() => undefined);
  const { guard } = await ask('app.present', {});
  expect(guard.state).toMatchObject({ kind: 'unproved', why: { code: 'volts-seen', volts: 118 } });
  expect(pushes).toContainEqual(expect.objectContaining({ kind: 'alarm', code: 'volts-seen' }));
});

it('begins again unproved after a restart, and says what it was', async () => {
  const shelved = await shelve(ask);
  const primary = await ask('meter.save', { description: typedMeter('Typed one') });
  const coil = await ask('meter.save', { description: typedMeter('Typed two') });
  await setUpOnMains(ask, shelved, { primary: primary.meterId, coil: coil.meterId });
  await proveDead(ask);
  await app.close();
  start();
  const { guard, session } = await ask('app.present', {});
  expect(session?.fields.who).toBe('Rowan');
  expect(guard.state).toMatchObject({ kind: 'unproved', why: { code: 'restarted', was: 'isolated' } });
});
