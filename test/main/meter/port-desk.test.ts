import { afterEach, beforeEach, expect, it } from 'vitest';
import { systemClock } from '../../../src-main/bench/clock.ts';
import { MeterHub } from '../../../src-main/meter/hub.ts';
import { serialPort } from '../../../src-main/meter/meter-port.ts';
import { PortDesk } from '../../../src-main/meter/port-desk.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import type { MeterReading } from '../../../src-shared/meter/channel-reading.ts';
import { sampleOf } from '../../../src-shared/meter/sample.ts';
import { serialMeter } from '../../shared/meter/describe.ts';
import { openPtyPair, type PtyPair } from './pty-pair.ts';
import { until } from './until.ts';
import { settingsFor } from './wires.ts';

let pair: PtyPair;
let streaming: NodeJS.Timeout;
let heard: MeterReading[];
let pushes: Push[];
let hub: MeterHub;
let desk: PortDesk;
let isInRun: boolean;

beforeEach(async () => {
  pair = await openPtyPair();
  streaming = setInterval(() => void pair.write('118.6 V AC\r\n'), 50);
  [heard, pushes, isInRun] = [[], [], false];
  hub = new MeterHub({
    clock: systemClock,
    newPort: serialPort,
    onReading: (_meterId, reading) => heard.push(reading),
    onStatus: () => undefined,
  });
  desk = new PortDesk({ clock: systemClock, hub, push: (push) => pushes.push(push), inUse: () => isInRun });
});
afterEach(async () => {
  clearInterval(streaming);
  await desk.stop();
  await hub.stopAll();
  await pair.close();
});

const meter = () => serialMeter({ port: settingsFor(pair.programEnd) });
const tried = () => pushes.flatMap((push) => (push.kind === 'tried' ? push.lines.map((line) => line.sentence) : []));
const searched = () => pushes.filter((push) => push.kind === 'port-search');
/** Opens the port as another program would: a port that is still held refuses. */
const isFree = async () => {
  const port = serialPort(settingsFor(pair.programEnd));
  await port.open();
  await port.close();
};

it('says at once that it is opening, then shows each line as it was read', async () => {
  const outcome = await desk.try(meter());
  expect(outcome).toEqual({ ok: true, value: { tryId: 1 } });
  await until(() => pushes.length > 0, 'the first word');
  expect(pushes[0]).toMatchObject({ kind: 'tried', tryId: 1, lines: [], heard: expect.stringContaining('Opening') });
  await until(() => tried().length > 3, 'lines');
  expect(new Set(tried().slice(1))).toEqual(new Set(['118.6 V ac']));
});

it('leaves no trial behind, however quickly they are begun and ended', async () => {
  await Promise.all([desk.try(meter()), desk.try(meter()), desk.stop()]);
  await isFree();
  const outcomes = await Promise.all([desk.try(meter()), desk.try(meter()), desk.try(meter())]);
  expect(outcomes.map(({ ok }) => ok)).toEqual([true, true, true]);
  await until(() => tried().length > 2, 'lines of the last trial');
  await desk.stop();
  await isFree();
});

it('lets the meter on that port go, and gives it back afterwards', async () => {
  // The start is still looking for its port when the trial begins.
  const starting = hub.start(1, meter());
  await Promise.all([starting, desk.try(meter())]);
  await until(() => tried().length > 2, 'lines on trial');
  expect(hub.statuses().size).toBe(0);
  await desk.stop();
  await until(() => heard.length > 2, 'readings of the meter');
  expect(hub.statuses().get(1)?.state).toBe('answering');
});

it('does not take a meter out of a run', async () => {
  await hub.start(1, meter());
  isInRun = true;
  expect(await desk.try(meter())).toMatchObject({ ok: false, failure: { code: 'meter-in-use' } });
  expect(await desk.find(pair.programEnd)).toMatchObject({ ok: false, failure: { code: 'meter-in-use' } });
});

it('finds the settings of a port, says how sure it is, and gives the port back', async () => {
  await hub.start(1, meter());
  await until(() => heard.length > 0, 'a reading');
  expect(await desk.find(pair.programEnd)).toMatchObject({ ok: true });
  await until(() => searched().some(({ outcome }) => outcome !== null), 'the end of the search', 10_000);
  expect(searched()[0]).toMatchObject({ step: 1, steps: 18, trying: { baudRate: 9600 }, outcome: null });
  expect(searched().at(-1)?.outcome).toMatchObject({ kind: 'heard', sureness: 'sure', decimal: 'point' });
  heard = [];
  await until(() => heard.length > 0, 'a reading afterwards');
});

it('ends a search that is called off, with the port free', async () => {
  clearInterval(streaming);
  await desk.find(pair.programEnd);
  await until(() => searched().length > 0, 'the first setting');
  await desk.stop();
  expect(searched().at(-1)?.outcome).toMatchObject({ kind: 'stopped' });
  await isFree();
});

it('plays kept lines back through another description, in the encoding they were read in', async () => {
  const sample = sampleOf(
    [
      { atMs: 1000, text: '21,5 °C' },
      { atMs: 1100, text: '118,6 V' },
    ],
    0,
  );
  const description = serialMeter({
    port: settingsFor('/dev/not-there'),
    format: { grammar: 'generic', encoding: 'utf-8', decimal: 'comma' },
  });
  await desk.replay(description, sample);
  await until(() => tried().length === 2, 'both lines');
  expect(tried()).toEqual(['21.5 °C', '118.6 V']);
});
