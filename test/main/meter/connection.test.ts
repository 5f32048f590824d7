import { describe, expect, it } from 'vitest';
import { openConnection, type ConnectionOptions } from '../../../src-main/meter/connection.ts';
import { Link } from '../../../src-main/meter/link.ts';
import type { MeterPort } from '../../../src-main/meter/meter-port.ts';
import { serialMeter } from '../../shared/meter/describe.ts';
import { fakeClock } from './fake-clock.ts';
import { until } from './until.ts';

/** A port whose opening ends when the test says so, and which notes what was asked of it. */
function portInHand() {
  const asked: string[] = [];
  let finish: (() => void) | undefined;
  let hear: ((bytes: Uint8Array) => void) | undefined;
  let lose: (() => void) | undefined;
  const note = (what: string) => {
    asked.push(what);
    return Promise.resolve();
  };
  const port: MeterPort = {
    isOpen: true,
    open: () => {
      asked.push('open');
      return new Promise((resolve) => {
        finish = resolve;
      });
    },
    close: () => note('close'),
    write: () => note('write'),
    flush: () => note('flush'),
    setLines: ({ dtr, rts }) => {
      asked.push(`lines ${dtr} ${rts}`);
      return Promise.reject(new Error('Inappropriate ioctl for device'));
    },
    onData: (act) => {
      hear = act;
      asked.push('hear');
    },
    onLost: (act) => {
      lose = act;
    },
  };
  const send = (text: string) => hear?.(Buffer.from(text));
  return { port, asked, finish: () => finish?.(), send, lose: () => lose?.() };
}

const options = (port: MeterPort, more: Partial<ConnectionOptions> = {}): ConnectionOptions => ({
  newPort: () => port,
  path: '/dev/nothing',
  lines: { dtr: false, rts: true },
  encoding: 'ascii',
  begins: 'mid-line',
  clock: fakeClock(),
  onLine: () => undefined,
  onDropped: () => undefined,
  onLost: () => undefined,
  ...more,
});

describe('a connection', () => {
  it('sets the handshake lines as described and goes on where there are none', async () => {
    const hand = portInHand();
    const opening = openConnection(options(hand.port));
    await until(() => hand.asked.includes('open'), 'the opening');
    hand.finish();
    expect((await opening).kind).toBe('open');
    expect(hand.asked).toEqual(['hear', 'open', 'lines false true']);
  });

  it('throws away what was waiting before it listens, when it begins by asking', async () => {
    const hand = portInHand();
    const lines: string[] = [];
    const opening = openConnection(options(hand.port, { begins: 'flushed', onLine: (text) => lines.push(text) }));
    await until(() => hand.asked.includes('open'), 'the opening');
    hand.finish();
    await opening;
    expect(hand.asked).toEqual(['open', 'lines false true', 'flush', 'hear']);
    hand.send('118.6 V\n');
    await until(() => lines.length === 1, 'the first line');
    expect(lines).toEqual(['118.6 V']);
  });

  it('gives up waiting for a port that does not open, and closes it when it opens late', async () => {
    const hand = portInHand();
    const clock = fakeClock();
    const opening = openConnection(options(hand.port, { clock }));
    await until(() => clock.waiting === 1, 'the wait');
    clock.advance(5000);
    const opened = await opening;
    expect(opened).toMatchObject({ kind: 'failed', why: 'open-timeout' });
    expect(hand.asked).not.toContain('close');
    hand.finish();
    if (opened.kind === 'failed') await opened.settled;
    expect(hand.asked).toContain('close');
  });

  it('does not open a second time while the first opening hangs', async () => {
    const hand = portInHand();
    const clock = fakeClock();
    let ports = 0;
    const newPort = () => {
      ports += 1;
      return hand.port;
    };
    const said: (string | null)[] = [];
    const link = new Link({
      meterId: 1,
      meter: serialMeter(),
      origin: 'meter',
      newPort,
      clock,
      onReading: () => undefined,
      onStatus: ({ why }) => said.push(why),
    });
    link.start();
    await until(() => clock.waiting === 1, 'the wait');
    clock.advance(5000);
    await until(() => said.includes('open-timeout'), 'the timeout');
    clock.advance(60_000);
    expect(ports).toBe(1);
    hand.finish();
    await until(() => clock.waiting === 1, 'the next attempt planned');
    clock.advance(250);
    await until(() => ports === 2, 'the second port');
    hand.finish();
    await link.stop();
  });

  it('hears nothing of a port that opened too late, and is not told when that is lost', async () => {
    const hand = portInHand();
    const clock = fakeClock();
    const told: string[] = [];
    const onLine = (text: string) => told.push(text);
    const opening = openConnection(options(hand.port, { clock, onLine, onLost: () => told.push('lost') }));
    await until(() => clock.waiting === 1, 'the wait');
    clock.advance(5000);
    await opening;
    hand.send('half a line\n118.6 V\n');
    hand.lose();
    await new Promise(setImmediate);
    expect(told).toEqual([]);
  });

  it('loses a port whose lead is pulled while it is being set, and watches only the one that comes after', async () => {
    const [pulled, next] = [portInHand(), portInHand()];
    const setting = Promise.withResolvers<undefined>();
    let isSetting = false;
    const ports = [
      {
        ...pulled.port,
        setLines: () => {
          isSetting = true;
          return setting.promise;
        },
      },
      next.port,
    ];
    const clock = fakeClock();
    const said: string[] = [];
    const link = new Link({
      meterId: 1,
      meter: serialMeter(),
      origin: 'meter',
      newPort: () => ports.shift() ?? next.port,
      clock,
      onReading: () => undefined,
      onStatus: ({ state, why }) => said.push(why === null ? state : `${state}: ${why}`),
    });
    link.start();
    await until(() => pulled.asked.includes('open'), 'the opening');
    pulled.finish();
    await until(() => isSetting, 'the lines being set');
    pulled.lose();
    setting.resolve(undefined);
    await until(() => clock.waiting === 1, 'the next attempt planned');
    clock.advance(250);
    await until(() => next.asked.includes('open'), 'the next opening');
    next.finish();
    await until(() => next.asked.includes('lines true true') && clock.waiting === 1, 'the next port watched');
    for (let line = 0; line < 4; line += 1) {
      next.send('118.6 V AC\n118.6 V AC\n');
      await new Promise(setImmediate);
      clock.advance(1000);
    }
    expect(said).toEqual(['connecting', 'lost: port-lost', 'connecting', 'answering']);
    await link.stop();
    expect(clock.waiting).toBe(0);
  });
});
