import type { BenchFacts, ChannelFacts, MeterFacts, SeenReading, SetUp } from '../../../src-shared/interlock/bench.ts';
import type { CheckId } from '../../../src-shared/interlock/checks.ts';
import { demands } from '../../../src-shared/interlock/demand.ts';
import type { Reduced } from '../../../src-shared/interlock/effect.ts';
import type { GuardEvent } from '../../../src-shared/interlock/event.ts';
import type { Limits } from '../../../src-shared/interlock/limit.ts';
import type { ProofInstrument, ProofResult, ProofStep } from '../../../src-shared/interlock/proof.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { guardAtFirst, type GuardState } from '../../../src-shared/interlock/state.ts';

/** One second and one minute of the guard's clock. */
export const second = 1000;
export const minute = 60_000;

export const by = 'Ida';

/** A 230 V core with a 24 V secondary, fed from the mains on its primary. */
export const mainsBench: BenchFacts = {
  buildId: 1,
  supply: { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes', fuseAmps: 6 },
  fedWindingId: 1,
  windings: [
    { windingId: 1, label: 'primary', role: 'primary', volts: 230, onPlug: true, oneEndOnCore: 'no' },
    { windingId: 2, label: 'secondary', role: 'secondary', volts: 24, onPlug: false, oneEndOnCore: 'no' },
  ],
  plug: { kind: 'volts', volts: 230 },
};

/** The same core on an isolated 12 V source: nothing above 12 V anywhere. */
export const lowBench: BenchFacts = {
  ...mainsBench,
  supply: { kind: 'isolated-low-voltage', volts: 12, hertz: 50, ampsAtMost: 2, earthed: 'floating', rcd: 'no' },
  windings: [
    { windingId: 1, label: 'primary', role: 'primary', volts: 12, onPlug: true, oneEndOnCore: 'no' },
    { windingId: 2, label: 'secondary', role: 'secondary', volts: 1.25, onPlug: false, oneEndOnCore: 'no' },
  ],
  plug: { kind: 'volts', volts: 12 },
};

/** A meter that streams twice a second, fit for the mains. */
export const meter = (meterId: number, more: Partial<MeterFacts> = {}): MeterFacts => ({
  meterId,
  label: `meter ${meterId}`,
  typed: false,
  intervalMs: 500,
  maxVolts: 600,
  category: 'III',
  linkIsolated: 'yes',
  practice: false,
  lockedRange: 0,
  ...more,
});

export const channel = (id: string, more: Partial<ChannelFacts> = {}): ChannelFacts => ({
  id,
  label: id.replaceAll('-', ' '),
  kind: 'energised-volts',
  unit: 'V',
  coupling: null,
  quantity: id,
  required: true,
  cadence: 'repeated',
  volts: 230,
  peak: false,
  joinedToMains: true,
  onFed: id === 'primary-volts',
  meter: null,
  ...more,
});

export const amps = (more: Partial<ChannelFacts> = {}): ChannelFacts =>
  channel('line-amps', { kind: 'energised-amps', unit: 'A', meter: meter(12), ...more });

export const limits: Limits = {
  channels: [
    { channel: 'primary-volts', min: null, max: 253, warn: null, risePerMinute: null },
    { channel: 'line-amps', min: null, max: 2, warn: 1.5, risePerMinute: null },
  ],
  runSeconds: 120,
  silenceSeconds: 5,
  typedSeconds: 20,
};

/** A no-load point on the mains: volts and amps. */
export const mainsSetUp: SetUp = {
  procedureId: 'no-load',
  energised: true,
  checklists: ['B', 'N'],
  ruledOut: ['turns-added'],
  bench: mainsBench,
  channels: [channel('primary-volts', { meter: meter(11) }), amps()],
  oneMeter: false,
  proposed: { limits, ceilings: [{ channel: 'line-amps', lowestMin: null, highestMax: 4 }] },
};

const lowLimits: Limits = {
  channels: [{ channel: 'primary-volts', min: null, max: 50, warn: null, risePerMinute: null }],
  runSeconds: null,
  silenceSeconds: 10,
  typedSeconds: 60,
};

/** A test coil on the isolated 12 V source. */
export const lowSetUp: SetUp = {
  procedureId: 'test-coil',
  energised: true,
  checklists: ['T1'],
  ruledOut: [],
  bench: lowBench,
  channels: [channel('primary-volts', { volts: 12, joinedToMains: false, meter: meter(11) })],
  oneMeter: false,
  proposed: { limits: lowLimits, ceilings: [] },
};

/** The events of one kind without their stamps: `at` adds them. */
type Unstamped = GuardEvent extends infer E ? (E extends unknown ? Omit<E, 'atMs' | 'by'> : never) : never;

/** An event at an instant. Whether it carries who said it makes no difference to the type: every one may. */
export const at = (atMs: number, event: Unstamped): GuardEvent => ({ ...event, atMs, by }) as GuardEvent;

/** A run of events from one state on, with the last answer. Every event is preceded by nothing but time. */
export interface Walk {
  readonly state: GuardState;
  readonly last: Reduced;
}

export function walk(from: GuardState, ...events: readonly GuardEvent[]): Walk {
  let last: Reduced = { state: from, refusal: null, effects: [], acceptance: null };
  for (const event of events) last = reduce(last.state, event);
  return { state: last.state, last };
}

/** Like `walk`, for the arrange part of a test: an event that is refused there is a mistake of the test. */
export function arrange(from: GuardState, ...events: readonly GuardEvent[]): GuardState {
  let state = from;
  for (const event of events) {
    const { refusal, state: next } = reduce(state, event);
    if (refusal !== null) throw new Error(`Refused while arranging: ${event.kind}, ${JSON.stringify(refusal)}`);
    state = next;
  }
  return state;
}

export const reading = (value: number, unit = 'V', coupling: 'ac' | 'dc' | null = 'ac'): SeenReading => ({
  kind: 'number',
  value,
  unit,
  coupling,
});

export const seen = (atMs: number, channelId: string, what: SeenReading): GuardEvent =>
  at(atMs, { kind: 'reading-seen', channel: channelId, reading: what });

export const openedSession = (setUp: SetUp = mainsSetUp, practice = false): GuardState =>
  arrange(
    guardAtFirst(0),
    at(0, {
      kind: 'session-opened',
      sessionId: 7,
      practice,
      bench: setUp.bench,
      coreMagnetised: false,
      builtOrMovedSincePower: true,
    }),
    at(0, { kind: 'set-up', setUp }),
  );

/** The instrument of the proofs in these tests: meter 11, known sources of 230 V a.c. and 60 V d.c. */
export const proofMeter: Extract<ProofInstrument, { kind: 'meter' }> = {
  kind: 'meter',
  meterId: 11,
  label: 'meter 11',
  practice: false,
  maxVolts: 600,
  acRange: 2,
  dcRange: 3,
  knownAcVolts: 230,
  knownDcVolts: 60,
};

export const indicator: ProofInstrument = {
  kind: 'indicator',
  label: 'two-pole indicator',
  practice: false,
  maxVolts: 690,
};

/** What the instrument says at a step when all is as it should be. */
export function goodResult(step: ProofStep, instrument: ProofInstrument = proofMeter): ProofResult {
  const known = step.point.kind === 'known1' || step.point.kind === 'known2';
  if (instrument.kind === 'indicator') return { kind: known ? 'lights' : 'nothing' };
  const ac = step.coupling === 'ac';
  const knownVolts = ac ? instrument.knownAcVolts : instrument.knownDcVolts;
  return {
    kind: 'volts',
    volts: known ? knownVolts : 0.02,
    coupling: ac ? 'ac' : 'dc',
    meterId: instrument.meterId,
    range: ac ? instrument.acRange : instrument.dcRange,
    lowImpedance: false,
  };
}

export const ticks = (atMs: number, ids: readonly CheckId[]): readonly GuardEvent[] =>
  ids.map((checkId) => at(atMs, { kind: 'check-confirmed', checkId }));

/** The three lines of the person, then the whole proof, all at one instant unless `stepMs` spreads it. */
export function proofEvents(
  state: GuardState,
  atMs: number,
  instrument: ProofInstrument = proofMeter,
  stepMs = 0,
): readonly GuardEvent[] {
  const begun = arrange(
    state,
    ...ticks(atMs, ['pd-plug', 'pd-cap', 'pd-lead']),
    at(atMs, { kind: 'proof-started', instrument }),
  );
  const steps = begun.proofInProgress?.steps ?? [];
  return [
    ...ticks(atMs, ['pd-plug', 'pd-cap', 'pd-lead']),
    at(atMs, { kind: 'proof-started', instrument }),
    ...steps.map((step, index) =>
      at(atMs + (index + 1) * stepMs, { kind: 'proof-step', step: index, result: goodResult(step, instrument) }),
    ),
  ];
}

export const provedAt = (state: GuardState, atMs: number, instrument: ProofInstrument = proofMeter): GuardState =>
  arrange(state, ...proofEvents(state, atMs, instrument));

/** Confirms every line that a person may confirm before power, sets the limits as proposed, and lets every meter say 0. */
export function prepared(state: GuardState, atMs: number): GuardState {
  const ids = demands(state).flatMap(({ id, check }) =>
    check.decidedBy === 'person' && check.when === 'before-power' ? [id] : [],
  );
  const auto = demands(state).flatMap(({ id, check, must }) =>
    check.decidedBy === 'program' && must && id !== 'b-rate' && id !== 'k-mark' ? [id] : [],
  );
  const setUp = state.setUp ?? mainsSetUp;
  return arrange(
    state,
    ...ticks(atMs, ids),
    ...auto.map((checkId) => at(atMs, { kind: 'auto-check', checkId, holds: true })),
    at(atMs, { kind: 'limits-set', limits: setUp.proposed.limits, reason: null }),
    ...setUp.channels.flatMap(({ id, unit, meter: filledBy }) =>
      filledBy === null || filledBy.typed ? [] : [seen(atMs, id, reading(0, unit))],
    ),
  );
}

export const isolatedAt = (setUp: SetUp = mainsSetUp, atMs = 0): GuardState =>
  setUp.checklists.includes('T1')
    ? arrange(openedSession(setUp), at(atMs, { kind: 'plug-out-proved' }))
    : provedAt(openedSession(setUp), atMs);

export const readyAt = (setUp: SetUp = mainsSetUp, atMs = 0): GuardState =>
  arrange(prepared(isolatedAt(setUp, atMs), atMs), at(atMs, { kind: 'ready-asked' }));

/** Live since `atMs` + 1 s. */
export const liveAt = (setUp: SetUp = mainsSetUp, atMs = 0): GuardState =>
  arrange(
    readyAt(setUp, atMs),
    at(atMs, { kind: 'power-on-begun' }),
    at(atMs + second, { kind: 'power-on-confirmed' }),
  );

export const trippedAt = (atMs = 0): GuardState =>
  arrange(liveAt(mainsSetUp, atMs), seen(atMs + 2 * second, 'primary-volts', reading(260)));

export const provingAt = (setUp: SetUp = mainsSetUp, atMs = 0): GuardState =>
  arrange(liveAt(setUp, atMs), at(atMs + 2 * second, { kind: 'power-off' }));
