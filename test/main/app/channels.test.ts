import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { App } from '../../../src-main/app.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import type { LineValue } from '../../../src-shared/meter/line-format.ts';
import { confirmAll, powerOn, proveDead, serialMeter, shelve, tell, type Ask } from '../../walk.ts';
import { openPtyPair, type PtyPair } from '../meter/pty-pair.ts';
import { until } from '../meter/until.ts';
import { fastClock, startApp } from './start-app.ts';

const quicker = 4;
let folder: string;
let app: App;
let ask: Ask;
let pushes: Push[];
let pair: PtyPair;
let streaming: NodeJS.Timeout;
let line: string;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-channels-'));
  ({ app, ask, pushes } = startApp(folder, fastClock(quicker)));
  pair = await openPtyPair();
  line = 'V=0.0 V AC; A=0.000 A AC; C=0.000 V AC';
  streaming = setInterval(() => void pair.write(`${line}\r\n`), 50);
});
afterEach(async () => {
  clearInterval(streaming);
  await app.close();
  await pair.close();
  rmSync(folder, { recursive: true, force: true });
});

const named = (name: string, label: string, unit: LineValue['unit']): LineValue => ({
  name,
  from: { by: 'label', label },
  unit,
  coupling: 'ac',
});
const analyser = () =>
  serialMeter('Analyser', pair.programEnd, {
    values: [named('volts', 'V', 'V'), named('amps', 'A', 'A'), named('coil', 'C', 'V')],
  });

const readings = (channel: string) =>
  pushes.flatMap((push) =>
    push.kind === 'readings' ? push.columns.filter((one) => one.channel === channel).flatMap(({ value }) => value) : [],
  );

/** What a no-load point asks at set-up. */
const answersOf = (procedure: string) => (procedure === 'no-load' ? { answers: { turnsAdded: 'no' } } : {});

async function onMains(procedure: string, channels: Parameters<typeof ask<'bench.set-up'>>[1]['channels']) {
  const { buildId, windingId } = await shelve(ask);
  await ask('session.open', {
    fields: {
      buildId,
      supply: { kind: 'mains', volts: 120, hertz: 60, earthed: 'earthed', rcd: 'yes', fuseAmps: 3 },
      fedWindingId: windingId,
      who: 'Rowan',
    },
  });
  return ask('bench.set-up', { procedure, channels, ...answersOf(procedure) });
}

it('fills two channels from two values on each line of one meter', async () => {
  const { meterId } = await ask('meter.save', { description: analyser() });
  await onMains('test-coil', [
    { channel: 'primary-volts', meterId, lockedRange: null, value: 'volts' },
    { channel: 'coil-volts', meterId, lockedRange: null, value: 'coil' },
  ]);
  await proveDead(ask);
  await confirmAll(ask);
  await powerOn(ask, 1100 / quicker);
  line = 'V=118.6 V AC; A=0.512 A AC; C=9.87 V AC';
  const { runId, channels } = await ask('run.start', {});
  expect(channels.map(({ value }) => value)).toEqual(['volts', 'coil']);
  await until(() => readings('coil-volts').filter((value) => value === 9.87).length > 30, 'settled readings', 10_000);
  expect(new Set(readings('primary-volts').slice(5))).toEqual(new Set([118.6]));
  const { meters } = await ask('app.present', {});
  expect(meters[0]?.state.byChannel).toMatchObject([
    { channel: 'primary-volts', last: { value: 118.6 }, settling: { isSettled: true } },
    { channel: 'coil-volts', last: { value: 9.87 }, settling: { isSettled: true } },
  ]);
  const kept = await ask('pair.keep', { runId, coilTurns: 10, swapped: false });
  expect([kept.primary.value, kept.coil.value]).toEqual([expect.closeTo(118.6, 9), expect.closeTo(9.87, 9)]);
  await tell(ask, { kind: 'power-off' });
  await ask('run.end', { runId });
  expect((await ask('run.get', { runId })).run.channels.map(({ value }) => value)).toEqual(['volts', 'coil']);
});

it('divides what a clamp shows by the passes of the wire, in this run alone', async () => {
  const { meterId } = await ask('meter.save', { description: analyser() });
  await onMains('no-load', [
    { channel: 'primary-volts', meterId, lockedRange: null, value: 'volts' },
    { channel: 'line-amps', meterId, lockedRange: null, value: 'amps', passes: 5 },
  ]);
  line = 'V=0.0 V AC; A=2.560 A AC; C=0 V AC';
  await until(
    () => pushes.some((push) => push.kind === 'meter' && push.meter.byChannel?.[1]?.last?.value === 0.512),
    'the amps of one pass',
  );
  const { runId } = await ask('run.start', {});
  await ask('run.end', { runId });
  const { run } = await ask('run.get', { runId });
  expect(run.channels).toMatchObject([{ channel: 'primary-volts' }, { channel: 'line-amps', passes: 5 }]);
  expect(run.channels[0]).not.toHaveProperty('passes');
});

it('says which value and what passes it would take, and refuses one value for two channels', async () => {
  const { meterId } = await ask('meter.save', { description: analyser() });
  const at = (channel: string, more: object) => ({ channel, meterId, lockedRange: null, ...more });
  await expect(onMains('test-coil', [at('primary-volts', {}), at('coil-volts', { value: 'coil' })])).rejects.toThrow(
    'Analyser sends several values: say which of them is read here.',
  );
  const setUp = (channels: Parameters<typeof ask<'bench.set-up'>>[1]['channels'], procedure = 'test-coil') =>
    ask('bench.set-up', { procedure, channels, ...answersOf(procedure) });
  await expect(
    setUp([at('primary-volts', { value: 'volts', passes: 2 }), at('coil-volts', { value: 'coil' })]),
  ).rejects.toThrow('Only amps are read through a clamp.');
  await expect(
    setUp([at('primary-volts', { value: 'volts' }), at('line-amps', { value: 'volts' })], 'no-load'),
  ).rejects.toMatchObject({ failure: { detail: { code: 'meter-twice' } } });
});
