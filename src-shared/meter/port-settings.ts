import * as v from 'valibot';
import { flag, line, ofObject, oneOf } from './field.ts';

/** The rates that meters with a serial line use, in baud. */
export const baudRates = [
  300, 600, 1200, 2400, 4800, 9600, 14400, 19200, 38400, 57600, 115200, 230400, 460800, 921600,
] as const;

/** How a serial line is opened. */
export const PortSettings = v.strictObject(
  {
    /** Where the port is, such as `/dev/ttyUSB0` or `COM3`. */
    path: line('Port', 400),
    /** What names the adapter for good, so that it is found when its path has changed; null when nothing does. */
    identity: v.nullable(line('Identity of the port', 400)),
    baudRate: oneOf('Baud rate', baudRates),
    dataBits: oneOf('Data bits', [7, 8]),
    parity: oneOf('Parity', ['none', 'even', 'odd', 'mark', 'space']),
    stopBits: oneOf('Stop bits', [1, 2]),
    /** Levels of the two handshake lines while the port is open. Some adapters are powered by them. */
    dtr: flag('DTR'),
    rts: flag('RTS'),
  },
  ofObject('Port settings'),
);
export type PortSettings = v.InferOutput<typeof PortSettings>;

/** What most serial meters ask for. */
export const usualPortSettings = {
  identity: null,
  baudRate: 9600,
  dataBits: 8,
  parity: 'none',
  stopBits: 1,
  dtr: true,
  rts: true,
} as const satisfies Omit<PortSettings, 'path'>;
