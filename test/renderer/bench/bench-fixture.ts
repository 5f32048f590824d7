import type { LastReading, MeterState, Settling } from '../../../src-shared/contract/meter-view.ts';
import type { RequestValue } from '../../../src-shared/contract/request.ts';
import type { BenchFacts, MeterFacts } from '../../../src-shared/interlock/bench.ts';
import type { CheckId } from '../../../src-shared/interlock/checks.ts';
import { demands } from '../../../src-shared/interlock/demand.ts';
import { gradeOf, highestVolts } from '../../../src-shared/interlock/bench.ts';
import {
  guardAtFirst,
  type CheckMark,
  type GuardRecord,
  type GuardState,
} from '../../../src-shared/interlock/state.ts';
import type { LastProof } from '../../../src-shared/interlock/proof.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { MeterDescription, SerialMeter } from '../../../src-shared/meter/description.ts';
import { testCoilInput } from '../../../src-shared/procedure/kept-value.ts';
import { setUpFor } from '../../../src-shared/procedure/set-up.ts';
import { testCoil } from '../../../src-shared/procedure/test-coil.ts';
import type { KeptPair, KeptValue, Run } from '../../../src-shared/record/run.ts';
import type { Session, Supply } from '../../../src-shared/record/session.ts';
import { FakeProgram, fakeWallMs } from '../fake-program.ts';
import { benchMeter, dimmerCore, highVoltage, unknownPrimary } from '../shelf-fixture.ts';

const range = (top: number, resolution: number, coupling: 'ac' | 'dc' = 'ac') => ({
  unit: 'V' as const,
  coupling,
  top,
  resolution,
  percentOfReading: 0.8,
  digits: 5,
  shape: 'rectangular' as const,
});

/** Invented: on the primary. */
const primaryMeter: SerialMeter = {
  ...benchMeter,
  ranges: [range(20, 0.001), range(200, 0.01), range(600, 0.1), range(200, 0.01, 'dc')],
};

/** Invented: on the test coil. */
const coilMeter: SerialMeter = {
  ...benchMeter,
  label: 'Pocket meter',
  responding: 'average',
  ranges: [range(2, 0.0001), range(20, 0.001), range(300, 0.1)],
  port: { ...benchMeter.port, path: '/dev/ttyUSB1' },
};

/** Invented: read by eye. */
const typedMeter: MeterDescription = {
  kind: 'keyboard',
  label: 'Drawer meter',
  responding: 'average',
  ranges: [range(20, 0.01), range(200, 0.1), range(200, 0.1, 'dc')],
  scales: [],
  maxVolts: 600,
  category: 'CAT II 600 V',
  typicalIntervalMs: 30_000,
};

export const lowSupply: Supply = {
  kind: 'isolated-low-voltage',
  volts: 24,
  hertz: 50,
  ampsAtMost: 3,
  earthed: 'floating',
  rcd: 'no',
};

const factsOf = (meterId: number, { label }: MeterDescription, typed = false): MeterFacts => ({
  meterId,
  label,
  typed,
  intervalMs: typed ? 0 : 500,
  maxVolts: 600,
  category: 'III',
  linkIsolated: typed ? 'none' : 'yes',
  practice: false,
  lockedRange: 1,
});

const proof: LastProof = {
  kind: 'meter',
  by: 'Test person',
  practice: false,
  provedAtMs: 90_000,
  circuitAtMs: 60_000,
  holdMinutes: 30,
  instrument: null,
  readings: [],
  endedAtMs: null,
};

/** A fake program with a core, an open session on it and two meters, in the state that a test asks for. */
export class BenchFixture {
  readonly program = new FakeProgram();
  readonly coreId: number;
  readonly buildId: number;
  readonly primaryId: number;
  readonly meterIds: readonly [number, number, number];

