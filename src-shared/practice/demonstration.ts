import type { BuildFields, WindingFields } from '../record/build.ts';
import type { CoreFields, DemonstrationId } from '../record/core.ts';
import type { Metal } from '../calculation/conductor.ts';
import type { Heating } from './heating.ts';
import type { Iron } from './iron.ts';

/** A core that is invented, with what the shelf shows of it and what is behind it. */
export interface DemonstrationCore {
  readonly core: CoreFields & { readonly demonstration: DemonstrationId };
  readonly windings: readonly WindingFields[];
  readonly build: BuildFields;
  readonly truth: DemonstrationTruth;
}

/** What the practice meters are joined to; the shelf does not tell. By role: turns, Ω of a turn at 20 °C, and metal. */
export interface DemonstrationTruth {
  readonly iron: Iron;
  readonly heating: Heating;
  readonly turns: ByRole<number>;
  readonly ohmsPerTurn: ByRole<number>;
  readonly metal: ByRole<Metal>;
  /** Leakage of a winding over the square of its turns, in H. */
  readonly leakage: number;
}
type ByRole<T> = Readonly<Record<WindingFields['role'], T>>;

/** Sheets of a plain silicon steel, invented: the knee lies a little under 1.6 T. */
const sheets: Omit<Iron, 'areaM2' | 'gapM'> = {
  pathM: 0.24,
  linear: 80,
  saturating: 1.1,
  exponent: 14,
  hysteresis: 55,
  steinmetz: 1.8,
  eddy: 0.03,
};
/** The same knee with two and a half times the loss, invented. */
const lossySheets: typeof sheets = { ...sheets, hysteresis: 140, eddy: 0.08 };
/** Of a 5 kg core with its windings, invented. */
const heating: Heating = {
  windingCapacity: 420,
  coreCapacity: 2100,
  windingToRoom: 0.28,
  coreToRoom: 0.75,
  between: 2.6,
};
const copper: ByRole<Metal> = { primary: 'copper', secondary: 'copper', 'test-coil': 'copper', other: 'copper' };

const origin = 'Retired lighting-dimmer cabinet of the touring theatre';

const asFound: BuildFields = { title: 'as found, test coil wound on', joint: 'as-welded', shunts: 'none' };

const testCoil: WindingFields = {
  label: 'Test coil, 10 turns',
  role: 'test-coil',
  turns: { kind: 'counted', turns: 10 },
  metal: 'copper',
  oneEndOnCore: 'no',
  onPlug: false,
  note: 'Bell wire, ten whole turns, both leads out on the same side.',
};

const primary: WindingFields = {
  label: 'Primary',
  role: 'primary',
  turns: { kind: 'unknown' },
  metal: 'copper',
  oneEndOnCore: 'no',
  onPlug: true,
};

const measuredPrimary: WindingFields = {
  ...primary,
  bareDiameter: { value: 0.95, u: 0.02 },
  ohms: { value: 2.9, u: 0.05 },
  ohmsCelsius: 20,
};

const secondary: WindingFields = {
  label: 'Old secondary',
  role: 'secondary',
  turns: { kind: 'unknown' },
  metal: 'not-known',
  oneEndOnCore: 'not-looked',
  onPlug: false,
};

/** Two invented 230 V cores: one that is nearly known, one of which little is. */
export const demonstrationCores: readonly DemonstrationCore[] = [
  {
    core: {
      demonstration: 'dimmer-a',
      label: 'Dimmer core A',
      origin,
      shape: 'shell',
      fromAppliance: false,
      mass: { value: 5.3, u: 0.05 },
      massIs: 'as-pulled',
      tongue: { value: 40, u: 0.2 },
      stack: { value: 52, u: 0.5 },
      windowWidth: { value: 20, u: 0.2 },
      windowHeight: { value: 60, u: 0.3 },
      fromVolts: 230,
      fromHertz: 50,
      note: 'For the 24 V supply of the hot-wire foam cutters.',
    },
    windings: [measuredPrimary, secondary, testCoil],
    build: asFound,
    truth: {
      iron: { ...sheets, areaM2: 1.976e-3, gapM: 3e-5 },
      heating,
      turns: { primary: 412, secondary: 22, 'test-coil': 10, other: 100 },
      ohmsPerTurn: { primary: 2.9 / 412, secondary: 0.0019, 'test-coil': 0.02, other: 0.01 },
      metal: copper,
      leakage: 3.2e-8,
    },
  },
  {
    core: {
      demonstration: 'dimmer-b',
      label: 'Dimmer core B',
      origin,
      shape: 'shell',
      fromAppliance: false,
      tongue: { value: 40, u: 0.5 },
      stack: { value: 51, u: 1 },
      fromVolts: 230,
      fromHertz: 50,
    },
    windings: [primary, testCoil],
    build: asFound,
    truth: {
      iron: { ...lossySheets, areaM2: 1.938e-3, gapM: 4.5e-5 },
      heating,
      // Wound with few turns, as cheap ones are: at 230 V it is driven past its knee, and runs warm.
      turns: { primary: 312, secondary: 22, 'test-coil': 10, other: 100 },
      ohmsPerTurn: { primary: 4.9 / 312, secondary: 0.003, 'test-coil': 0.02, other: 0.01 },
      metal: { ...copper, primary: 'aluminium' },
      leakage: 3.2e-8,
    },
  },
];

/** What is behind a demonstration core. */
export function demonstrationTruth(id: DemonstrationId): DemonstrationTruth {
  const found = demonstrationCores.find(({ core }) => core.demonstration === id);
  if (found === undefined) throw new Error(`A demonstration core without its truth: ${id}.`);
  return found.truth;
}
