import type { KeyboardMeter, SerialMeter } from '../../../src-shared/meter/description.ts';
import { usualPortSettings } from '../../../src-shared/meter/port-settings.ts';
import type { MeterRange } from '../../../src-shared/meter/range.ts';

/** An a.c. volts range of an invented hand meter: 1 % of reading and 5 digits. */
export const acVolts = (top: number, resolution: number, more: Partial<MeterRange> = {}): MeterRange => ({
  unit: 'V',
  coupling: 'ac',
  top,
  resolution,
  percentOfReading: 1,
  digits: 5,
  shape: 'rectangular',
  ...more,
});

const common = {
  label: 'Grey hand meter',
  responding: 'true-rms',
  ranges: [acVolts(6, 0.001), acVolts(60, 0.01), acVolts(600, 0.1)],
  scales: [],
  maxVolts: 600,
  category: 'CAT III 600 V',
  typicalIntervalMs: 500,
} satisfies Partial<KeyboardMeter>;

/** An invented meter that sends a line twice a second. */
export const serialMeter = (more: Partial<SerialMeter> = {}): SerialMeter => ({
  kind: 'serial',
  ...common,
  port: { path: '/dev/ttyUSB0', ...usualPortSettings },
  talk: { mode: 'listen' },
  format: { grammar: 'generic', encoding: 'ascii', decimal: 'point' },
  values: [],
  bareUnit: null,
  linkIsolated: 'yes',
  ...more,
});

/** The same meter without its lead. */
export const keyboardMeter = (more: Partial<KeyboardMeter> = {}): KeyboardMeter => ({
  kind: 'keyboard',
  ...common,
  ...more,
});
