import { holdAtLeastMs, holdAtMostMs } from './bounds.ts';
import type { GuardEvent } from './event.ts';
import { lapse, lapseByEvents, type Lapsed } from './fresh.ts';
import { marked } from './on-check.ts';
import { demands } from './demand.ts';
import { missingForReady } from './ready.ts';
import { isPowered, type Alarm, type ChannelWatch, type GuardState, type Live, type Ready } from './state.ts';
import { accept, refuse, still, andThen, thenLapse, toProving, type Turn } from './turn.ts';

type Of<K extends GuardEvent['kind']> = Extract<GuardEvent, { kind: K }>;

/** The ready check: granted when nothing is missing, else refused with all that is. */
export function onReadyAsked(state: GuardState, { by }: Of<'ready-asked'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (isPowered(state)) return refuse(state, { code: 'power-is-on', state: state.kind });
  if (state.kind !== 'isolated') return refuse(state, { code: 'not-in-this-state', state: state.kind });
  const { setUp, limits } = state;
  if (setUp === null) return refuse(state, { code: 'no-set-up' });
  if (!setUp.energised) return refuse(state, { code: 'not-energised' });
  const missing = missingForReady(state).map(({ id }) => id);
  if (missing.length > 0 || limits === null) return refuse(state, { code: 'not-ready', missing });
  const ready: Ready = {
    ...state,
    kind: 'ready',
    sinceMs: t,
    why: { code: 'all-confirmed', by },
    setUp,
    limits,
    proofInProgress: null,
  };
  return accept(ready);
}

/** The power-on bar is pressed: from here main measures the time. */
export function onPowerOnBegun(state: GuardState, { by }: Of<'power-on-begun'>, t: number): Turn {
  if (state.kind !== 'ready') return refuse(state, { code: 'not-in-this-state', state: state.kind });
  return accept({ ...state, hold: { begunAtMs: t, by } });
}

/** The bar was let go before its time. */
export const onPowerOnLetGo = (state: GuardState): Turn =>
  accept(state.hold === null ? state : { ...state, hold: null });

/** Power is declared on, after a hold of at least one second. A hold that was too short or too long is forgotten. */
export function onPowerOnConfirmed(state: GuardState, { by }: Of<'power-on-confirmed'>, t: number): Turn {
  if (state.kind !== 'ready') return refuse(state, { code: 'not-in-this-state', state: state.kind });
  const { hold } = state;
  if (hold === null) return refuse(state, { code: 'hold-not-begun' });
  const heldMs = t - hold.begunAtMs;
  const forgotten: GuardState = { ...state, hold: null };
  if (heldMs < holdAtLeastMs) {
    return refuse(forgotten, { code: 'hold-too-short', heldMs, limitMs: holdAtLeastMs });
  }
  if (heldMs > holdAtMostMs) return refuse(forgotten, { code: 'hold-too-long', heldMs, limitMs: holdAtMostMs });
  const { setUp, limits } = state;
  const worn = poweredLapses(state, t);
  const fullVolts = setUp.bench.supply.kind !== 'isolated-low-voltage';
  const live: Live = {
    ...worn.state,
    kind: 'live',
    sinceMs: t,
    why: { code: 'declared-on', by },
    setUp,
    limits,
    power: { by, onAtMs: t, offAtMs: null },
    hold: null,
    trip: null,
    proofInProgress: null,
    lastProof: { ...state.lastProof, endedAtMs: t },
    builtOrMovedSincePower: state.builtOrMovedSincePower && !fullVolts,
    watch: { ...worn.state.watch, channels: freshlyPowered(state) },
  };
  return accept(live, [], worn.lapses);
}

/** What power, on or off, ends: the lines that it invalidates and those for one use. */
const poweredLapses = (state: GuardState, t: number): Lapsed =>
  thenLapse(lapseByEvents(state, t, ['pow']), (now) => usedUp(now, t));

const usedUp = (state: GuardState, t: number): Lapsed =>
  lapse(state, t, ({ holds }) => (holds.kind === 'each' ? { kind: 'used-up' } : null));

const freshlyPowered = ({ watch }: GuardState): Readonly<Record<string, ChannelWatch>> =>
  Object.fromEntries(
    Object.entries(watch.channels).map(([id, channel]) => [
      id,
      { ...channel, sincePower: 0, highestLive: null, trail: [], reminded: false },
    ]),
  );

/** Alarms that belong to a stretch of power and end with it. */
const ofPower = ({ code }: Alarm): boolean => code !== 'volts-seen' && code !== 'volts-found';

/**
 * "Power is off". Never refused, and it never makes a state look better than it was.
 *
 * - live, tripped: proving.
 * - isolated, ready: somebody says that power went off, so it may have been on without the guard's knowing. What was proved
 *   does not count any more: proving, as if power had been on. A wrong press costs one proof.
 * - proving: it is off already; nothing changes.
 * - unproved: nothing is known, and nothing more is known now; nothing changes.
 */
export function onPowerOff(state: GuardState, { by }: Of<'power-off'>, t: number): Turn {
  switch (state.kind) {
    case 'live':
    case 'tripped':
      return declaredOff(state, by, t);
    case 'isolated':
    case 'ready': {
      const { state: worn, lapses } = poweredLapses(state, t);
      return accept(
        { ...toProving(worn, t, { code: 'off-without-on', by, was: state.kind }), series: null },
        [],
        lapses,
      );
    }
    case 'proving':
    case 'unproved':
      return accept(state);
  }
}

function declaredOff(state: Extract<GuardState, { kind: 'live' | 'tripped' }>, by: string, t: number): Turn {
  const { state: worn, lapses } = usedUp(state, t);
  const { power } = state;
  const off: GuardState = {
    ...toProving(worn, t, { code: 'declared-off', by, was: state.kind }),
    power: { ...power, offAtMs: t },
    liveMs: state.liveMs + Math.max(0, t - power.onAtMs),
  };
  const calm = still(off, ofPower);
  const timed = demands(calm).some(({ id }) => id === 'k-mark');
  return andThen(accept(calm, [], lapses), (now) =>
    timed ? marked(now, 'k-mark', { atMs: t, by, how: 'program', reason: null }) : accept(now),
  );
}