  constructor() {
    const { program } = this;
    this.coreId = program.addCore(dimmerCore, [unknownPrimary, highVoltage]);
    const build = program.builds.at(-1);
    if (build === undefined) throw new Error('The fake makes a build with each core.');
    this.buildId = build.buildId;
    this.primaryId = build.windings[0]?.windingId ?? 0;
    this.meterIds = [
      program.addMeter(primaryMeter, { status: 'answering', channel: 'primary-volts' }),
      program.addMeter(coilMeter, { status: 'answering', channel: 'coil-volts' }),
      program.addMeter(typedMeter),
    ];
  }

  /** What is on the bench: nothing known of the second winding, or everything under the touch bound. */
  facts(known: boolean, supply: Supply = lowSupply): BenchFacts {
    const second = {
      windingId: this.primaryId + 2,
      label: 'High-voltage winding',
      role: 'secondary',
      onPlug: false,
    } as const;
    return {
      buildId: this.buildId,
      supply,
      fedWindingId: this.primaryId,
      windings: [
        {
          windingId: this.primaryId,
          label: 'Primary',
          role: 'primary',
          volts: supply.volts,
          onPlug: true,
          oneEndOnCore: 'no',
        },
        known
          ? { ...second, label: 'Secondary', volts: 3.6, oneEndOnCore: 'no' }
          : { ...second, volts: null, oneEndOnCore: 'yes' },
      ],
      plug: { kind: 'volts', volts: supply.volts },
    };
  }

  openSession(supply: Supply = lowSupply): Session {
    const session: Session = {
      sessionId: 3,
      openedWallMs: fakeWallMs,
      endedWallMs: null,
      practice: false,
      fields: { buildId: this.buildId, supply, fedWindingId: this.primaryId, who: 'Test person' },
    };
    this.program.session = session;
    return session;
  }

  /** The guard with this bench and the test coil set up on it. */
  record({ known = false, supply = lowSupply, oneMeter = false } = {}): GuardRecord {
    const bench = this.facts(known, supply);
    const [first, second] = this.meterIds;
    const filledBy = new Map([
      ['primary-volts', factsOf(first, primaryMeter)],
      ['coil-volts', oneMeter ? factsOf(first, primaryMeter) : factsOf(second, coilMeter)],
    ]);
    return {
      ...guardAtFirst(100_000),
      sessionId: 3,
      bench,
      setUp: setUpFor(testCoil, bench, filledBy),
      highest: highestVolts(bench),
      grade: gradeOf(bench, 50),
    };
  }

  /** Every must confirmed, limits as proposed. */
  confirmed(record: GuardRecord): GuardRecord {
    const mark: CheckMark = { atMs: 95_000, by: 'Test person', how: 'person', reason: null, liveMs: 0 };
    const ids = demands({ ...record, kind: 'unproved' }).flatMap(({ id, must }): CheckId[] => (must ? [id] : []));
    return {
      ...record,
      checks: Object.fromEntries(ids.map((id) => [id, mark])),
      limits: record.setUp?.proposed.limits ?? null,
    };
  }

  states(record: GuardRecord = this.record()): {
    readonly [K in GuardState['kind']]: Extract<GuardState, { kind: K }>;
  } {
    const { setUp } = record;
    const ready = this.confirmed(record);
    const { limits } = ready;
    if (setUp === null || limits === null) throw new Error('The record has a set-up.');
    const by = 'Test person';
    const power = { by, onAtMs: 28_000, offAtMs: null };
    const trip = {
      code: 'limit',
      channel: 'primary-volts',
      label: 'Primary volts',
      unit: 'V',
      bound: 'max',
      value: 31.2,
      limit: 26.4,
    } as const;
    return {
      unproved: { ...record, kind: 'unproved', why: { code: 'session-opened' } },
      isolated: { ...record, kind: 'isolated', lastProof: proof, why: { code: 'proved', proof: 'meter' } },
      ready: { ...ready, kind: 'ready', setUp, limits, lastProof: proof, why: { code: 'all-confirmed', by } },
      live: {
        ...ready,
        kind: 'live',
        setUp,
        limits,
        power,
        lastProof: { ...proof, endedAtMs: 28_000 },
        why: { code: 'declared-on', by },
      },
      tripped: { ...ready, kind: 'tripped', setUp, limits, power, trip, why: { code: 'tripped', trip } },
      proving: { ...ready, kind: 'proving', why: { code: 'declared-off', by, was: 'live' } },
    };
  }

