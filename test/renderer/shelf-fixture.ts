import type { WindingFields } from '../../src-shared/record/build.ts';
import type { CoreFields } from '../../src-shared/record/core.ts';
import type { SerialMeter } from '../../src-shared/meter/description.ts';

/** Invented: the props workshop of a small touring theatre, and what lies on its shelf. */
export const dimmerCore: CoreFields = {
  label: 'Dimmer core B',
  origin: 'from a retired lighting-dimmer cabinet',
  shape: 'shell',
  mass: { value: 4.62, u: 0.01 },
  massIs: 'as-pulled',
  tongue: { value: 40, u: 0.1 },
  stack: { value: 52, u: 0.3 },
  windowWidth: { value: 20, u: 0.1 },
  windowHeight: { value: 60, u: 0.1 },
  fromVolts: 230,
  fromHertz: 50,
};

export const ovenCore: CoreFields = {
  label: 'Canteen oven',
  origin: 'microwave oven from the old canteen, welded seams',
  shape: 'shell',
  fromAppliance: true,
  mass: { value: 3.9, u: 0.02 },
  massIs: 'as-pulled',
};

export const bellCore: CoreFields = {
  label: 'Doorbell, stage left',
  shape: 'two-limb',
  mass: { value: 0.42, u: null },
};

export const ringCore: CoreFields = {
  label: 'Ring from the amplifier rack',
  shape: 'toroid',
  mass: { value: 2.1, u: 0.01 },
  tongue: { value: 27, u: 0.5 },
  stack: { value: 48, u: 0.5 },
  windowWidth: { value: 46, u: 1 },
};

export const primary: WindingFields = {
  label: 'Primary',
  role: 'primary',
  turns: { kind: 'estimated', value: 371.6, u: 0.9, resultId: null },
  metal: 'copper',
  bareDiameter: { value: 0.8, u: 0.01 },
  ohms: { value: 3.31, u: 0.03 },
  ohmsCelsius: 21,
  oneEndOnCore: 'no',
  onPlug: true,
};

export const secondary: WindingFields = {
  label: 'Secondary',
  role: 'secondary',
  turns: { kind: 'counted', turns: 41 },
  metal: 'copper',
  bareDiameter: { value: 2.5, u: 0.05 },
  oneEndOnCore: 'no',
  onPlug: false,
};

export const unknownPrimary: WindingFields = {
  label: 'Primary',
  role: 'primary',
  turns: { kind: 'unknown' },
  metal: 'not-known',
  oneEndOnCore: 'not-looked',
  onPlug: true,
};

export const highVoltage: WindingFields = {
  label: 'High-voltage winding',
  role: 'secondary',
  turns: { kind: 'unknown' },
  metal: 'not-known',
  oneEndOnCore: 'yes',
  onPlug: false,
};

export const benchMeter: SerialMeter = {
  kind: 'serial',
  label: 'Bench meter',
  responding: 'true-rms',
  ranges: [
    {
      unit: 'V',
      coupling: 'ac',
      top: 200,
      resolution: 0.01,
      percentOfReading: 1.2,
      digits: 5,
      shape: 'rectangular',
    },
  ],
  scales: [],
  maxVolts: 600,
  category: 'CAT III 600 V',
  typicalIntervalMs: 500,
  port: {
    path: '/dev/ttyUSB0',
    identity: null,
    baudRate: 9600,
    dataBits: 8,
    parity: 'none',
    stopBits: 1,
    dtr: true,
    rts: true,
  },
  talk: { mode: 'listen' },
  format: { grammar: 'generic', encoding: 'ascii', decimal: 'point' },
  values: [],
  bareUnit: null,
  linkIsolated: 'yes',
};
