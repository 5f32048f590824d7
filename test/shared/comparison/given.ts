import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { BuildRecord } from '../../../src-shared/comparison/build-record.ts';
import { observe, type PracticeBench } from '../../../src-shared/practice/observed.ts';
import type { WindingFields } from '../../../src-shared/record/build.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import type { Supply } from '../../../src-shared/record/session.ts';

export const mains: Supply = { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes' };
const primary: WindingFields = {
  label: 'Primary',
  role: 'primary',
  turns: { kind: 'estimated', value: 164, u: 0.4, resultId: null },
  metal: 'copper',
  ohms: { value: 2.2, u: 0.02 },
  ohmsCelsius: 24,
  oneEndOnCore: 'no',
  onPlug: true,
};

interface Given {
  readonly number: number;
  readonly turns?: number;
  readonly amps?: number;
  readonly volts?: number;
  readonly supply?: Supply;
  readonly joint?: 'as-welded' | 'clamped';
}

/** A build with one no-load point, read with one clamp meter in every build. */
export function record({
  number,
  turns = 164,
  amps = 0.712,
  volts = 230,
  supply = mains,
  joint = 'as-welded',
}: Given): BuildRecord {
  const input = {
    volts: { value: volts, u: 0.3 },
    amps: { value: amps, u: 0.004, shape: 'rectangular', dof: null, shared: { id: 'clamp, 2 A', u: 0.006 * amps } },
    watts: { value: 0.195 * amps * volts, u: 0.6 },
    hertz: supply.hertz,
  };
  const output = calculate('no-load', input);
  const result: Result = {
    resultId: number,
    buildId: number,
    runId: number,
    calculation: 'no-load',
    version: 1,
    wallMs: 0,
    input,
    output: JSON.parse(JSON.stringify(output)),
  };
  const winding = { windingId: number, revisionId: number, replaces: null, reason: null, wallMs: 0 };
  return {
    build: {
      buildId: number,
      coreId: 1,
      number,
      wallMs: 0,
      fields: { title: 'as found', joint, shunts: 'none' },
      windings: [
        { ...winding, fields: { ...primary, turns: { kind: 'estimated', value: turns, u: 0.4, resultId: null } } },
      ],
      hasRuns: true,
    },
    results: [result],
    runs: [
      {
        runId: number,
        sessionId: number,
        buildId: number,
        procedure: 'no-load',
        channels: [{ channel: 'line-amps', unit: 'A', meterId: 7, meterRevisionId: 1, lockedRange: 0 }],
        startedWallMs: 0,
        startedMonoMs: 0,
        endedWallMs: 1,
        ending: 'ended',
        practice: false,
      },
    ],
    sessions: [
      {
        sessionId: number,
        openedWallMs: 0,
        endedWallMs: 1,
        practice: false,
        fields: { buildId: number, supply, fedWindingId: number, ambientCelsius: 21, who: 'Rowan' },
      },
    ],
    meterKinds: new Map([[7, 'true-rms']]),
    meterNames: new Map([[7, 'Line clamp']]),
  };
}

const parts = [0.5, 0.65, 0.75, 0.85, 0.92, 1, 1.05];

/** The kept sweep of a simulated build, as exact as good meters read it. */
export function sweep(bench: PracticeBench, stated: number, supplyKind = 'variable-transformer'): Result {
  const points = parts.map((part) => {
    const seen = observe({ ...bench, supply: { ...bench.supply, volts: part * bench.supply.volts } });
    const volts = seen?.volts['primary']?.rms ?? 0;
    const amps = seen?.lineAmps.rms ?? 0;
    return { volts: { value: volts, u: 0.002 * volts }, amps: { value: amps, u: 0.003 * amps }, supplyKind };
  });
  const input = {
    primaryTurns: { value: stated, u: 0.2 },
    points,
    primaryOhms: 1.4,
    supplyVolts: 230,
    addedTurns: [0],
    hertz: 50,
    ironAreaMm2: 1976,
  };
  const output = calculate('excitation', input);
  return {
    resultId: 1,
    buildId: 1,
    runId: null,
    calculation: 'excitation',
    version: 1,
    wallMs: 0,
    input,
    output: JSON.parse(JSON.stringify(output)) as unknown,
  };
}
