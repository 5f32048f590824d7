import { blankAtMostMs, blankMs, blankReadings } from './bounds.ts';
import type { ChannelFacts, SeenReading } from './bench.ts';
import type { ChannelLimit } from './limit.ts';
import type { ChannelWatch, Live } from './state.ts';
import { risePerMinute, sizeOf, timesFaster, voltsIn, watchOf } from './watch.ts';
import type { Trip } from './why.ts';

/** The limit that a channel is under; undefined when it has none. */
const limitOf = (state: Live, channel: string): ChannelLimit | undefined =>
  state.limits.channels.find((limit) => limit.channel === channel);

/** Whether crossing a limit can trip: a channel that only warns, or has no bounds, does not count as limited. */
export const isLimited = (state: Live, channel: string): boolean => {
  const limit = limitOf(state, channel);
  return limit !== undefined && (limit.min !== null || limit.max !== null || limit.risePerMinute !== null);
};

/**
 * Whether an amp limit is blanked at `t` for inrush: for 2 s after power-on, and until a streaming meter has given three
 * readings, but never longer than 5 s. `readings` counts the good ones since power-on, this one included. A typed
 * channel is blanked for the 2 s alone, and its last value is judged when they are over.
 */
export function isBlanked(channel: ChannelFacts, sincePowerMs: number, readings: number): boolean {
  if (channel.kind !== 'energised-amps') return false;
  if (sincePowerMs < blankMs) return true;
  const streams = channel.meter !== null && !channel.meter.typed;
  return streams && readings <= blankReadings && sincePowerMs < blankAtMostMs;
}

/** Whether a channel fell under its lower bound, having been above it since power-on. */
const isUnder = (min: number, size: number, before: ChannelWatch): boolean =>
  before.highestLive !== null && before.highestLive >= min && size < min;

/** Whether this is a volts channel that reads as a dead circuit does. */
const isDead = (state: Live, channel: ChannelFacts, reading: SeenReading): boolean =>
  channel.kind === 'energised-volts' && voltsIn(state.thresholds, reading) === null;

/** Volts that have to stay above a lower bound, and are gone; null while they are there. */
export function goneVolts(
  state: Live,
  channel: ChannelFacts,
  reading: SeenReading,
  before: ChannelWatch,
): number | null {
  const min = limitOf(state, channel.id)?.min ?? null;
  if (min === null || reading.kind !== 'number' || !isDead(state, channel, reading)) return null;
  return isUnder(min, sizeOf(channel.kind, reading.value), before) ? reading.value : null;
}

/**
 * The trip that a reading means while live; null when it crosses nothing. `state` has the reading noted already, `before`
 * is what was seen before it. Exactly on a limit is not across it. A lower bound counts once the channel has been above
 * it: power is declared before the switch is thrown. Volts that are gone cross none: the plug is pulled before it is said.
 */
export function crossing(
  state: Live,
  channel: ChannelFacts,
  reading: SeenReading,
  before: ChannelWatch,
  t: number,
): Trip | null {
  const limit = limitOf(state, channel.id);
  if (limit === undefined || reading.kind === 'unreadable') return null;
  const watch = watchOf(state, channel.id);
  if (isBlanked(channel, t - state.power.onAtMs, watch.sincePower)) return null;
  const at = { channel: channel.id, label: channel.label, unit: channel.unit };
  if (reading.kind === 'overload') {
    return limit.max !== null && reading.atLeast !== null && reading.atLeast >= limit.max
      ? { code: 'limit', ...at, bound: 'max', value: null, limit: limit.max }
      : null;
  }
  const size = sizeOf(channel.kind, reading.value);
  if (limit.max !== null && size > limit.max) {
    return { code: 'limit', ...at, bound: 'max', value: reading.value, limit: limit.max };
  }
  if (limit.min !== null && isUnder(limit.min, size, before) && !isDead(state, channel, reading)) {
    return { code: 'limit', ...at, bound: 'min', value: reading.value, limit: limit.min };
  }
  const perMinute = risePerMinute(watch, timesFaster(state));
  if (limit.risePerMinute !== null && perMinute !== null && perMinute > limit.risePerMinute) {
    return { code: 'rise', ...at, perMinute, limit: limit.risePerMinute };
  }
  return null;
}