  openRun(): Run {
    const [first, second] = this.meterIds;
    const channel = (name: string, meterId: number) => ({
      channel: name,
      unit: 'V',
      meterId,
      meterRevisionId: meterId + 1,
      lockedRange: 1,
    });
    const run: Run = {
      runId: 41,
      sessionId: 3,
      buildId: this.buildId,
      procedure: 'test-coil',
      channels: [channel('primary-volts', first), channel('coil-volts', second)],
      startedWallMs: fakeWallMs,
      startedMonoMs: 28_000,
      endedWallMs: null,
      ending: 'running',
      practice: false,
    };
    this.program.run = run;
    return run;
  }

  /** What a meter said last, and whether it has settled. */
  hear(index: 0 | 1 | 2, value: number, u: number, rangeIndex: number, settling: Settling | null = null): void {
    const { program } = this;
    const meter = program.meters[index];
    if (meter === undefined) throw new Error('There is no such meter.');
    const last: LastReading = {
      atMs: program.nowMs - 200,
      kind: 'number',
      value,
      u,
      unit: 'V',
      coupling: 'ac',
      text: String(value),
      origin: index === 2 ? 'keyboard' : 'meter',
      rangeIndex,
      bottomOfRange: false,
    };
    const state: MeterState = { ...meter.state, last, settling };
    program.meters[index] = { ...meter, state };
    program.push({ kind: 'meter', meter: state });
  }

  /** A minute of readings on both channels, as the recorder accepted them. */
  stream(runId: number, seconds = 60): void {
    const { program } = this;
    const startMs = program.nowMs - 28_000 - seconds * 1000;
    const columns = (channel: string, level: number, noise: number, decimals: number) => {
      const atMs = Array.from({ length: seconds * 2 }, (_, index) => startMs + index * 500);
      const value = atMs.map((_, index) =>
        Number((level + noise * Math.sin(index * 1.7) * Math.cos(index * 0.37)).toFixed(decimals)),
      );
      return {
        runId,
        channel,
        atMs,
        kind: atMs.map(() => 'number' as const),
        value,
        u: atMs.map(() => noise * 3),
        unit: 'V',
        text: value.map(String),
      };
    };
    program.push({
      kind: 'readings',
      columns: [columns('primary-volts', 23.72, 0.04, 2), columns('coil-volts', 0.9874, 0.002, 4)],
    });
  }
}

const kept = (channel: string, value: number, u: number, gain: number, meterId: number): KeptValue => ({
  channel,
  value,
  u,
  shape: 'rectangular',
  dof: null,
  shared: { id: `meter ${meterId}`, u: gain },
  unit: 'V',
  readingIds: [1, 2, 3, 4],
  meterId,
  rangeIndex: 1,
  bottomOfRange: false,
});

export const keptPair = (eventId: number, coilTurns: number, coilVolts: number, primaryVolts: number): KeptPair => ({
  eventId,
  coilTurns,
  swapped: false,
  order: 'together',
  primary: kept('primary-volts', primaryVolts, 0.029, 0.03, 1),
  coil: kept('coil-volts', coilVolts, 0.0016, 0.0012, 2),
  driftVolts: null,
  withdrawn: null,
});

/** A run with its kept pairs and what they come to, by the real calculation. */
export function runWhole(run: Run, session: Session, pairs: readonly KeptPair[]): RequestValue<'run.get'> {
  const input = testCoilInput(
    pairs.map((pair) => ({ pair, facts: {} })),
    50,
  );
  return {
    run,
    session,
    kept: [...pairs],
    points: [],
    answers: {},
    events: [],
    results: [],
    soFar: input === null ? null : calculate('test-coil', input),
    besides: [],
    waitingFor: null,
    towardsNext: [],
  };
}
