import { guardAtFirst, type GuardState, type Live, type Ready } from '../../src-shared/interlock/state.ts';
import type { SetUp } from '../../src-shared/interlock/bench.ts';
import type { LastProof } from '../../src-shared/interlock/proof.ts';
import type { Limits } from '../../src-shared/interlock/limit.ts';

const first = guardAtFirst(100_000);

const limits: Limits = {
  channels: [
    { channel: 'primary-volts', min: null, max: 15, warn: null, risePerMinute: null },
    { channel: 'primary-amps', min: null, max: 3, warn: null, risePerMinute: null },
  ],
  runSeconds: 300,
  silenceSeconds: 10,
  typedSeconds: 30,
};

const channel = (id: string, label: string, kind: 'energised-volts' | 'energised-amps', unit: string) => ({
  id,
  label,
  kind,
  unit,
  coupling: 'ac' as const,
  quantity: id,
  required: true,
  cadence: 'repeated' as const,
  volts: 12,
  peak: false,
  joinedToMains: false,
  onFed: true,
  meter: null,
});

const setUp: SetUp = {
  procedureId: 'test-coil',
  energised: true,
  checklists: ['T1'],
  ruledOut: [],
  bench: {
    buildId: 1,
    supply: { kind: 'isolated-low-voltage', volts: 12, hertz: 50, earthed: 'floating', rcd: 'no' },
    fedWindingId: null,
    windings: [],
    plug: { kind: 'none' },
  },
  channels: [
    channel('primary-volts', 'Primary volts', 'energised-volts', 'V'),
    channel('primary-amps', 'Primary amps', 'energised-amps', 'A'),
  ],
  oneMeter: false,
  proposed: { limits, ceilings: [] },
};

const lastProof: LastProof = {
  kind: 'meter',
  by: 'Test person',
  practice: false,
  provedAtMs: 90_000,
  circuitAtMs: 88_000,
  holdMinutes: 30,
  instrument: null,
  readings: [],
  endedAtMs: null,
};

const ready: Ready = {
  ...first,
  kind: 'ready',
  sessionId: 3,
  setUp,
  limits,
  lastProof,
  why: { code: 'all-confirmed', by: 'Test person' },
};

const live: Live = {
  ...ready,
  kind: 'live',
  power: { by: 'Test person', onAtMs: 28_000, offAtMs: null },
  why: { code: 'declared-on', by: 'Test person' },
};

const trip = {
  code: 'limit',
  channel: 'primary-amps',
  label: 'Primary amps',
  unit: 'A',
  bound: 'max',
  value: 4.9,
  limit: 3,
} as const;

/** One guard state of each kind, as the strip can meet it. */
export const guardStates: { readonly [K in GuardState['kind']]: Extract<GuardState, { kind: K }> } = {
  unproved: { ...first, kind: 'unproved', sessionId: 3, setUp, why: { code: 'session-opened' } },
  isolated: { ...first, kind: 'isolated', sessionId: 3, setUp, lastProof, why: { code: 'proved', proof: 'meter' } },
  ready,
  live,
  tripped: { ...live, kind: 'tripped', trip, why: { code: 'tripped', trip } },
  proving: {
    ...first,
    kind: 'proving',
    sessionId: 3,
    setUp,
    limits,
    why: { code: 'declared-off', by: 'Test person', was: 'live' },
  },
};
