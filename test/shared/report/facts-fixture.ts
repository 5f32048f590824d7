import type { RecordEvent, Result, Run } from '../../../src-shared/record/run.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { testCoil } from '../../../src-shared/calculation/test-coil/test-coil.ts';
import { heatRun } from '../../../src-shared/calculation/heat-run.ts';
import type { MeterDescription } from '../../../src-shared/meter/description.ts';
import type { RunFacts } from '../../../src-shared/report/run-facts.ts';

/** 14 March 2031, 09:00 UTC. Everything here is invented: the props workshop of a small touring theatre. */
export const startMs = Date.UTC(2031, 2, 14, 9);

export const benchMeter: MeterDescription = {
  kind: 'keyboard',
  label: 'Bench meter',
  responding: 'true-rms',
  ranges: [
    { unit: 'V', coupling: 'ac', top: 200, resolution: 0.1, percentOfReading: 1.2, digits: 5, shape: 'rectangular' },
    { unit: 'V', coupling: 'ac', top: 20, resolution: 0.01, percentOfReading: 0.8, digits: 5, shape: 'rectangular' },
  ],
  scales: [],
  maxVolts: 600,
  category: 'CAT III 600 V',
  typicalIntervalMs: 500,
};

export const run: Run = {
  runId: 7,
  sessionId: 3,
  buildId: 2,
  procedure: 'test-coil',
  channels: [
    { channel: 'primary-volts', unit: 'V', meterId: 1, meterRevisionId: 1, lockedRange: 0 },
    { channel: 'coil-volts', unit: 'V', meterId: 2, meterRevisionId: 2, lockedRange: 1 },
  ],
  startedWallMs: startMs,
  startedMonoMs: 5000,
  endedWallMs: startMs + 60_000,
  ending: 'ended',
  practice: false,
};

const keptResult = (calculation: 'test-coil' | 'heat-run', input: unknown, resultId: number): Result => ({
  resultId,
  buildId: 2,
  runId: 7,
  calculation,
  version: 1,
  wallMs: startMs + 50_000,
  input,
  output: calculate(calculation, input),
});

export const coilResult = keptResult('test-coil', testCoil.example, 11);
export const heatResult = keptResult('heat-run', heatRun.example, 12);

export const facts: RunFacts = {
  run,
  session: {
    sessionId: 3,
    openedWallMs: startMs - 600_000,
    endedWallMs: null,
    practice: false,
    fields: {
      buildId: 2,
      supply: { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes', fuseAmps: 3 },
      fedWindingId: 4,
      ambientCelsius: 19.5,
      who: 'Stage workshop',
    },
  },
  core: {
    coreId: 1,
    revisionId: 1,
    replaces: null,
    reason: null,
    wallMs: startMs - 1e6,
    fields: { label: 'Dimmer core B', shape: 'shell', mass: { value: 4.62, u: 0.01 } },
  },
  build: {
    buildId: 2,
    coreId: 1,
    number: 1,
    wallMs: startMs - 1e6,
    fields: { title: 'As found', joint: 'as-welded', shunts: 'in' },
    windings: [
      {
        windingId: 4,
        revisionId: 4,
        replaces: null,
        reason: null,
        wallMs: startMs - 1e6,
        fields: {
          label: 'Primary',
          role: 'primary',
          turns: { kind: 'unknown' },
          metal: 'copper',
          oneEndOnCore: 'no',
          onPlug: true,
        },
      },
    ],
    hasRuns: true,
  },
  takers: [],
  saidOfSession: [],
  meters: [benchMeter, { ...benchMeter, label: 'Pocket meter', responding: 'average' }],
  counts: [
    { readings: 120, overloads: 1, unreadables: 0, lowest: 117.9, highest: 119.2, mean: 118.6 },
    { readings: 119, overloads: 0, unreadables: 0, lowest: 9.85, highest: 9.89, mean: 9.87 },
  ],
  lastMs: 59_400,
  kept: [],
  points: [],
  answers: {},
  faults: [],
  happenings: [
    { eventId: 1, kind: 'power', atMs: 0, wallMs: startMs, word: 'Power on', text: 'Power was declared on by Stage.' },
    { eventId: 2, kind: 'note', atMs: 20_000, wallMs: startMs + 20_000, word: 'lamp dim', text: 'lamp dim' },
  ],
  limits: [{ channel: 'primary-volts', min: null, max: 253, warn: null, fromMs: 0, toMs: null }],
  results: [coilResult],
  checks: [],
  signOff: null,
};

export const event = (kind: string, atMs: number, body: unknown): RecordEvent => ({
  eventId: atMs + 1,
  sessionId: 3,
  runId: 7,
  wallMs: startMs + atMs,
  monoMs: 5000 + atMs,
  kind,
  body,
});
