import type { Asked } from '../../part/read-quantity.ts';

type Boxes = Readonly<Record<string, Asked>>;

/** What the boxes of a plan ask, in the record's units; bounds are those of the calculation or of common sense. */
export const planAsked = {
  primaryVolts: { name: 'Volts on the primary', unit: 'V', lowest: 1, highest: 1000 },
  breaker: { name: 'Breaker or fuse of the circuit', unit: 'A', lowest: 0.1, highest: 1000 },
  added: { name: 'Added turns', unit: '', lowest: -10_000, highest: 10_000 },
  addedWire: { name: 'Bare wire of the added turns', unit: 'mm', lowest: 0.02, highest: 50 },
  mostAmps: { name: 'Most no-load amps', unit: 'A', lowest: 0.0001, highest: 1000 },
  mostWatts: { name: 'Most no-load watts', unit: 'W', lowest: 0.001, highest: 100_000 },
  windowWidth: { name: 'Free width', unit: 'mm', lowest: 1, highest: 500 },
  windowHeight: { name: 'Free height', unit: 'mm', lowest: 1, highest: 1000 },
  inner: { name: 'Underneath, on the limb', unit: 'mm', lowest: 0, highest: 500 },
  base: { name: 'Former or base', unit: 'mm', lowest: 0, highest: 50 },
  between: { name: 'Between windings', unit: 'mm', lowest: 0, highest: 50 },
  interlayer: { name: 'Interlayer', unit: 'mm', lowest: 0, highest: 10 },
  margin: { name: 'Margin at each end', unit: 'mm', lowest: 0, highest: 50 },
  clearance: { name: 'Clearance outside', unit: 'mm', lowest: 0, highest: 50 },
  density: { name: 'Highest current density', unit: 'A/mm²', lowest: 0.1, highest: 20 },
  fill: { name: 'Window that wire may fill', unit: '', lowest: 1, highest: 100 },
  tesla: { name: 'Ceiling of the flux', unit: '', lowest: 0.1, highest: 2.2 },
  celsius: { name: 'Windings under load', unit: '°C', lowest: -30, highest: 250 },
  line: { name: 'Line high and low', unit: '', lowest: 0, highest: 50 },
  leakage: { name: 'Leakage reactance', unit: 'Ω', lowest: 0, highest: 100_000 },
  rise: { name: 'Rise if left on for ever', unit: 'K', lowest: 0.1, highest: 1000 },
  minutes: { name: 'Time constant', unit: '', lowest: 0.1, highest: 10_000 },
  onMinutes: { name: 'On', unit: '', lowest: 0.1, highest: 10_000 },
  offMinutes: { name: 'Off', unit: '', lowest: 0.1, highest: 10_000 },
  limitRise: { name: 'Rise allowed', unit: 'K', lowest: 0.1, highest: 500 },
} as const satisfies Boxes;

/** What stands in these changes no winding: the plan is made while they cannot be read. */
export const besideTheWindings: readonly (keyof typeof planAsked)[] = [
  'breaker',
  'mostAmps',
  'mostWatts',
  'rise',
  'minutes',
  'onMinutes',
  'offMinutes',
  'limitRise',
];

/** What the boxes of one output ask. */
export const outputAsked = {
  loadVolts: { name: 'Load volts', unit: 'V', lowest: 0.1, highest: 1000 },
  loadAmps: { name: 'Load amps', unit: 'A', lowest: 0.01, highest: 10_000 },
  powerFactor: { name: 'Power factor', unit: '', lowest: 0.05, highest: 1 },
  room: { name: 'Thickness that it may take', unit: 'mm', lowest: 0.1, highest: 500 },
} as const satisfies Boxes;

/** What the box of a tap asks. */
export const tapAsked = { name: 'Volts of the tap', unit: 'V', lowest: 0.1, highest: 1000 } as const satisfies Asked;

export type PlanKey = keyof typeof planAsked;
export type OutputKey = keyof typeof outputAsked;
const keysOf = <T extends Boxes>(boxes: T): readonly (keyof T & string)[] => Object.keys(boxes);
export const planKeys: readonly PlanKey[] = keysOf(planAsked);
export const outputKeys: readonly OutputKey[] = keysOf(outputAsked);

/** What can be read of the boxes; a box that is empty or refused is absent. */
export type PlanNumbers = { readonly [Key in PlanKey]?: number };
export type OutputNumbers = { readonly [Key in OutputKey]?: number };

/** Usual figures to begin with: common practice, no source. */
export const usual: PlanNumbers = {
  added: 0,
  base: 1,
  between: 1,
  interlayer: 0.1,
  margin: 2,
  clearance: 1,
  density: 5,
  fill: 60,
  tesla: 1.6,
  celsius: 75,
  line: 10,
};
