import { afterEach, beforeEach, expect, it } from 'vitest';
import { confirmAll, proveDead, serialMeter, typedMeter } from '../../walk.ts';
import { openPtyPair, type PtyPair } from '../meter/pty-pair.ts';
import { until } from '../meter/until.ts';
import { mains, refusedWith, Workbench } from './workbench.ts';

let bench: Workbench;
let pair: PtyPair;

const celsius = {
  unit: '°C',
  coupling: null,
  top: 400,
  resolution: 0.1,
  percentOfReading: 1,
  digits: 3,
  shape: 'rectangular',
} as const;
const volts = {
  unit: 'V',
  coupling: 'ac',
  top: 600,
  resolution: 1,
  percentOfReading: 2,
  digits: 4,
  shape: 'rectangular',
} as const;

beforeEach(async () => {
  bench = new Workbench();
  pair = await openPtyPair();
  await bench.open(mains);
});
afterEach(async () => {
  await bench.close();
  await pair.close();
});

/** A heat run under power: volts, amps and core are typed, the room probe sends by itself. */
async function warming(): Promise<{ runId: number; probe: number }> {
  await bench.setUp('heat-run', ['primary-volts', 'line-amps', 'core-temperature'], {
    insulationClass: 'F',
    byResistance: 'no',
    turnsAdded: 'no',
    expectedAmps: 0.6,
  });
  const { meterId: probe } = await bench.ask('meter.save', {
    description: serialMeter('Room probe', pair.programEnd, { ranges: [celsius], bareUnit: null }),
  });
  const { setup } = await bench.ask('app.present', {});
  if (setup === null) throw new Error('The set-up stands.');
  const channels = [...setup.channels, { channel: 'ambient', meterId: probe, lockedRange: null }];
  await bench.ask('bench.set-up', { ...setup, channels });
  const runId = await bench.live();
  return { runId, probe };
}

it('lets a lost thermometer be read by eye with power on: typed values in the same channel, told in the record', async () => {
  const { runId, probe } = await warming();
  const sending = setInterval(() => void pair.write('20.5 C\r\n'), 50);
  const isHeard = () =>
    bench.pushes.some((push) => push.kind === 'readings' && push.columns.some((one) => one.channel === 'ambient'));
  await until(() => {
    bench.clock.pass(5);
    return isHeard();
  }, 'the room probe');
  clearInterval(sending);
  await expect(refusedWith(bench.ask('reading.type', { channel: 'ambient', text: '21' }))).resolves.toMatchObject({
    message: 'Room probe sends its values by itself.',
  });
  bench.clock.pass(60_000);
  const reader = { channel: 'ambient', meterId: probe, lockedRange: null, byEye: true } as const;
  const guard = await bench.ask('bench.take-over', { reader, reason: 'its lead came loose' });
  expect(guard.state.kind).toBe('live');
  bench.clock.pass(1000);
  await bench.type({ ambient: '21.4' });
  bench.clock.pass(500);
  const facts = await bench.ask('run.facts', { runId });
  const [taken] = facts.run.channels[3]?.takenOver ?? [];
  expect(taken).toMatchObject({ meterId: probe, byEye: true });
  expect(facts.takers[3]?.map(({ label }) => label)).toEqual(['Room probe']);
  expect(facts.happenings.find(({ word }) => word === 'Taken over')).toMatchObject({
    kind: 'point',
    atMs: taken?.fromMs,
    text: 'Ambient: Room probe is read by eye and typed from here. Why: its lead came loose.',
  });
  const at = await bench.ask('run.at', { runId, atMs: facts.lastMs });
  // ± (1 % of 21.4 + 3 × 0.1) rectangular, by the description of the same meter (JCGM 100:2008, 4.3.7).
  expect(at.find(({ channel }) => channel === 'ambient')).toMatchObject({
    value: 21.4,
    origin: 'keyboard',
    u: expect.closeTo((0.214 + 0.3) / Math.sqrt(3), 9),
  });
});

it('keeps other meters from the circuit while power is on; with power off one takes over, and each reading stays with its meter', async () => {
  const { runId } = await warming();
  bench.clock.pass(3000);
  await bench.type({ 'primary-volts': '230.00' });
  bench.clock.pass(500);
  const { meterId } = await bench.ask('meter.save', {
    description: { ...typedMeter('Pocket meter'), ranges: [volts] },
  });
  const reader = { channel: 'primary-volts', meterId, lockedRange: null };
  const asked = () => bench.ask('bench.take-over', { reader, reason: 'its battery is flat' });
  expect((await refusedWith(asked())).message).toMatch(/Primary volts is on the circuit.*nobody changes leads now/);
  expect((await bench.ask('run.facts', { runId })).run.channels[0]?.takenOver).toBeUndefined();

  await bench.powerOff();
  const first = (await bench.ask('run.facts', { runId })).lastMs;
  bench.clock.pass(1000);
  const guard = await asked();
  // Another meter on the circuit: limits are set again, and what depends on a meter is asked again before power.
  expect([guard.state.kind, guard.state.limits]).toEqual(['proving', null]);
  await proveDead(bench.ask);
  await confirmAll(bench.ask);
  await bench.powerOn();
  bench.clock.pass(3000);
  await bench.type({ 'primary-volts': '231' });
  bench.clock.pass(500);
  const facts = await bench.ask('run.facts', { runId });
  expect([facts.run.ending, facts.meters[0]?.label, facts.takers[0]?.[0]?.label]).toEqual([
    'running',
    'Typed primary-volts',
    'Pocket meter',
  ]);
  const uAt = async (atMs: number) =>
    (await bench.ask('run.at', { runId, atMs })).find(({ channel }) => channel === 'primary-volts')?.u;
  // ± (1 % + 3 × 0.01) of the first, ± (2 % + 4 × 1) of the second, both rectangular.
  expect(await uAt(first)).toBeCloseTo((2.3 + 0.03) / Math.sqrt(3), 9);
  expect(await uAt(facts.lastMs)).toBeCloseTo((4.62 + 4) / Math.sqrt(3), 9);
  await bench.powerOff();
  expect((await bench.end()).channels[0]?.takenOver).toHaveLength(1);
  // After the end nobody takes over any more.
  expect((await refusedWith(asked())).code).toBe('no-run');
});

it('adds a thermometer with power on, and says what it refuses', async () => {
  const { runId } = await warming();
  const { meterId } = await bench.ask('meter.save', {
    description: { ...typedMeter('Spare'), ranges: [celsius, volts] },
  });
  const take = (channel: string, more: object = {}) =>
    bench.ask('bench.take-over', { reader: { channel, meterId, lockedRange: null, ...more }, reason: 'to see more' });
  // A bead on a mains winding is joined to it: not with power on.
  expect((await refusedWith(take('winding-temperature'))).message).toMatch(/on the circuit/);
  expect((await refusedWith(take('no-such'))).code).toBe('not-found');
  expect((await refusedWith(take('ambient', { byEye: true }))).message).toMatch(/nothing to read by eye/);
  await take('ambient');
  const { run, happenings } = await bench.ask('run.facts', { runId });
  expect(run.channels[3]?.takenOver).toMatchObject([{ meterId }]);
  expect(happenings.map(({ text }) => text)).toContain('Ambient: Spare took over from Room probe. Why: to see more.');
});
