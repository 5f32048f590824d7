import { SerialPortMock } from 'serialport';
import { dirname } from 'node:path';
import { serialPort, wrapSerialPort, type MeterPort } from '../../../src-main/meter/meter-port.ts';
import { usualPortSettings, type PortSettings } from '../../../src-shared/meter/port-settings.ts';
import { virtualPort } from '../../../src-main/meter/virtual-port.ts';
import { openPtyPair } from './pty-pair.ts';
import { until } from './until.ts';

// The instance that the library itself uses: its module form would be another one, with other ports.
const MockBinding: { reset(): void; createPort(path: string): void } = SerialPortMock.binding;

/** A meter at the other end of a lead, however the lead is made. */
export interface Wire {
  readonly path: string;
  newPort(settings: PortSettings): MeterPort;
  /** Sends from the meter. */
  send(bytes: Uint8Array | string): Promise<void>;
  /** Hears what the program sends to the meter. */
  onSent(act: (text: string) => void): void;
  /** Pulls the lead. */
  pull(): Promise<void>;
  /** Puts it back. */
  putBack(): Promise<void>;
  close(): Promise<void>;
}

export const settingsFor = (path: string): PortSettings => ({ path, ...usualPortSettings });

/** The library's own pretended binding. */
export function mockWire(): Promise<Wire> {
  const path = '/dev/pretended';
  let port: SerialPortMock | undefined;
  let ear: (text: string) => void = () => undefined;
  MockBinding.reset();
  MockBinding.createPort(path);
  return Promise.resolve({
    path,
    newPort: ({ baudRate }) => {
      port = new SerialPortMock({ path, baudRate, autoOpen: false });
      const wrapped = wrapSerialPort(port);
      const write = wrapped.write.bind(wrapped);
      return Object.assign(wrapped, {
        write: async (text: string) => {
          await write(text);
          ear(text);
        },
      });
    },
    onSent: (act) => {
      ear = act;
    },
    send: async (bytes) => {
      await until(() => port?.isOpen === true, 'the pretended port open');
      const meter: { emitData(data: Buffer): void } | undefined = port?.port;
      meter?.emitData(typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : Buffer.from(bytes));
    },
    pull: () => {
      port?._disconnected(new Error('pulled'));
      MockBinding.reset();
      return Promise.resolve();
    },
    putBack: () => {
      MockBinding.createPort(path);
      return Promise.resolve();
    },
    close: () => {
      MockBinding.reset();
      return Promise.resolve();
    },
  });
}

/** A real pair of pseudo terminals and the real binding. */
export async function ptyWire(): Promise<Wire> {
  let pair = await openPtyPair();
  return {
    path: pair.programEnd,
    newPort: serialPort,
    send: (bytes) => pair.write(bytes),
    onSent: (act) => {
      pair.onSent((bytes) => {
        act(Buffer.from(bytes).toString('latin1'));
      });
    },
    pull: () => pair.pull(),
    putBack: async () => {
      pair = await openPtyPair(dirname(pair.meterEnd));
    },
    close: () => pair.close(),
  };
}

/** A port inside the program, as recordings and practice meters use it. */
export function virtualWire(): Promise<Wire> {
  let meter: { deliver: (bytes: Uint8Array) => void; lose: () => void } | null = null;
  let isThere = true;
  let ear: (text: string) => void = () => undefined;
  return Promise.resolve({
    path: 'inside',
    newPort: () =>
      virtualPort({
        opened: (deliver, lose) => {
          if (!isThere) throw new Error('No such file or directory');
          meter = { deliver, lose };
        },
        closed: () => undefined,
        heard: (text) => {
          ear(text);
        },
      }),
    send: (bytes) => {
      meter?.deliver(typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : bytes);
      return Promise.resolve();
    },
    onSent: (act) => {
      ear = act;
    },
    pull: () => {
      isThere = false;
      meter?.lose();
      return Promise.resolve();
    },
    putBack: () => {
      isThere = true;
      return Promise.resolve();
    },
    close: () => Promise.resolve(),
  });
}

/** Tells how the last opening of a port went. */
export interface Watch {
  /** The port itself, watched from now on. */
  over(port: MeterPort): MeterPort;
  opening: 'none' | 'pending' | 'open' | 'failed';
  /** How many ports were opened so far. */
  opened: number;
}

export function watchOpenings(): Watch {
  const watch: Watch = {
    opening: 'none',
    opened: 0,
    over: (port) => {
      watch.opening = 'pending';
      const open = port.open.bind(port);
      return Object.assign(port, {
        open: () =>
          open().then(
            () => {
              watch.opening = 'open';
              watch.opened += 1;
            },
            (error: unknown) => {
              watch.opening = 'failed';
              throw error;
            },
          ),
      });
    },
  };
  return watch;
}
