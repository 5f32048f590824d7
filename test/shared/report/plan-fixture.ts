import type { Build } from '../../../src-shared/record/build.ts';
import type { Core } from '../../../src-shared/record/core.ts';
import type { PlanVersion } from '../../../src-shared/record/plan.ts';
import type { PlannedOutput } from '../../../src-shared/record/planned-output.ts';
import type { BuildSheetParts } from '../../../src-shared/report/build-sheet/facts.ts';

/** Everything here is invented: the props workshop of a small touring theatre and its 24 V foam cutters. */
const madeMs = Date.UTC(2031, 2, 14, 9);

export const core: Core = {
  coreId: 1,
  revisionId: 1,
  replaces: null,
  reason: null,
  wallMs: madeMs,
  fields: {
    label: 'Dimmer core B',
    shape: 'shell',
    mass: { value: 4.62, u: 0.01 },
    tongue: { value: 40, u: 0.1 },
    stack: { value: 52, u: 0.3 },
    windowWidth: { value: 22, u: 0.1 },
    windowHeight: { value: 60, u: 0.1 },
  },
};

export const build: Build = {
  buildId: 2,
  coreId: 1,
  number: 1,
  wallMs: madeMs,
  fields: { title: 'as found', joint: 'as-welded', shunts: 'none' },
  windings: [
    {
      windingId: 4,
      revisionId: 4,
      replaces: null,
      reason: null,
      wallMs: madeMs,
      fields: {
        label: 'Primary',
        role: 'primary',
        turns: { kind: 'estimated', value: 240, u: 0.4, resultId: null },
        metal: 'copper',
        ohms: { value: 2, u: 0.02 },
        ohmsCelsius: 20,
        oneEndOnCore: 'no',
        onPlug: true,
      },
    },
  ],
  hasRuns: true,
};

/** 25 turns of two strands in hand, wound as 2 layers; 0.05 Ω at 20 °C. */
export const cutter: PlannedOutput = {
  key: 'a',
  label: 'Cutter',
  loadVolts: 24,
  loadAmps: 9.5,
  powerFactor: 1,
  turns: 25,
  taps: [{ label: '12 V', turns: 13, noLoadVolts: { value: 11.96, u: 0.05 } }],
  wire: { kind: 'round', name: '1.4 mm', strands: 2, strandsDeep: 1, bareDiameterMm: 1.4, overallMm: 1.514 },
  layers: [
    { turns: 17, fromMm: 9, depthMm: 1.514 },
    { turns: 8, fromMm: 10.614, depthMm: 1.514 },
  ],
  baseMm: 1,
  interlayerMm: 0.1,
  marginMm: 3,
  lengthMm: 5893,
  copperKg: 0.16,
  predicted: {
    noLoadVolts: { value: 23, u: 0.1 },
    loadVolts: { value: 22.1, u: 0.2 },
    // 234.5 + 75 over 234.5 + 20 (IEC 60076-2) of 0.05 Ω.
    ohms: { value: (0.05 * 309.5) / 254.5, u: null },
    celsius: 75,
    lossWatts: { value: 9, u: null },
    currentDensity: { value: 3.1, u: null },
  },
};

const version: PlanVersion = {
  planId: 3,
  revisionId: 5,
  number: 2,
  replaces: 4,
  reason: null,
  wallMs: madeMs,
  fields: {
    title: 'Foam cutter supply',
    addedTurns: 10,
    opening: 'closed',
    asked: { units: 'metric', whole: {}, outputs: [{}] },
    outputs: [cutter],
    window: { widthMm: 22, heightMm: 60, innerMm: 8, clearanceMm: 1, leftMm: 8.87 },
    line: { volts: 230, hertz: 50 },
    noLoad: {
      amps: { value: 0.41, u: 0.02 },
      watts: { value: 14.2, u: 0.6 },
      ampsIfOpposing: { value: 0.92, u: 0.06 },
    },
    rests: { coreRevisionId: 1, windingRevisionIds: [4], resultIds: [] },
  },
};

/** A sheet of that plan: 240 + 10 turns for 230 V, so 0.92 V a turn and 23 V from 25 turns. */
export const sheetParts = (
  more: Partial<BuildSheetParts> = {},
  fields: Partial<PlanVersion['fields']> = {},
): BuildSheetParts => ({
  core,
  build,
  version: { ...version, fields: { ...version.fields, ...fields } },
  versions: 2,
  stale: [],
  need: 'Foam cutter, long bow',
  practice: false,
  system: 'metric',
  programVersion: '0.1.0',
  madeWallMs: madeMs,
  zone: 'Europe/Paris',
  ...more,
});
