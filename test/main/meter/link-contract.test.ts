import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Link, type LinkOptions } from '../../../src-main/meter/link.ts';
import type { MeterReading } from '../../../src-shared/meter/channel-reading.ts';
import type { SerialMeter } from '../../../src-shared/meter/description.ts';
import type { HeardLine } from '../../../src-shared/meter/heard-line.ts';
import type { LinkStatus } from '../../../src-shared/meter/link-status.ts';
import { serialMeter } from '../../shared/meter/describe.ts';
import { fakeClock } from './fake-clock.ts';
import { until } from './until.ts';
import { mockWire, ptyWire, settingsFor, virtualWire, watchOpenings, type Wire } from './wires.ts';

describe.each([
  ['the pretended binding', mockWire],
  ['a pair of pseudo terminals', ptyWire],
  ['a port inside the program', virtualWire],
])('a link over %s', (_name, makeWire) => {
  let wire: Wire;
  let link: Link | undefined;
  let clock = fakeClock();
  let readings: MeterReading[] = [];
  let statuses: LinkStatus[] = [];
  let watch = watchOpenings();

  beforeEach(async () => {
    wire = await makeWire();
    clock = fakeClock();
    watch = watchOpenings();
    readings = [];
    statuses = [];
  });
  afterEach(async () => {
    await link?.stop();
    await wire.close();
  });

  const start = (more: Partial<SerialMeter> = {}, options: Partial<LinkOptions> = {}) => {
    const settings = settingsFor(wire.path);
    link = new Link({
      meterId: 4,
      meter: { ...serialMeter(more), port: settings },
      origin: 'meter',
      newPort: () => watch.over(wire.newPort(settings)),
      clock,
      onReading: (reading) => readings.push(reading),
      onStatus: (status) => statuses.push(status),
      ...options,
    });
    link.start();
    return link;
  };
  const texts = () => readings.map(({ text }) => text);
  const states = () => statuses.map(({ state, why }) => (why === null ? state : `${state}: ${why}`));
  const opened = () => until(() => watch.opening === 'open' && clock.waiting === 1, 'the port open');
  const failed = () => until(() => watch.opening === 'failed' && clock.waiting === 1, 'the next attempt planned');

  it('gives each line as one reading with both times, whatever pieces it came in', async () => {
    start();
    await opened();
    await wire.send('8.5 V AC\r\n118.');
    await wire.send('6 V AC\r\n118.7 V A');
    await wire.send('C\r\n');
    await until(() => readings.length === 2, 'two readings');
    expect(readings[0]).toEqual({
      kind: 'number',
      value: 118.6,
      unit: 'V',
      coupling: 'ac',
      resolution: 0.1,
      text: '118.6 V AC',
      meterId: 4,
      name: 'value',
      atMs: 1000,
      wallMs: 1.7e12 + 1000,
      origin: 'meter',
      practice: false,
    });
    expect(texts()).toEqual(['118.6 V AC', '118.7 V AC']);
    expect(states()).toEqual(['connecting', 'answering']);
  });

  it('goes on after garbage, endless lines and half lines, losing only those', async () => {
    start();
    await opened();
    await wire.send(`\n1 V\n${'U'.repeat(3000)}\n2 V\n\x00\x80\xff3 V\n4 V\nabc\n5 V\n6`);
    await until(() => readings.length === 5, 'five readings');
    expect(texts()).toEqual(['1 V', '2 V', '4 V', 'abc', '5 V']);
    expect(readings[3]).toMatchObject({ kind: 'unreadable', why: 'no-number' });
  });

  it('reads overloads, decimal commas and signs of a declared encoding', async () => {
    start({ format: { grammar: 'generic', encoding: 'latin-1', decimal: 'comma' } });
    await opened();
    await wire.send(Buffer.from('\n0.L V~\n0,9874 V~\n21,4 \xb0C\n', 'latin1'));
    await until(() => readings.length === 3, 'three readings');
    expect(readings).toMatchObject([
      { kind: 'overload', unit: 'V', coupling: 'ac' },
      { kind: 'number', value: 0.9874 },
      { kind: 'number', value: 21.4, unit: '°C' },
    ]);
    expect(states()).toEqual(['connecting', 'answering']);
  });

  it('is silent when nothing arrives, when nothing can be read, and answers again', async () => {
    start();
    await opened();
    clock.advance(1499);
    expect(states()).toEqual(['connecting']);
    clock.advance(1);
    expect(states()).toEqual(['connecting', 'silent: nothing-heard']);
    await wire.send('\nabc\n');
    await until(() => readings.length === 1, 'the unreadable line');
    clock.advance(1500);
    expect(states().at(-1)).toBe('silent: nothing-readable');
    await wire.send('5 V\n');
    await until(() => readings.length === 2, 'the reading');
    expect(states().at(-1)).toBe('answering');
    clock.advance(1500);
    expect(states().at(-1)).toBe('silent: nothing-heard');
  });

  it('waits three typical intervals of a slow meter before calling it silent', async () => {
    start({ typicalIntervalMs: 10_000 });
    await opened();
    clock.advance(29_999);
    expect(states()).toEqual(['connecting']);
    clock.advance(1);
    expect(states()).toEqual(['connecting', 'silent: nothing-heard']);
  });

  it('counts another unit as silence, saying both, until the right one comes', async () => {
    start().expect({ value: { unit: 'V', coupling: 'ac' } });
    await opened();
    await wire.send('\n0.3 A AC\n');
    await until(() => readings.length === 1, 'the refused reading');
    expect(readings[0]).toMatchObject({ kind: 'unreadable', why: 'wrong-unit', text: '0.3 A AC' });
    expect(statuses.at(-1)).toMatchObject({ state: 'silent', why: 'wrong-unit' });
    expect(statuses.at(-1)?.sentence).toContain('It is A ac; V ac was expected.');
    await wire.send('118.6 V AC\n');
    await until(() => readings.length === 2, 'the reading');
    expect(states()).toEqual(['connecting', 'silent: wrong-unit', 'answering']);
  });

  it('says that the port was lost, keeps every whole line, and comes back by itself on a new chain', async () => {
    start();
    await opened();
    await wire.send('\n1 V\n2 V\n118.');
    await until(() => readings.length === 2, 'two readings');
    await wire.pull();
    await until(() => states().at(-1) === 'lost: port-lost', 'the loss');
    for (let attempt = 0; attempt < 3; attempt += 1) {
      clock.advance(5000);
      await failed();
    }
    expect(states().at(-1)).toBe('lost: port-lost');
    await wire.putBack();
    clock.advance(5000);
    await until(() => states().at(-1) === 'connecting', 'the port open again');
    await wire.send('6 V\n7 V\n');
    await until(() => readings.length === 3, 'the first reading after the loss');
    expect(texts()).toEqual(['1 V', '2 V', '7 V']);
    expect(states()).toEqual(['connecting', 'answering', 'lost: port-lost', 'connecting', 'answering']);
  });

  it('frees the port when stopped and says nothing more', async () => {
    const first = start();
    await opened();
    await wire.send('\n1 V\n');
    await until(() => readings.length === 1, 'a reading');
    await first.stop();
    expect(first.status().state).toBe('off');
    expect(clock.waiting).toBe(0);
    const before = states().length;
    start();
    await opened();
    await wire.send('\n2 V\n');
    await until(() => readings.length === 2, 'a reading of the second link');
    expect(states().slice(before)).toEqual(['connecting', 'answering']);
  });

  it('asks a meter that answers only when asked, having thrown away what was waiting', async () => {
    const sent: string[] = [];
    const heard: HeardLine[] = [];
    let unfinished = '';
    wire.onSent((text) => {
      const commands = `${unfinished}${text}`.split('\r\n');
      unfinished = commands.pop() ?? '';
      for (const command of commands) {
        sent.push(command);
        if (command === '*IDN?') void wire.send('INVENTED INSTRUMENTS,TEST 1,0,0\r\n');
        if (command === 'READ?') void wire.send('+1.18600E+02\r\n');
      }
    });
    start(
      {
        talk: {
          mode: 'ask',
          query: 'READ?',
          intervalMs: 1000,
          timeoutMs: 500,
          opening: ['CONF:VOLT:AC', '*IDN?'],
          lineEnd: 'crlf',
        },
        bareUnit: { unit: 'V', coupling: 'ac' },
      },
      { onHeard: (line) => heard.push(line) },
    );
    await until(() => sent.length === 1 && clock.waiting === 2, 'the first command');
    clock.advance(100);
    await until(() => heard.length > 0, 'the answer to the second');
    clock.advance(0);
    for (let asking = 1; asking <= 3; asking += 1) {
      await until(() => readings.length === asking, `reading ${asking}`);
      clock.advance(1000);
    }
    await until(() => readings.length === 4, 'the last reading');
    expect(sent).toEqual(['CONF:VOLT:AC', '*IDN?', 'READ?', 'READ?', 'READ?', 'READ?']);
    expect(heard[0]).toMatchObject({ kind: 'answer', to: '*IDN?', text: 'INVENTED INSTRUMENTS,TEST 1,0,0' });
    expect(readings[0]).toMatchObject({ kind: 'number', unit: 'V', coupling: 'ac' });
    expect(readings.map(({ atMs }) => atMs)).toEqual([1100, 2100, 3100, 4100]);
  });

  it('says which port is not there and tries again, waiting longer each time', async () => {
    await wire.pull();
    start();
    await until(() => states().includes('failed: not-found'), 'the failure');
    const planned: number[] = [];
    for (let attempt = 0; attempt < 6; attempt += 1) {
      await failed();
      const from = clock.monoMs();
      watch.opening = 'pending';
      while (clock.waiting === 1) clock.advance(50);
      planned.push(clock.monoMs() - from);
    }
    expect(planned).toEqual([250, 500, 1000, 2000, 4000, 5000]);
    expect(states()).toEqual(['connecting', 'failed: not-found']);
  });
});
