import { realpathSync, symlinkSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { systemClock } from '../../../src-main/bench/clock.ts';
import { MeterHub, type HubOptions } from '../../../src-main/meter/hub.ts';
import { serialPort } from '../../../src-main/meter/meter-port.ts';
import { virtualPort } from '../../../src-main/meter/virtual-port.ts';
import type { MeterReading } from '../../../src-shared/meter/channel-reading.ts';
import type { LinkStatus } from '../../../src-shared/meter/link-status.ts';
import { acVolts, keyboardMeter, serialMeter } from '../../shared/meter/describe.ts';
import { openPtyPair, type PtyPair } from './pty-pair.ts';
import { until } from './until.ts';
import { settingsFor, watchOpenings } from './wires.ts';

describe('the hub', () => {
  let pairs: PtyPair[] = [];
  let heard: [number, MeterReading][] = [];
  let said: [number, LinkStatus['state']][] = [];
  let hub: MeterHub;
  let watch = watchOpenings();

  const common: HubOptions = {
    clock: systemClock,
    onReading: (meterId, reading) => heard.push([meterId, reading]),
    onStatus: (meterId, { state }) => said.push([meterId, state]),
  };

  beforeEach(async () => {
    pairs = [await openPtyPair(), await openPtyPair()];
    heard = [];
    said = [];
    watch = watchOpenings();
    hub = new MeterHub({ ...common, newPort: (settings) => watch.over(serialPort(settings)) });
  });
  afterEach(async () => {
    await hub.stopAll();
    for (const pair of pairs) await pair.close();
  });

  const at = (index: number) => pairs[index] as PtyPair;
  const opened = (ports: number) => until(() => watch.opened === ports, `${ports} ports open`);
  const onPort = (path: string, label = 'Grey hand meter') => serialMeter({ label, port: settingsFor(path) });

  it('listens to two meters at once and keeps them apart', async () => {
    expect(await hub.start(1, onPort(at(0).programEnd))).toEqual({ ok: true });
    expect(await hub.start(2, onPort(at(1).programEnd))).toEqual({ ok: true });
    await opened(2);
    await at(0).write('\n118.6 V AC\n');
    await at(1).write('\n9.87 V AC\n');
    await until(() => heard.length === 2, 'a reading of each');
    expect(new Map(heard.map(([meterId, { text }]) => [meterId, text]))).toEqual(
      new Map([
        [1, '118.6 V AC'],
        [2, '9.87 V AC'],
      ]),
    );
    expect([...hub.statuses().values()].map(({ state }) => state)).toEqual(['answering', 'answering']);
  });

  it('refuses one port for two meters, by whatever name, and one meter twice', async () => {
    const other = join(dirname(at(0).programEnd), 'other-name');
    symlinkSync(at(0).programEnd, other);
    await hub.start(1, onPort(at(0).programEnd, 'Line meter'));
    expect(await hub.start(2, onPort(other))).toMatchObject({ ok: false, code: 'port-taken' });
    expect(await hub.start(1, onPort(at(1).programEnd))).toMatchObject({ ok: false, code: 'already-started' });
    const both = await Promise.all([hub.start(3, onPort(at(1).programEnd)), hub.start(4, onPort(at(1).programEnd))]);
    // Either may come first; never both.
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    await hub.stop(1);
    expect(await hub.start(2, onPort(other))).toEqual({ ok: true });
  });

  it('leaves the port of a lead that was pulled to whatever is plugged in next', async () => {
    const device = realpathSync(at(0).programEnd);
    await hub.start(1, onPort(at(0).programEnd, 'Line meter'));
    await opened(1);
    await at(0).pull();
    await until(() => hub.statuses().get(1)?.state === 'lost', 'the lead missed');
    expect(await hub.holderOf(settingsFor(device))).toBeNull();
    expect(await hub.start(2, onPort(device))).toEqual({ ok: true });
    expect(await hub.start(3, onPort(at(0).programEnd))).toMatchObject({ ok: false, code: 'port-taken' });
  });

  it('refuses another unit for a channel from the moment it is told', async () => {
    await hub.start(1, onPort(at(0).programEnd));
    await opened(1);
    await at(0).write('\n0.3 A AC\n');
    await until(() => heard.length === 1, 'the first reading');
    hub.expect(1, { value: { unit: 'V', coupling: 'ac' } });
    await at(0).write('0.3 A AC\n');
    await until(() => heard.length === 2, 'the second reading');
    expect(heard.map(([, { kind }]) => kind)).toEqual(['number', 'unreadable']);
    expect(hub.statuses().get(1)).toMatchObject({ state: 'silent', why: 'wrong-unit' });
  });

  it('passes typed values on in the shape of every reading', async () => {
    await hub.start(5, keyboardMeter());
    expect(said).toEqual([[5, 'keyboard']]);
    expect(hub.enter(5, '118,6', { unit: 'V', coupling: 'ac' })).toEqual({ ok: true });
    expect(heard[0]).toMatchObject([
      5,
      {
        kind: 'number',
        value: 118.6,
        unit: 'V',
        coupling: 'ac',
        text: '118,6',
        meterId: 5,
        name: 'value',
        origin: 'keyboard',
        practice: false,
      },
    ]);
    expect(hub.enter(5, '3 A', { unit: 'V', coupling: 'ac' })).toMatchObject({ ok: false, code: 'wrong-unit' });
    expect(hub.enter(5, 'x', { unit: 'V', coupling: 'ac' })).toMatchObject({ ok: false, code: 'unreadable' });
    expect(hub.enter(6, '3', { unit: 'V', coupling: 'ac' })).toMatchObject({ ok: false, code: 'not-started' });
    await hub.start(1, onPort(at(0).programEnd));
    expect(hub.enter(1, '3', { unit: 'V', coupling: 'ac' })).toMatchObject({ ok: false, code: 'not-typed' });
    expect(heard).toHaveLength(1);
  });

  it('applies the scale of a meter to what is typed for it', async () => {
    const scales = [{ unit: 'V', factor: 100, becomes: 'A', percent: 2 }] as const;
    await hub.start(5, keyboardMeter({ ranges: [acVolts(0.6, 0.0001)], scales: [...scales] }));
    expect(hub.enter(5, '125 mV', { unit: 'A', coupling: 'ac' })).toEqual({ ok: true });
    expect(hub.enter(5, '12.5 A', { unit: 'A', coupling: 'ac' })).toMatchObject({ ok: false, code: 'wrong-unit' });
    expect(hub.enter(5, 'OL', { unit: 'A', coupling: 'ac' })).toEqual({ ok: true });
    expect(heard).toMatchObject([
      [5, { value: 12.5, unit: 'A', shown: { value: 0.125, unit: 'V' } }],
      [5, { kind: 'overload', unit: 'A' }],
    ]);
  });

  it('says nothing of a meter after it was stopped, and frees its port', async () => {
    await hub.start(1, onPort(at(0).programEnd));
    await opened(1);
    await at(0).write('\n1 V\n');
    await until(() => heard.length === 1, 'a reading');
    await hub.stop(1);
    expect(said.at(-1)).toEqual([1, 'off']);
    expect(hub.statuses().size).toBe(0);
    await hub.start(2, onPort(at(0).programEnd));
    await opened(2);
    await at(0).write('\n2 V\n');
    await until(() => heard.length === 2, 'a reading of the next');
    expect(heard[1]?.[0]).toBe(2);
  });

  it('leaves no second link behind when it is stopped and begun again twice, the first close a slow one', async () => {
    const closing = Promise.withResolvers<undefined>();
    const send: ((bytes: Uint8Array) => void)[] = [];
    const newPort = () => {
      const port = virtualPort({ opened: (deliver) => void send.push(deliver), closed: () => undefined });
      const close = port.close.bind(port);
      let isClosing = false;
      return Object.assign(port, {
        // As the port library does it: a port that is closing already has nothing to wait for.
        close: async () => {
          if (isClosing) return;
          isClosing = true;
          if (send.length === 1) await closing.promise;
          await close();
        },
      });
    };
    const slow = new MeterHub({ ...common, newPort });
    const meter = onPort(at(0).programEnd);
    await slow.start(1, meter);
    await until(() => send.length === 1, 'the first port');
    const again = async () => {
      await slow.stop(1);
      await slow.start(1, meter);
    };
    const both = [again(), again()];
    // Time enough for the second to begin where nothing makes it wait.
    await new Promise((resolve) => setTimeout(resolve, 200));
    closing.resolve(undefined);
    await Promise.all(both);
    await slow.stop(1);
    heard = [];
    for (const deliver of send) deliver(Buffer.from('\n1.5 V AC\n'));
    await new Promise(setImmediate);
    expect(heard).toEqual([]);
  });

  it('reads by the later of two descriptions that come at the same time', async () => {
    const meter = onPort(at(0).programEnd);
    await hub.start(1, meter);
    const times = (factor: number) =>
      hub.restart(1, { ...meter, scales: [{ unit: 'V', becomes: 'V', factor, percent: 0 }] });
    expect(await Promise.all([times(10), times(100)])).toEqual([{ ok: true }, { ok: true }]);
    const sending = setInterval(() => void at(0).write('\n1.5 V AC\n'), 50);
    await until(() => heard.length > 3, 'readings');
    clearInterval(sending);
    expect(new Set(heard.map(([, reading]) => reading.kind === 'number' && reading.value))).toEqual(new Set([150]));
  });

  it('runs a pair of practice meters the way of real ones, every reading marked', async () => {
    const common = { ...keyboardMeter(), kind: 'practice', unit: 'V', coupling: 'ac', typicalIntervalMs: 20 } as const;
    const bench = new MeterHub({
      clock: systemClock,
      onReading: (meterId, reading) => heard.push([meterId, reading]),
      onStatus: (meterId, { state }) => said.push([meterId, state]),
      practice: (meterId) => ({
        trueValue: () => (meterId === 1 ? 5 : 0.417),
        lockedRange: () => 0,
        turnedTo: () => null,
        isQuiet: () => false,
      }),
    });
    expect(await bench.start(1, common)).toEqual({ ok: true });
    expect(await bench.start(2, common)).toEqual({ ok: true });
    await until(() => heard.length >= 20, 'readings of both');
    await bench.stopAll();
    for (const [, reading] of heard) expect(reading).toMatchObject({ origin: 'practice', practice: true, unit: 'V' });
    const mean = (meter: number) => {
      const values = heard.flatMap(([meterId, one]) => (meterId === meter && one.kind === 'number' ? [one.value] : []));
      return values.reduce((sum, value) => sum + value, 0) / values.length;
    };
    // Ten turns of coil on 120: each meter within its 1 % and 5 digits of 1 mV.
    expect(Math.abs(mean(1) / mean(2) - 5 / 0.417)).toBeLessThan(12 * (0.02 + 0.001 + 0.012));
    expect(said.filter(([, state]) => state === 'answering')).toHaveLength(2);
    expect(await hub.start(9, common)).toMatchObject({ ok: false, code: 'no-practice' });
  });
});
