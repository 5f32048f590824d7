import { describe, expect, it } from 'vitest';
import { systemClock } from '../../../src-main/bench/clock.ts';
import {
  listenToPort,
  type ListenOptions,
  type Listened,
  type Listening,
} from '../../../src-main/meter/listen-rates.ts';
import { virtualPort } from '../../../src-main/meter/virtual-port.ts';
import type { PortSettings } from '../../../src-shared/meter/port-settings.ts';
import { fakeClock } from './fake-clock.ts';
import { openPtyPair } from './pty-pair.ts';
import { receive, type Framing } from './uart.ts';

/** A meter on a wire: what it sends twice a second, as a port at any setting would receive it. */
function listenTo(
  line: string,
  framing: Framing,
  more: Partial<ListenOptions> & { powered?: (lines: { dtr: boolean; rts: boolean }) => boolean } = {},
): { listening: Listening; tried: PortSettings[]; open: () => number; run: () => Promise<Listened> } {
  const clock = fakeClock();
  const tried: PortSettings[] = [];
  let open = 0;
  const { powered = () => true, ...options } = more;
  const listening = listenToPort({
    path: '/dev/meter',
    clock,
    onTrying: (settings) => tried.push(settings),
    newPort: (settings) => {
      let callOff = () => undefined as void;
      let lines = { dtr: false, rts: false };
      const port = virtualPort({
        opened: (deliver) => {
          open += 1;
          const send = () => {
            const bytes = Buffer.from(line, 'latin1');
            if (powered(lines)) deliver(receive(bytes, framing, settings.baudRate));
            callOff = clock.after(500, send);
          };
          callOff = clock.after(130, send);
        },
        closed: () => {
          open -= 1;
          callOff();
        },
      });
      return Object.assign(port, {
        setLines: (set: { dtr: boolean; rts: boolean }) => {
          lines = set;
          return Promise.resolve();
        },
      });
    },
    ...options,
  });
  const run = async (): Promise<Listened> => {
    let result: Listened | undefined;
    void listening.result.then((listened) => {
      result = listened;
    });
    for (let step = 0; step < 5000 && result === undefined; step += 1) {
      clock.advance(100);
      await new Promise((resolve) => setImmediate(resolve));
    }
    return result ?? { kind: 'stopped' };
  };
  return { listening, tried, open: () => open, run };
}

const meter: Framing = { baudRate: 2400, dataBits: 8, parity: 'none' };

describe('listening to a port', () => {
  it.each([300, 1200, 2400, 9600, 19200, 115200])(
    'finds the rate of a meter that sends at %d baud',
    async (baudRate) => {
      const { run, open } = listenTo('118.64 V AC\r\n', { ...meter, baudRate });
      const listened = await run();
      expect(listened).toMatchObject({ kind: 'heard', settings: { baudRate, dataBits: 8, parity: 'none' } });
      expect(listened.kind === 'heard' && listened.hearing.sureness).toBe('sure');
      expect(open()).toBe(0);
    },
  );

  it('finds seven data bits with parity, and a decimal comma', async () => {
    const { run } = listenTo('0,9874 V~\r\n', { baudRate: 4800, dataBits: 7, parity: 'even' });
    expect(await run()).toMatchObject({
      settings: { baudRate: 4800, dataBits: 7, parity: 'even' },
      hearing: { sureness: 'sure', decimal: 'comma' },
      sentence: expect.stringMatching(/^4800 baud, 7 data bits, even parity: \d+ whole lines/),
    });
  });

  it('finds the handshake lines that power an adapter', async () => {
    const { run, tried } = listenTo('118.64 V AC\r\n', meter, { powered: ({ dtr, rts }) => dtr && !rts });
    expect(await run()).toMatchObject({ settings: { baudRate: 2400, dtr: true, rts: false } });
    expect(tried.map(({ baudRate, dtr, rts }) => [baudRate, dtr, rts])).toEqual([
      [9600, true, true],
      [1200, true, true],
      [9600, true, false],
      [2400, true, false],
    ]);
  });

  it('says that nothing arrives, having tried the lines but not every rate', async () => {
    const { run, tried } = listenTo('', meter);
    expect(await run()).toMatchObject({ kind: 'nothing', sentence: expect.stringContaining('Nothing arrives') });
    expect(tried).toHaveLength(6);
  });

  it('says what it is not sure of', async () => {
    const binary = '\x81\x02\xf3\x00\x14\x95\xe0\x07\xb1'.repeat(4);
    expect(await listenTo(binary, meter).run()).toMatchObject({ kind: 'heard', hearing: { sureness: 'unclear' } });
    const text = await listenTo('MODE;STEADY\r\n', meter).run();
    expect(text).toMatchObject({ kind: 'heard', settings: { baudRate: 2400 }, hearing: { sureness: 'likely' } });
  });

  it('ends when told to, with the port free', async () => {
    const { listening, run, open } = listenTo('', meter);
    listening.stop();
    expect(await run()).toEqual({ kind: 'stopped' });
    expect(open()).toBe(0);
  });

  it('says why a port does not open', async () => {
    const listening = listenToPort({ path: '/dev/nothing-of-this-name', clock: systemClock });
    expect(await listening.result).toMatchObject({ kind: 'failed', why: 'not-found' });
  });

  it('hears a meter on a real pair of pseudo terminals', async () => {
    const pair = await openPtyPair();
    const listening = listenToPort({ path: pair.programEnd, clock: systemClock });
    const sending = setInterval(() => void pair.write('118.6 V AC\r\n'), 50);
    expect(await listening.result).toMatchObject({ kind: 'heard', hearing: { sureness: 'sure' } });
    clearInterval(sending);
    await pair.close();
  });
});
