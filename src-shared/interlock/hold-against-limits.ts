import type { ChannelFacts, SeenReading } from './bench.ts';
import { crossing, goneVolts, isBlanked, isLimited } from './crossing.ts';
import { lapseByEvents } from './fresh.ts';
import type { ChannelWatch, GuardState, Live, Tripped } from './state.ts';
import { accept, raise, still, andThen, type Turn } from './turn.ts';
import { lastSeen, sizeOf, watchOf } from './watch.ts';
import type { Trip } from './why.ts';

/** A limit was crossed: power still counts as on, recording goes on, the run is marked. */
export function tripped(state: Live, t: number, trip: Trip): Turn {
  const { state: worn, lapses } = lapseByEvents(state, t, ['trip']);
  const { setUp, limits, power } = state;
  const next: Tripped = {
    ...worn,
    kind: 'tripped',
    sinceMs: t,
    why: { code: 'tripped', trip },
    setUp,
    limits,
    power,
    trip,
  };
  const called = raise(next, t, { code: 'tripped', trip });
  return { ...called, lapses, effects: [{ kind: 'run-tripped', trip }, ...called.effects] };
}

/**
 * Holds a reading against the limits while live: it trips, or raises or stills an alarm. The reading is noted in `state`
 * already, `before` is what was seen before it. What comes while an amp limit is blanked does neither.
 */
export function holdAgainstLimits(
  state: Live,
  channel: ChannelFacts,
  reading: SeenReading,
  before: ChannelWatch,
  t: number,
): Turn {
  const trip = crossing(state, channel, reading, before, t);
  if (trip !== null) return tripped(state, t, trip);
  const { id, label } = channel;
  if (isBlanked(channel, t - state.power.onAtMs, watchOf(state, id).sincePower)) return accept(state);
  if (reading.kind === 'overload' && isLimited(state, id))
    return raise(state, t, { code: 'overload', channel: id, label });
  const gone = goneVolts(state, channel, reading, before);
  if (gone !== null) return raise(state, t, { code: 'volts-gone', channel: id, label, volts: gone });
  const there = still(state, (alarm) => alarm.code === 'volts-gone' && alarm.channel === id);
  return warned(there, state, channel, reading, t);
}

/** Raises or stills the alarm that the person asked for below the limit. */
function warned(now: GuardState, state: Live, channel: ChannelFacts, reading: SeenReading, t: number): Turn {
  const { id, label, unit } = channel;
  const warn = state.limits.channels.find((limit) => limit.channel === id)?.warn ?? null;
  if (reading.kind !== 'number' || warn === null) return accept(now);
  const value = sizeOf(channel.kind, reading.value);
  return value >= warn
    ? raise(now, t, { code: 'warn', channel: id, label, unit, value, limit: warn })
    : accept(still(now, (alarm) => alarm.code === 'warn' && alarm.channel === id));
}

/**
 * Typed amps that were blanked for inrush, at the first instant from `fromMs` to `t` at which they are not any more: they
 * are held against their limits then, for the next value may be long in coming.
 */
export function afterInrush(state: Live, fromMs: number, t: number): Turn {
  const { onAtMs } = state.power;
  const due = state.setUp.channels.filter((channel) => {
    const { atMs, sincePower } = watchOf(state, channel.id);
    const blankedAt = (instantMs: number) => isBlanked(channel, instantMs - onAtMs, sincePower);
    return channel.meter?.typed === true && atMs >= onAtMs && blankedAt(fromMs) && blankedAt(atMs) && !blankedAt(t);
  });
  return due.reduce<Turn>(
    (turn, channel) =>
      andThen(turn, (now) => {
        const watch = watchOf(now, channel.id);
        return now.kind === 'live' ? holdAgainstLimits(now, channel, lastSeen(watch), watch, t) : accept(now);
      }),
    accept(state),
  );
}
