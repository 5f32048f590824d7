import fc from 'fast-check';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { changes } from '../../../src-shared/interlock/command.ts';
import type { CheckId } from '../../../src-shared/interlock/checks.ts';
import { checkIds } from '../../../src-shared/interlock/checks.ts';
import { demands } from '../../../src-shared/interlock/demand.ts';
import type { GuardEvent } from '../../../src-shared/interlock/event.ts';
import { restartedFrom } from '../../../src-shared/interlock/restart.ts';
import {
  at,
  by,
  goodResult,
  lowBench,
  lowSetUp,
  mainsBench,
  mainsSetUp,
  minute,
  proofMeter,
  reading,
  second,
  ticks,
} from './scene.ts';

/**
 * What a person or the bench does next. An act is turned into events on the state that it meets, so that long ways such
 * as a whole proof are walked often enough, each step of them an event of its own.
 */
export type Act = (state: GuardState, now: number) => readonly GuardEvent[];

/** Lets every streaming meter say 0, so that meters answer. */
const hush: Act = (state, now) =>
  (state.setUp?.channels ?? []).map(({ id, unit }) =>
    at(now, { kind: 'reading-seen', channel: id, reading: reading(0, unit) }),
  );

const personLines = (state: GuardState): readonly CheckId[] =>
  demands(state).flatMap(({ id, check }) =>
    check.decidedBy === 'person' && check.when === 'before-power' ? [id] : [],
  );

const tickAll: Act = (state, now) => ticks(now, personLines(state));

const fullProof: Act = (state, now) => {
  const circuit = (state.bench?.windings ?? []).filter(({ onPlug, volts }) => !onPlug && volts !== null).length + 3;
  const order = ['known1', ...Array.from({ length: circuit }, () => 'pair'), 'known2'];
  const round = (coupling: 'ac' | 'dc') =>
    order.map((kind) =>
      goodResult({
        point: kind === 'pair' ? { kind: 'pair', pair: 'L-N' } : { kind: kind === 'known1' ? kind : 'known2' },
        coupling,
      }),
    );
  return [
    ...ticks(now, ['pd-plug', 'pd-cap', 'pd-lead']),
    at(now, { kind: 'proof-started', instrument: proofMeter }),
    ...[...round('ac'), ...round('dc')].map((result, step) =>
      at(now + step * 5 * second, { kind: 'proof-step', step, result }),
    ),
  ];
};

const setLimits: Act = (state, now) => [
  at(now, { kind: 'limits-set', limits: (state.setUp ?? mainsSetUp).proposed.limits, reason: null }),
];

const hold: Act = (state, now) => [
  ...hush(state, now),
  at(now, { kind: 'power-on-begun' }),
  at(now + 1100, { kind: 'power-on-confirmed' }),
];

const one =
  (event: Parameters<typeof at>[1]): Act =>
  (_state, now) => [at(now, event)];

const openSession: Act = (_state, now) => [
  at(now, {
    kind: 'session-opened',
    sessionId: 7,
    practice: false,
    bench: mainsBench,
    coreMagnetised: false,
    builtOrMovedSincePower: true,
  }),
];

const toReady: Act = (state, now) => [
  ...tickAll(state, now),
  ...setLimits(state, now),
  ...hush(state, now),
  at(now, { kind: 'ready-asked' }),
];

/** The whole way from whatever the bench is in to power on, as a person walks it who leaves nothing out. */
const goLive: Act = (state, now) => {
  const later = now + 90 * second;
  return [at(now, { kind: 'power-off' }), ...fullProof(state, now), ...toReady(state, later), ...hold(state, later)];
};

/** A second of ordinary readings with power on, the last of each channel as said. */
const stream =
  (volts: number, amps: number): Act =>
  (_state, now) =>
    [0, 400, 800].flatMap((ms) => [
      at(now + ms, { kind: 'reading-seen', channel: 'primary-volts', reading: reading(ms === 800 ? volts : 230) }),
      at(now + ms, { kind: 'reading-seen', channel: 'line-amps', reading: reading(ms === 800 ? amps : 0.7, 'A') }),
    ]);

const set = (setUp: typeof mainsSetUp) => one({ kind: 'set-up', setUp });
const mustId = fc.constantFrom<CheckId>(
  'b-cover',
  'b-place',
  'b-volts',
  'b-lamp',
  'pd-plug',
  'pd-cap',
  'n-open',
  'b-off',
);

