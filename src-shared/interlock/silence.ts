import { silenceIntervals, typedAlarmTimes, typedTripTimes } from './bounds.ts';
import type { ChannelFacts, ChannelKind } from './bench.ts';
import { isLimited } from './crossing.ts';
import { isPowered, type GuardState, type Live } from './state.ts';
import { accept, raise, andThen, type Turn } from './turn.ts';
import { watchOf, withWatch } from './watch.ts';
import type { Trip } from './why.ts';

/** Channels that are read while power is on; the others are silent then, as they should be. */
const readWhileLive: readonly ChannelKind[] = [
  'energised-volts',
  'energised-amps',
  'watts',
  'temperature',
  'ambient',
  'hertz',
];

/** Channels whose silence means something: filled, read again and again, and read while power is on. */
export const watchedChannels = (state: GuardState): readonly ChannelFacts[] =>
  (state.setUp?.channels ?? []).filter(
    ({ meter, cadence, kind }) => meter !== null && cadence === 'repeated' && readWhileLive.includes(kind),
  );

/** How long the meter of a channel may be silent, in s: the limit, or three of its own intervals where that is longer. */
export function silenceLimitSeconds(state: GuardState, channel: ChannelFacts): number {
  const limits = state.limits ?? state.setUp?.proposed.limits;
  return Math.max(limits?.silenceSeconds ?? 0, (silenceIntervals * (channel.meter?.intervalMs ?? 0)) / 1000);
}

/** Every channel that the meter of this one fills, this one included. */
const filledByTheSame = (state: GuardState, channel: ChannelFacts): readonly ChannelFacts[] =>
  (state.setUp?.channels ?? []).filter(({ meter }) => meter !== null && meter.meterId === channel.meter?.meterId);

/**
 * How long the meter of a channel has been silent at `t`, in s, power-on counting as an answer; null when it never said
 * anything. A meter that is moved between channels answers on whichever it is.
 */
function silentSeconds(state: GuardState, channel: ChannelFacts, t: number): number | null {
  let from = isPowered(state) ? state.power.onAtMs : -Infinity;
  for (const { id } of filledByTheSame(state, channel)) from = Math.max(from, watchOf(state, id).goodAtMs ?? from);
  return from === -Infinity ? null : (t - from) / 1000;
}

/** The port of the channel's meter was lost, and the meter has not answered on any channel since. */
const isLost = (state: GuardState, channel: ChannelFacts): boolean =>
  filledByTheSame(state, channel).every(({ id }) => watchOf(state, id).lost);

/** Whether the streaming meter of a channel, silent for so long, is quiet. */
const isQuietAfter = (state: GuardState, channel: ChannelFacts, seconds: number | null): boolean =>
  seconds === null || seconds > silenceLimitSeconds(state, channel) || isLost(state, channel);

/** Whether the streaming meter of a channel is quiet at `t`. */
const isQuiet = (state: GuardState, channel: ChannelFacts, t: number): boolean =>
  isQuietAfter(state, channel, silentSeconds(state, channel, t));

const isTyped = ({ meter }: ChannelFacts): boolean => meter?.typed ?? false;

/** The required channels whose meters do not answer at `t`. Typed ones count as answering. */
export const quietChannels = (
  state: GuardState,
  t: number,
): readonly { readonly channel: ChannelFacts; readonly seconds: number | null }[] =>
  watchedChannels(state)
    .filter((channel) => channel.required && !isTyped(channel) && isQuiet(state, channel, t))
    .map((channel) => ({ channel, seconds: silentSeconds(state, channel, t) }));

/** Another limited channel reads the same quantity with a meter that answers. */
const hasStandIn = (state: Live, channel: ChannelFacts, t: number): boolean =>
  watchedChannels(state).some(
    (other) =>
      other.quantity === channel.quantity &&
      other.meter?.meterId !== channel.meter?.meterId &&
      !isTyped(other) &&
      isLimited(state, other.id) &&
      !isQuiet(state, other, t),
  );

/** What silence has come to at `t` while live: reminders, alarms, and the first trip that it means. */
export function silence(state: Live, t: number): { readonly turn: Turn; readonly trip: Trip | null } {
  let turn = accept(state);
  let trip: Trip | null = null;
  for (const channel of watchedChannels(state)) {
    const seconds = silentSeconds(state, channel, t) ?? 0;
    const heard = isTyped(channel)
      ? typedSilence(state, channel, seconds, t)
      : meterSilence(state, channel, seconds, t);
    turn = andThen(turn, heard.calls);
    trip ??= heard.trip;
  }
  return { turn, trip };
}

interface Heard {
  readonly calls: (state: GuardState) => Turn;
  readonly trip: Trip | null;
}

const nothing: Heard = { calls: (state) => accept(state), trip: null };

function meterSilence(state: Live, channel: ChannelFacts, seconds: number, t: number): Heard {
  if (!isQuietAfter(state, channel, seconds)) return nothing;
  const { id, label } = channel;
  const limitSeconds = silenceLimitSeconds(state, channel);
  return {
    calls: (now) => raise(now, t, { code: 'meter-quiet', channel: id, label, seconds }),
    trip:
      isLimited(state, id) && !hasStandIn(state, channel, t)
        ? { code: 'silence', channel: id, label, source: 'meter', seconds, limitSeconds }
        : null,
  };
}

function typedSilence(state: Live, channel: ChannelFacts, seconds: number, t: number): Heard {
  const { id, label } = channel;
  const every = state.limits.typedSeconds;
  if (seconds < every) return nothing;
  const limitSeconds = every * typedTripTimes;
  return {
    calls: (now) => {
      const watch = watchOf(now, id);
      const remind = watch.reminded
        ? accept(now)
        : accept(withWatch(now, id, { ...watch, reminded: true }), [
            { kind: 'remind', channel: id, label },
            { kind: 'sound', sound: 'tick' },
          ]);
      return seconds < every * typedAlarmTimes
        ? remind
        : andThen(remind, (later) => raise(later, t, { code: 'typed-late', channel: id, label, seconds }));
    },
    trip:
      seconds >= limitSeconds && (channel.required || isLimited(state, id))
        ? { code: 'silence', channel: id, label, source: 'typed', seconds, limitSeconds }
        : null,
  };
}
