import { SerialPort, type SerialPortMock } from 'serialport';
import type { PortSettings } from '../../src-shared/meter/port-settings.ts';
import { watchForHangUp } from './hang-up.ts';

/**
 * One connection to a meter: opened once, closed once, never reopened, because what was written to a closed port would
 * be sent by the next opening. Serial ports, practice meters and recordings all stand behind it.
 */
export interface MeterPort {
  readonly isOpen: boolean;
  /** Rejects with what the system said. */
  open(): Promise<void>;
  /** Resolves when the port is free again, also when it was not open. */
  close(): Promise<void>;
  /** Sends the text; rejects when the port is not open. */
  write(text: string): Promise<void>;
  /** Throws away what has arrived and was not read. */
  flush(): Promise<void>;
  /** Sets the handshake lines. Rejects where there are none, as on a pseudo terminal. */
  setLines(lines: { readonly dtr: boolean; readonly rts: boolean }): Promise<void>;
  onData(act: (bytes: Uint8Array) => void): void;
  /** Once, when an open port is gone without having been closed from here. */
  onLost(act: () => void): void;
}

type Done = (error: Error | null | undefined) => void;
const asPromise = (start: (done: Done) => void): Promise<void> =>
  new Promise((resolve, reject) => {
    start((error) => {
      if (error) reject(error);
      else resolve();
    });
  });

/** A serial port that has not been opened yet, as a meter's port. */
export function wrapSerialPort(port: SerialPort | SerialPortMock): MeterPort {
  // Without a listener an error event ends the program; every error that matters comes by callback or with the close.
  port.on('error', () => undefined);
  return {
    get isOpen() {
      return port.isOpen;
    },
    open: () => asPromise((done) => port.open(done)),
    close: () => (port.isOpen ? asPromise((done) => port.close(done)) : Promise.resolve()),
    write: (text) =>
      port.isOpen
        ? asPromise((done) => port.write(text, 'latin1', done))
        : Promise.reject(new Error('The port is not open.')),
    flush: () => asPromise((done) => port.flush(done)),
    setLines: (lines) => asPromise((done) => port.set(lines, done)),
    onData: (act) => void port.on('data', act),
    onLost: (act) =>
      void port.on('close', (error: Error | null | undefined) => {
        if (error) act();
      }),
  };
}

const canAskRate = (device: unknown): device is { getBaudRate(): Promise<unknown> } =>
  typeof device === 'object' && device !== null && 'getBaudRate' in device;

/** The system's serial port with these settings, not opened yet. A device that goes away is noticed within a second. */
export function serialPort({ path, baudRate, dataBits, parity, stopBits }: PortSettings): MeterPort {
  const port = new SerialPort({ path, baudRate, dataBits, parity, stopBits, autoOpen: false });
  const wrapped = wrapSerialPort(port);
  const open = wrapped.open.bind(wrapped);
  const onLost = wrapped.onLost.bind(wrapped);
  let tellLost: () => void = () => undefined;
  const watched = {
    isOpen: () => port.isOpen,
    askRate: async () => {
      const device: unknown = port.port;
      if (!canAskRate(device)) throw new Error('The port cannot be asked for its rate.');
      return await device.getBaudRate();
    },
  };
  return Object.assign(wrapped, {
    open: async () => {
      await open();
      await watchForHangUp(watched, path, () => {
        void wrapped.close().catch(() => undefined);
        tellLost();
      });
    },
    onLost: (act: () => void) => {
      tellLost = act;
      onLost(act);
    },
  });
}
