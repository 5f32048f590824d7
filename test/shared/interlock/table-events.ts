import type { BenchFacts, SetUp } from '../../../src-shared/interlock/bench.ts';
import { presetThresholds } from '../../../src-shared/interlock/bounds.ts';
import { changes } from '../../../src-shared/interlock/command.ts';
import type { GuardEvent } from '../../../src-shared/interlock/event.ts';
import { guardAtFirst, type GuardState } from '../../../src-shared/interlock/state.ts';
import {
  amps,
  at,
  channel,
  indicator,
  isolatedAt,
  limits,
  liveAt,
  mainsBench,
  mainsSetUp,
  meter,
  minute,
  openedSession,
  proofMeter,
  provingAt,
  reading,
  readyAt,
  second,
  seen,
  trippedAt,
} from './scene.ts';

/** The states of the table, each at 3 s on the clock at the latest. `nobody`: no session is open. */
export const states: Readonly<Record<string, () => GuardState>> = {
  nobody: () => guardAtFirst(0),
  unproved: () => openedSession(),
  isolated: () => isolatedAt(),
  ready: () => readyAt(),
  live: () => liveAt(),
  tripped: () => trippedAt(),
  proving: () => provingAt(),
};

const now = 3 * second;
const unknownSecondary: BenchFacts = {
  ...mainsBench,
  windings: mainsBench.windings.map((winding) => (winding.windingId === 2 ? { ...winding, volts: null } : winding)),
};
const otherSupply: BenchFacts = { ...mainsBench, supply: { ...mainsBench.supply, fuseAmps: 10 } };
const otherMeter: SetUp = { ...mainsSetUp, channels: [channel('primary-volts', { meter: meter(13) }), amps()] };
const unrated: SetUp = {
  ...mainsSetUp,
  channels: [channel('primary-volts', { meter: meter(11, { maxVolts: 250 }) }), amps()],
};
const byEye: SetUp = {
  ...mainsSetUp,
  channels: [channel('primary-volts', { meter: meter(11, { typed: true, intervalMs: 0 }) }), amps()],
};
const withThermometer: SetUp = {
  ...mainsSetUp,
  channels: [
    ...mainsSetUp.channels,
    channel('ambient', {
      kind: 'ambient',
      unit: '°C',
      required: false,
      volts: 0,
      joinedToMains: false,
      meter: meter(15),
    }),
  ],
};
const tighter = { ...limits, runSeconds: 60 };
const looser = { ...limits, runSeconds: 600 };

