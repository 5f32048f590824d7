import type { SerialMeter } from '../../src-shared/meter/description.ts';
import { heardInWords, type HeardLine } from '../../src-shared/meter/heard-line.ts';
import type { LinkStatus } from '../../src-shared/meter/link-status.ts';
import type { PortSettings } from '../../src-shared/meter/port-settings.ts';
import type { Clock } from '../bench/clock.ts';
import { Link } from './link.ts';
import type { MeterPort } from './meter-port.ts';
import { systemPort } from './system-port.ts';

export interface TryOptions {
  /** A description that need not be saved. */
  readonly meter: SerialMeter;
  readonly clock: Pick<Clock, 'monoMs' | 'wallMs' | 'after'>;
  /** Every line from the wire, how it was read or why not, and the sentence for it. */
  readonly onLine: (line: HeardLine, sentence: string) => void;
  readonly onStatus: (status: LinkStatus) => void;
  readonly newPort?: (settings: PortSettings) => MeterPort | Promise<MeterPort>;
}

/** A trial in progress. */
export interface Trial {
  /** Resolves when the port is free again. */
  stop(): Promise<void>;
}

/** Opens the port of a description on trial, over the very link that its readings will come by. */
export function tryMeter({ meter, clock, onLine, onStatus, newPort = systemPort }: TryOptions): Trial {
  const link = new Link({
    meterId: 0,
    meter,
    origin: 'meter',
    newPort: () => newPort(meter.port),
    clock,
    onReading: () => undefined,
    onStatus,
    onHeard: (line) => {
      onLine(line, heardInWords(line));
    },
  });
  link.start();
  return { stop: () => link.stop() };
}
