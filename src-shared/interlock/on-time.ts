import { clockToleranceMs, proofIdleMinutes, unwatchedMs } from './bounds.ts';
import { checkIds } from './checks.ts';
import { lapse, lapseByEvents, lapseByTime } from './fresh.ts';
import { afterInrush, tripped } from './hold-against-limits.ts';
import { silence, silenceLimitSeconds, watchedChannels } from './silence.ts';
import { isPowered, type ChannelWatch, type GuardState, type Live } from './state.ts';
import { accept, raise, refuse, andThen, toUnproved, type Turn } from './turn.ts';
import { timesFaster } from './watch.ts';
import type { Trip } from './why.ts';

/** Whether an instant lies so far before the latest one that the clock is not to be believed. */
export const hasSteppedBack = (state: GuardState, atMs: number): boolean => atMs < state.watch.nowMs - clockToleranceMs;

/** The instant that an event counts for: never before the latest one, unless the clock stepped back. */
export const instantOf = (state: GuardState, atMs: number): number => {
  if (!Number.isFinite(atMs)) return state.watch.nowMs;
  // Adding 0 makes a minus zero, which JSON does not know, a zero.
  return (hasSteppedBack(state, atMs) ? atMs : Math.max(atMs, state.watch.nowMs)) + 0;
};

/**
 * Lets time pass up to `t`: checks lapse, a proof left lying is given up, typed amps are judged when the inrush is over, a
 * run's time ends, silence is noticed.
 */
export function passTime(state: GuardState, t: number): Turn {
  const { state: worn, lapses } = lapseByTime(state, t);
  const { proofInProgress: proof } = worn;
  const idle = proof !== null && t - proof.lastAtMs >= proofIdleMinutes * 60_000;
  const now: GuardState = {
    ...worn,
    watch: { ...worn.watch, nowMs: t },
    proofInProgress: idle ? null : proof,
  };
  const passed = accept(now, [], lapses);
  if (now.kind !== 'live') return passed;
  const judged = andThen(passed, () => afterInrush(now, state.watch.nowMs, t));
  return andThen(judged, (next) => (next.kind === 'live' ? liveTime(next, t) : accept(next)));
}

function liveTime(state: Live, t: number): Turn {
  const { turn, trip } = silence(state, t);
  const { runSeconds } = state.limits;
  const overTime = runSeconds !== null && (t - state.power.onAtMs) * timesFaster(state) >= runSeconds * 1000;
  const found: Trip | null = overTime ? { code: 'run-time', limitSeconds: runSeconds } : trip;
  return andThen(turn, (now) => (found !== null && now.kind === 'live' ? tripped(now, t, found) : accept(now)));
}

/**
 * The clock stepped back: nobody knows how long anything has stood. Whatever holds for a time lapses, and with it the
 * proof; the stretch of power keeps its length.
 */
export function stepBack(state: GuardState, t: number): Turn {
  const backMs = state.watch.nowMs - t;
  const limited = ['time', 'setup', 'day'];
  const { state: worn, lapses } = lapse(state, t, ({ holds }) =>
    limited.includes(holds.kind) ? { kind: 'clock' } : null,
  );
  const rebased: GuardState = {
    ...withClockAt(worn, t),
    sinceMs: Math.min(worn.sinceMs, t),
    hold: null,
    proofInProgress: null,
    series: null,
  };
  if (isPowered(rebased)) return andThen(accept(rebased, [], lapses), (now) => raise(now, t, { code: 'clock' }));
  const proved = rebased.kind === 'isolated' || rebased.kind === 'ready';
  return accept(proved ? toUnproved(rebased, t, { code: 'clock-stepped', backMs }) : rebased, [], lapses);
}

function withClockAt(state: GuardState, t: number): GuardState {
  const backMs = state.watch.nowMs - t;
  const notAfter = (atMs: number) => Math.min(atMs, t);
  const channels = Object.fromEntries(
    Object.entries(state.watch.channels).map(([id, channel]): [string, ChannelWatch] => [
      id,
      {
        ...channel,
        atMs: notAfter(channel.atMs),
        goodAtMs: channel.goodAtMs === null ? null : notAfter(channel.goodAtMs),
        trail: [],
      },
    ]),
  );
  const watch = { nowMs: t, channels };
  if (isPowered(state)) return { ...state, watch, power: { ...state.power, onAtMs: state.power.onAtMs - backMs } };
  const { power } = state;
  const offAtMs = power === null || power.offAtMs === null ? null : notAfter(power.offAtMs);
  return { ...state, watch, power: power === null ? null : { ...power, offAtMs } };
}

/**
 * The computer slept. What stood while it slept has aged by that much. Asleep for long it listened to nothing: that
 * counts as having left the bench, and with power on as a trip.
 */
export function slept(state: GuardState, sleptMs: number, t: number): Turn {
  if (!(sleptMs >= 0))
    return refuse(state, { code: 'out-of-bounds', what: 'sleptMs', value: null, lowest: 0, highest: null });
  const aged: GuardState = { ...state, checks: older(state, sleptMs), proofInProgress: null, series: null };
  const timed = lapseByTime(aged, t);
  const left = sleptMs >= unwatchedMs ? lapseByEvents(timed.state, t, ['away']) : { state: timed.state, lapses: [] };
  const turn = accept(left.state, [], [...timed.lapses, ...left.lapses]);
  const seconds = sleptMs / 1000;
  return andThen(turn, (now) => {
    if (now.kind !== 'live') return accept(now);
    const longest = Math.min(
      ...watchedChannels(now).map((channel) => silenceLimitSeconds(now, channel)),
      unwatchedMs / 1000,
    );
    return seconds > longest ? tripped(now, t, { code: 'slept', seconds }) : accept(now);
  });
}

/**
 * The program was held up, by a busy computer say, for less time than a sleep. What its meters sent meanwhile waits to be
 * read: their silence begins that much later. What holds for a time has aged already, since the clock went on.
 */
export function heldUp(state: GuardState, heldUpMs: number): Turn {
  if (!(heldUpMs >= 0 && heldUpMs <= unwatchedMs))
    return refuse(state, { code: 'out-of-bounds', what: 'heldUpMs', value: null, lowest: 0, highest: unwatchedMs });
  const channels = Object.fromEntries(
    Object.entries(state.watch.channels).map(([id, channel]): [string, ChannelWatch] => [
      id,
      channel.goodAtMs === null ? channel : { ...channel, goodAtMs: channel.goodAtMs + heldUpMs },
    ]),
  );
  return accept({ ...state, watch: { ...state.watch, channels } });
}

function older({ checks }: GuardState, ms: number): GuardState['checks'] {
  if (Object.keys(checks).length === 0) return checks;
  const aged = { ...checks };
  for (const id of checkIds) {
    const mark = aged[id];
    if (mark !== undefined) aged[id] = { ...mark, atMs: mark.atMs - ms };
  }
  return aged;
}
