import type { NeedFields } from '../../../src-shared/record/need.ts';
import type { PlanFields } from '../../../src-shared/record/plan.ts';
import type { PlannedOutput } from '../../../src-shared/record/planned-output.ts';

export const cutterNeed: NeedFields = {
  label: 'Foam cutter, long bow',
  volts: 24,
  amps: 9.5,
  feeds: 'ac',
  use: { kind: 'on-off', onMinutes: 10, offMinutes: 20 },
  circuit: { volts: 230, hertz: 50, amps: 16 },
};

/** The winding of the 24 V output as it is to be wound. */
export const cutterOutput: PlannedOutput = {
  key: 'a',
  label: 'Cutter',
  loadVolts: 24,
  loadAmps: 9.5,
  powerFactor: 1,
  turns: 22,
  taps: [{ label: '12 V', turns: 11, noLoadVolts: { value: 12.5, u: 0.1 } }],
  wire: { kind: 'round', name: '1.4 mm', strands: 2, strandsDeep: 1, bareDiameterMm: 1.4, overallMm: 1.514 },
  layers: [
    { turns: 13, fromMm: 9, depthMm: 1.514 },
    { turns: 9, fromMm: 10.6, depthMm: 1.514 },
  ],
  baseMm: 1,
  interlayerMm: 0.1,
  marginMm: 2,
  lengthMm: 5900,
  copperKg: 0.16,
  predicted: {
    noLoadVolts: { value: 25, u: 0.1 },
    loadVolts: { value: 24, u: 0.2 },
    ohms: { value: 0.036, u: null },
    celsius: 75,
    lossWatts: { value: 9, u: null },
    currentDensity: { value: 3.1, u: null },
  },
};

/** A version of a plan that stands on rows of the record. */
export const cutterPlan = (rests: PlanFields['rests'], more: Partial<PlanFields> = {}): PlanFields => ({
  title: 'Foam cutter supply',
  addedTurns: 0,
  opening: 'closed',
  asked: {
    units: 'metric',
    whole: { primaryVolts: '230', strands: 8, over50: false },
    outputs: [{ loadVolts: '24', loadAmps: '9,5' }],
  },
  outputs: [cutterOutput],
  window: { widthMm: 22, heightMm: 46, innerMm: 8, clearanceMm: 1, leftMm: 8.9 },
  line: { volts: 230, hertz: 50 },
  noLoad: { amps: null, watts: null, ampsIfOpposing: null },
  rests,
  ...more,
});