/** Acts of a person who means well and of one who does not, and of a bench that does as it likes. */
export const acts: fc.Arbitrary<Act> = fc.oneof(
  { weight: 12, arbitrary: fc.constant(goLive) },
  {
    weight: 10,
    arbitrary: fc
      .tuple(fc.constantFrom(229, 253, 253.1, 300), fc.constantFrom(0.6, 1.6, 2, 2.1, 9))
      .map(([volts, amps]) => stream(volts, amps)),
  },
  { weight: 4, arbitrary: fc.constant(fullProof) },
  { weight: 5, arbitrary: fc.constant(toReady) },
  { weight: 5, arbitrary: fc.constant(hold) },
  { weight: 2, arbitrary: fc.constant(tickAll) },
  { weight: 1, arbitrary: fc.constant(setLimits) },
  { weight: 2, arbitrary: fc.constant(hush) },
  { weight: 2, arbitrary: fc.constant(one({ kind: 'power-off' })) },
  { weight: 1, arbitrary: fc.constant(one({ kind: 'plug-out-proved' })) },
  { weight: 1, arbitrary: fc.constant(one({ kind: 'next-point-proved', touchesMetal: false })) },
  { weight: 1, arbitrary: fc.constant(set(mainsSetUp)) },
  { weight: 1, arbitrary: fc.constant(set(lowSetUp)) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      one({ kind: 'bench-described', bench: mainsBench }),
      one({
        kind: 'bench-described',
        bench: { ...lowBench, windings: lowBench.windings.map((w) => ({ ...w, volts: null })) },
      }),
    ),
  },
  { weight: 1, arbitrary: fc.constant(one({ kind: 'alarm-heard' })) },
  { weight: 1, arbitrary: fc.constant(one({ kind: 'proof-abandoned' })) },
  { weight: 1, arbitrary: fc.constantFrom(one({ kind: 'session-ended' }), openSession) },
  {
    weight: 1,
    arbitrary: fc.constant<Act>((state, now) => [
      restartedFrom(state, null, now),
      ...openSession(state, now),
      at(now, { kind: 'set-up', setUp: mainsSetUp }),
    ]),
  },
  { weight: 2, arbitrary: mustId.map((checkId) => one({ kind: 'check-withdrawn', checkId })) },
  { weight: 2, arbitrary: fc.constantFrom(...changes).map((change) => one({ kind: 'changed', what: [change] })) },
  {
    weight: 3,
    arbitrary: fc
      .tuple(
        fc.constantFrom('primary-volts', 'line-amps'),
        fc.constantFrom(0, 0.5, 2.9, 3.1, 5.9, 6.1, 24, 230, 254, 400),
      )
      .map(([channel, value]) =>
        one({ kind: 'reading-seen', channel, reading: reading(value, channel === 'line-amps' ? 'A' : 'V') }),
      ),
  },
  { weight: 1, arbitrary: fc.constant(one({ kind: 'meter-silent', meterId: 12 })) },
  {
    weight: 1,
    arbitrary: fc.integer({ min: 0, max: 40 }).map((minutes) => one({ kind: 'slept', sleptMs: minutes * minute })),
  },
  {
    weight: 1,
    arbitrary: fc.integer({ min: 0, max: 5 }).map((seconds) => one({ kind: 'held-up', heldUpMs: seconds * second })),
  },
);

/** How much time passes before an act: mostly little, sometimes a lot, now and then backwards. */
export const pauses: fc.Arbitrary<number> = fc.oneof(
  { weight: 30, arbitrary: fc.integer({ min: 0, max: second }) },
  { weight: 4, arbitrary: fc.integer({ min: 0, max: 8 * second }) },
  { weight: 2, arbitrary: fc.integer({ min: 0, max: 12 * minute }) },
  { weight: 1, arbitrary: fc.integer({ min: 0, max: 100 * 60 * minute }) },
  { weight: 1, arbitrary: fc.integer({ min: -60 * minute, max: 0 }) },
);

/** Events of the right type with figures of every kind in them: what a broken meter or a broken page might send. */
export const wildEvents: fc.Arbitrary<GuardEvent> = fc
  .tuple(
    fc.oneof(fc.integer({ min: -1e7, max: 1e8 }), fc.double()),
    fc.double(),
    fc.constantFrom(...checkIds),
    fc.nat({ max: 20 }),
    fc.integer({ min: 0, max: 17 }),
  )
  .map(([atMs, value, checkId, small, which]): GuardEvent => {
    const said = { atMs, by };
    const wild: readonly GuardEvent[] = [
      { kind: 'check-confirmed', checkId, ...said },
      { kind: 'check-withdrawn', checkId, ...said },
      { kind: 'should-skipped', checkId, reason: 'so', ...said },
      { kind: 'auto-check', checkId, holds: small % 2 === 0, atMs },
      { kind: 'reading-seen', channel: 'primary-volts', reading: reading(value), atMs },
      { kind: 'reading-seen', channel: 'line-amps', reading: reading(value, 'A', null), atMs },
      {
        kind: 'reading-seen',
        channel: 'primary-volts',
        reading: { kind: 'overload', atLeast: value, unit: null, coupling: null },
        atMs,
      },
      { kind: 'proof-step', step: small, result: { kind: 'overload', meterId: small }, ...said },
      {
        kind: 'proof-step',
        step: small,
        result: { kind: 'volts', volts: value, coupling: 'ac', meterId: 11, range: 2, lowImpedance: false },
        ...said,
      },
      { kind: 'proof-started', instrument: { ...proofMeter, knownAcVolts: value, knownDcVolts: value }, ...said },
      { kind: 'limits-set', limits: { ...mainsSetUp.proposed.limits, runSeconds: value }, reason: 'so', ...said },
      {
        kind: 'thresholds-set',
        thresholds: { deadAcVolts: value, deadDcVolts: 6, proofMinutes: value, benchMinutes: 60, touchVolts: 50 },
        reason: 'so',
        ...said,
      },
      { kind: 'slept', sleptMs: value, atMs },
      { kind: 'held-up', heldUpMs: value, atMs },
      { kind: 'tick', atMs },
      { kind: 'power-off', ...said },
      { kind: 'ready-asked', ...said },
      { kind: 'power-on-confirmed', ...said },
    ];
    return wild[which] ?? { kind: 'tick', atMs };
  });

/** Freezes a value all the way down: whatever writes into it throws. */
export function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) frozen(part);
  }
  return value;
}
