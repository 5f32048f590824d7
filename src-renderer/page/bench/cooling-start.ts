import type { LastReading } from '../../../src-shared/contract/meter-view.ts';
import { coolingMayBegin } from '../../../src-shared/interlock/accept.ts';
import type { ChannelFacts } from '../../../src-shared/interlock/bench.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { deadVolts, voltsIn, watchOf, withWatch } from '../../../src-shared/interlock/watch.ts';

/** What the meter of a channel said last; null when nothing. */
export type LastOf = (channel: string) => LastReading | null;

const ofCircuit = (state: GuardState): readonly ChannelFacts[] =>
  (state.setUp?.channels ?? []).filter(({ kind }) => kind === 'energised-volts');

/**
 * The guard's state with what its circuit channels read now. A page is told of the guard when a decision changes, not
 * with each reading; the guard's own rules then say the same here as where they count.
 */
export function withHeard(state: GuardState, lastOf: LastOf): GuardState {
  return ofCircuit(state).reduce((now, { id }) => {
    const last = lastOf(id);
    if (last === null) return now;
    const { kind, value, unit, coupling, atMs } = last;
    return withWatch(now, id, { ...watchOf(now, id), kind, value, unit, coupling, atMs });
  }, state);
}

/** What has to be seen before the ohms of a cooling winding are taken. */
export interface CoolingStart {
  /** Seconds since power was declared off. */
  readonly sinceOff: number;
  readonly isPlugOut: boolean;
  /** What the voltmeter shows: not read since the plug was out, still there, or fallen below the threshold. */
  readonly volts: 'not-read' | 'there' | 'fallen';
  /** The same in words: `Primary volts: 0.0 V, below 3 V`. */
  readonly sentence: string;
  readonly mayRead: boolean;
}

/**
 * Whether the ohms of a cooling winding are waited for: power was declared off, and nothing is proved yet. Also when volts
 * were seen since: a meter is slower than the hand on the key.
 */
export function awaitsCooling(state: GuardState): boolean {
  const readsOhms = state.setUp?.channels.some(({ kind, meter }) => kind === 'cooling-resistance' && meter !== null);
  const isWaiting = state.kind === 'proving' || (state.kind === 'unproved' && state.why.code === 'volts-seen');
  return readsOhms === true && isWaiting && (state.power?.offAtMs ?? null) !== null;
}

/** How far the two things before the first ohms have got; null when it is not the time for it, or nobody reads ohms. */
export function coolingStart(state: GuardState, lastOf: LastOf, nowMs: number): CoolingStart | null {
  const offAtMs = state.power?.offAtMs ?? null;
  const fed = ofCircuit(state).find(({ onFed, meter }) => onFed && meter !== null);
  if (offAtMs === null || !awaitsCooling(state)) return null;
  const now = withHeard(state, lastOf);
  const plug = state.checks['pd-plug'];
  const isPlugOut = plug !== undefined && plug.atMs >= offAtMs;
  const last = fed === undefined ? null : lastOf(fed.id);
  const isRead = last !== null && plug !== undefined && isPlugOut && last.atMs >= plug.atMs;
  const isThere = last !== null && voltsIn(state.thresholds, watchOf(now, fed?.id ?? '')) !== null;
  const below = deadVolts(state.thresholds, 'ac');
  const shown = last?.value === null || last === null ? 'nothing read' : `${last.value.toFixed(1)} V`;
  return {
    sinceOff: Math.max(0, (nowMs - offAtMs) / 1000),
    isPlugOut,
    volts: isThere ? 'there' : isRead ? 'fallen' : 'not-read',
    sentence: `${fed?.label ?? 'Volts'}: ${shown}${isThere ? `, not below ${below} V` : isRead ? `, below ${below} V` : ''}`,
    mayRead: coolingMayBegin(now),
  };
}
