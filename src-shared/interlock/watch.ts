import { rateOverMs, trailStepMs, type Thresholds } from './bounds.ts';
import type { Coupling } from '../meter/unit.ts';
import type { ChannelFacts, ChannelKind, SeenReading } from './bench.ts';
import { isPowered, type ChannelWatch, type GuardState } from './state.ts';
import type { ProofCoupling } from './proof.ts';

/** The channel of the set-up with this id; undefined when there is none. */
export const channelOf = (state: GuardState, id: string): ChannelFacts | undefined =>
  state.setUp?.channels.find((channel) => channel.id === id);

/** A reading with a number that is none taken as beyond the range: of an impossible number nothing good is assumed. */
export const sound = (reading: SeenReading): SeenReading =>
  reading.kind !== 'number'
    ? reading
    : Number.isFinite(reading.value)
      ? // Adding 0 makes a minus zero, which JSON does not know, a zero.
        { ...reading, value: reading.value + 0 }
      : { kind: 'overload', atLeast: null, unit: reading.unit, coupling: reading.coupling };

/** Whether a reading's unit is the channel's. What is not a number may come without a unit. */
export const unitFits = (channel: ChannelFacts, reading: SeenReading): boolean =>
  reading.kind === 'unreadable' ||
  reading.unit === channel.unit ||
  (reading.kind === 'overload' && reading.unit === null);

/** Whether a reading was taken with the meter set to another kind (a.c., d.c.) than its channel asks; unknown is none. */
export const isOtherCoupling = ({ coupling: asked }: ChannelFacts, reading: SeenReading): boolean =>
  reading.kind !== 'unreadable' && reading.coupling !== null && asked !== null && reading.coupling !== asked;

/** Volts, amps and watts count by magnitude; temperatures and the rest with their sign. */
const byMagnitude: readonly ChannelKind[] = ['energised-volts', 'energised-amps', 'watts'];
export const sizeOf = (kind: ChannelKind, value: number): number =>
  byMagnitude.includes(kind) ? Math.abs(value) : value;

const asProofCoupling = (coupling: Coupling | null): ProofCoupling =>
  coupling === 'ac' || coupling === 'dc' ? coupling : 'both';

/** Under these volts a circuit counts as dead; for a mixed or unknown kind the lower of the two. */
export function deadVolts(thresholds: Thresholds, coupling: ProofCoupling): number {
  if (coupling === 'ac') return thresholds.deadAcVolts;
  if (coupling === 'dc') return thresholds.deadDcVolts;
  return Math.min(thresholds.deadAcVolts, thresholds.deadDcVolts);
}

/** Volts at or over the dead threshold in what a circuit channel said; `volts` null when beyond the meter's range. */
export interface VoltsSeen {
  readonly volts: number | null;
  readonly coupling: ProofCoupling;
  readonly thresholdVolts: number;
}

/** The volts that a reading of a circuit shows; null when it is under the threshold, or says nothing. */
export function voltsIn(thresholds: Thresholds, reading: SeenReading | ChannelWatch): VoltsSeen | null {
  if (reading.kind === 'unreadable') return null;
  const coupling = asProofCoupling(reading.coupling);
  const thresholdVolts = deadVolts(thresholds, coupling);
  if (reading.kind === 'overload') return { volts: null, coupling, thresholdVolts };
  if (reading.value === null || Math.abs(reading.value) < thresholdVolts) return null;
  return { volts: reading.value, coupling, thresholdVolts };
}

const nothingSeen: ChannelWatch = {
  kind: 'unreadable',
  value: null,
  unit: null,
  coupling: null,
  atMs: 0,
  goodAtMs: null,
  sincePower: 0,
  highestLive: null,
  trail: [],
  reminded: false,
  lost: false,
};

/** What was last seen on a channel. */
export const watchOf = (state: GuardState, channel: string): ChannelWatch =>
  state.watch.channels[channel] ?? nothingSeen;

/** The last reading of a channel again; beyond the range it does not say any more where that ends. */
export function lastSeen({ kind, value, unit, coupling }: ChannelWatch): SeenReading {
  if (kind === 'number' && value !== null && unit !== null) return { kind, value, unit, coupling };
  return kind === 'overload' ? { kind, atLeast: null, unit, coupling } : { kind: 'unreadable' };
}

export function withWatch(state: GuardState, channel: string, watch: ChannelWatch): GuardState {
  return { ...state, watch: { ...state.watch, channels: { ...state.watch.channels, [channel]: watch } } };
}

/**
 * The state with a reading noted. Beyond the range or unreadable is noted, but does not count as an answer: silence goes
 * on counting.
 */
export function notice(state: GuardState, channel: ChannelFacts, reading: SeenReading, t: number): GuardState {
  const before = watchOf(state, channel.id);
  if (reading.kind !== 'number') {
    const { kind } = reading;
    const coupling = kind === 'overload' ? reading.coupling : null;
    return withWatch(state, channel.id, { ...before, kind, value: null, unit: null, coupling, atMs: t });
  }
  const { value, unit, coupling } = reading;
  const size = sizeOf(channel.kind, value);
  const powered = isPowered(state);
  return withWatch(state, channel.id, {
    kind: 'number',
    value,
    unit,
    coupling,
    atMs: t,
    goodAtMs: t,
    sincePower: powered ? before.sincePower + 1 : before.sincePower,
    highestLive: powered ? Math.max(before.highestLive ?? size, size) : before.highestLive,
    trail: channel.kind === 'temperature' ? longerTrail(before.trail, t, value, timesFaster(state)) : [],
    reminded: false,
    lost: false,
  });
}

type Trail = ChannelWatch['trail'];

/** How many times faster than the clock the time of this set-up goes: 1, but in practice with simulated time. */
export const timesFaster = ({ setUp }: Pick<GuardState, 'setUp'>): number => setUp?.timeFactor ?? 1;

/** Points at least one step apart; the youngest one that is old enough for a rate is kept, older ones are dropped. */
function longerTrail(trail: Trail, t: number, value: number, factor: number): Trail {
  const last = trail.at(-1);
  const grown = last === undefined || (t - last.atMs) * factor >= trailStepMs ? [...trail, { atMs: t, value }] : trail;
  const base = grown.findLastIndex(({ atMs }) => (t - atMs) * factor >= rateOverMs);
  return base > 0 ? grown.slice(base) : grown;
}

/**
 * How fast a channel rises, in its unit a minute, over the last minute or the last typed interval; null when not known.
 * `factor`: how many times faster than the clock time goes.
 */
export function risePerMinute({ trail, value, atMs }: ChannelWatch, factor: number): number | null {
  const base = trail.findLast((point) => (atMs - point.atMs) * factor >= rateOverMs);
  if (base === undefined || value === null) return null;
  return ((value - base.value) / ((atMs - base.atMs) * factor)) * 60_000;
}