/** Every event of the guard, in the variants that make a difference, by a name for the table. */
export const events: Readonly<Record<string, GuardEvent>> = {
  'session-opened': at(now, {
    kind: 'session-opened',
    sessionId: 8,
    practice: false,
    bench: mainsBench,
    coreMagnetised: false,
    builtOrMovedSincePower: false,
  }),
  'session-ended': at(now, { kind: 'session-ended' }),
  restarted: at(now, {
    kind: 'restarted',
    revision: 3,
    was: 'live',
    sessionId: 7,
    practice: false,
    bench: mainsBench,
    thresholds: presetThresholds,
    coreMagnetised: false,
  }),
  'bench-described, alike': at(now, { kind: 'bench-described', bench: mainsBench }),
  'bench-described, winding unknown': at(now, { kind: 'bench-described', bench: unknownSecondary }),
  'bench-described, other supply': at(now, { kind: 'bench-described', bench: otherSupply }),
  'set-up, alike': at(now, { kind: 'set-up', setUp: mainsSetUp }),
  'set-up, other meter': at(now, { kind: 'set-up', setUp: otherMeter }),
  'set-up, unrated meter': at(now, { kind: 'set-up', setUp: unrated }),
  'taken-over, alike': at(now, { kind: 'taken-over', setUp: mainsSetUp }),
  'taken-over, by eye': at(now, { kind: 'taken-over', setUp: byEye }),
  'taken-over, other meter on the circuit': at(now, { kind: 'taken-over', setUp: otherMeter }),
  'taken-over, a thermometer more': at(now, { kind: 'taken-over', setUp: withThermometer }),
  'taken-over, other procedure': at(now, { kind: 'taken-over', setUp: { ...mainsSetUp, procedureId: 'sweep' } }),
  'check-confirmed pd-plug': at(now, { kind: 'check-confirmed', checkId: 'pd-plug' }),
  'check-confirmed b-place': at(now, { kind: 'check-confirmed', checkId: 'b-place' }),
  'check-confirmed b-rate': at(now, { kind: 'check-confirmed', checkId: 'b-rate' }),
  'check-confirmed pd-ln': at(now, { kind: 'check-confirmed', checkId: 'pd-ln' }),
  'check-confirmed t1-own': at(now, { kind: 'check-confirmed', checkId: 't1-own' }),
  'check-withdrawn pd-plug': at(now, { kind: 'check-withdrawn', checkId: 'pd-plug' }),
  'check-withdrawn b-place': at(now, { kind: 'check-withdrawn', checkId: 'b-place' }),
  'should-skipped b-help, reason': at(now, { kind: 'should-skipped', checkId: 'b-help', reason: 'alone in the house' }),
  'should-skipped b-help': at(now, { kind: 'should-skipped', checkId: 'b-help', reason: null }),
  'should-skipped b-hv': at(now, { kind: 'should-skipped', checkId: 'b-hv', reason: 'no time' }),
  'auto-check n-type': at(now, { kind: 'auto-check', checkId: 'n-type', holds: true }),
  'auto-check b-rate': at(now, { kind: 'auto-check', checkId: 'b-rate', holds: true }),
  'changed nothing': at(now, { kind: 'changed', what: [] }),
  ...Object.fromEntries(changes.map((change) => [`changed ${change}`, at(now, { kind: 'changed', what: [change] })])),
  'core-state': at(now, { kind: 'core-state', magnetised: true }),
  'proof-started': at(now, { kind: 'proof-started', instrument: proofMeter }),
  'proof-started, indicator': at(now, { kind: 'proof-started', instrument: indicator }),
  'proof-started, practice': at(now, { kind: 'proof-started', instrument: { ...proofMeter, practice: true } }),
  'proof-step': at(now, { kind: 'proof-step', step: 0, result: { kind: 'nothing' } }),
  'proof-abandoned': at(now, { kind: 'proof-abandoned' }),
  'plug-out-proved': at(now, { kind: 'plug-out-proved' }),
  'next-point-proved': at(now, { kind: 'next-point-proved', touchesMetal: false }),
  'next-point-proved, metal': at(now, { kind: 'next-point-proved', touchesMetal: true }),
  'limits-set, alike': at(now, { kind: 'limits-set', limits, reason: null }),
  'limits-set, tighter': at(now, { kind: 'limits-set', limits: tighter, reason: null }),
  'limits-set, looser': at(now, { kind: 'limits-set', limits: looser, reason: null }),
  'limits-set, looser, reason': at(now, { kind: 'limits-set', limits: looser, reason: 'slow meter' }),
  'thresholds-set, alike': at(now, { kind: 'thresholds-set', thresholds: presetThresholds, reason: null }),
  'thresholds-set, stricter': at(now, {
    kind: 'thresholds-set',
    thresholds: { ...presetThresholds, proofMinutes: 10 },
    reason: null,
  }),
  'thresholds-set, looser': at(now, {
    kind: 'thresholds-set',
    thresholds: { ...presetThresholds, deadAcVolts: 10 },
    reason: null,
  }),
  'ready-asked': at(now, { kind: 'ready-asked' }),
  'power-on-begun': at(now, { kind: 'power-on-begun' }),
  'power-on-let-go': at(now, { kind: 'power-on-let-go' }),
  'power-on-confirmed': at(now, { kind: 'power-on-confirmed' }),
  'power-off': at(now, { kind: 'power-off' }),
  'alarm-heard': at(now, { kind: 'alarm-heard' }),
  'reading-seen 230 V': seen(now, 'primary-volts', reading(230)),
  'reading-seen 260 V': seen(now, 'primary-volts', reading(260)),
  'reading-seen 0.1 V': seen(now, 'primary-volts', reading(0.1)),
  'reading-seen overload V': seen(now, 'primary-volts', { kind: 'overload', atLeast: 600, unit: 'V', coupling: 'ac' }),
  'reading-seen unreadable': seen(now, 'primary-volts', { kind: 'unreadable' }),
  'reading-seen wrong unit': seen(now, 'primary-volts', reading(230, 'A')),
  'reading-seen 0.5 A': seen(now, 'line-amps', reading(0.5, 'A')),
  'reading-seen no such channel': seen(now, 'watts', reading(5, 'W')),
  'meter-silent': at(now, { kind: 'meter-silent', meterId: 11 }),
  'slept 4 s': at(now, { kind: 'slept', sleptMs: 4 * second }),
  'held up 4 s': at(now, { kind: 'held-up', heldUpMs: 4 * second }),
  'slept 20 min': at(now, { kind: 'slept', sleptMs: 20 * minute }),
  tick: at(now, { kind: 'tick' }),
  'tick after 4 min': at(now + 4 * minute, { kind: 'tick' }),
  'tick after 31 min': at(now + 31 * minute, { kind: 'tick' }),
  'tick an hour back': at(now - 60 * minute, { kind: 'tick' }),
};
