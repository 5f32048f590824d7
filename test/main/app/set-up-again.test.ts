import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { App } from '../../../src-main/app.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import { confirmAll, powerOn, proveDead, setUpOnMains, shelve, tell, typedMeter, type Ask } from '../../walk.ts';
import { startApp } from './start-app.ts';

let folder: string;
let app: App;
let ask: Ask;
let pushes: Push[];
let primary: number;
let shelved: Awaited<ReturnType<typeof shelve>>;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-again-'));
  ({ app, ask, pushes } = startApp(folder));
  shelved = await shelve(ask);
  primary = (await ask('meter.save', { description: typedMeter('Typed one') })).meterId;
  const coil = (await ask('meter.save', { description: typedMeter('Typed two') })).meterId;
  await setUpOnMains(ask, shelved, { primary, coil });
});
afterEach(async () => {
  await app.close();
  rmSync(folder, { recursive: true, force: true });
});

const guard = async () => (await ask('app.present', {})).guard.state;
const factsOf = async (channel: string) => (await guard()).setUp?.channels.find(({ id }) => id === channel);

it('tells the guard what an edited description says of a meter of the set-up', async () => {
  expect((await factsOf('primary-volts'))?.meter?.maxVolts).toBe(600);
  await ask('meter.save', { meterId: primary, description: { ...typedMeter('Typed one'), maxVolts: 300 } });
  expect((await factsOf('primary-volts'))?.meter?.maxVolts).toBe(300);
  expect((await guard()).checks['b-rate']).toBeDefined();
});

it('lets the rating lapse and says why when the edited meter does not fit any more', async () => {
  await ask('meter.save', { meterId: primary, description: { ...typedMeter('Typed one'), maxVolts: 100 } });
  expect((await guard()).checks['b-rate']).toBeUndefined();
  expect(pushes).toContainEqual(
    expect.objectContaining({
      kind: 'alarm',
      code: 'set-up-again',
      sentence: expect.stringMatching(/The set-up does not stand any more\. .*Typed one/),
    }),
  );
});

it('rates the meters anew when the windings are found to stand at other volts', async () => {
  expect((await factsOf('primary-volts'))?.volts).toBe(120);
  const before = (await guard()).setUp?.bench;
  await ask('winding.save', {
    buildId: shelved.buildId,
    fields: {
      label: 'Old secondary',
      role: 'secondary',
      turns: { kind: 'counted', turns: 2000 },
      metal: 'not-known',
      oneEndOnCore: 'no',
      onPlug: false,
    },
  });
  const after = await guard();
  expect(after.setUp?.bench).not.toEqual(before);
  expect(after.setUp?.bench).toEqual(after.bench);
});

it('touches nothing while power is declared on, and edits no meter that watches over it', async () => {
  await proveDead(ask);
  await confirmAll(ask);
  await powerOn(ask);
  await expect(ask('meter.save', { meterId: primary, description: typedMeter('Renamed') })).rejects.toMatchObject({
    failure: { code: 'meter-in-use' },
  });
  expect((await guard()).kind).toBe('live');
  await tell(ask, { kind: 'power-off' });
  await ask('meter.save', { meterId: primary, description: typedMeter('Renamed') });
  expect((await factsOf('primary-volts'))?.meter?.label).toBe('Renamed');
});
