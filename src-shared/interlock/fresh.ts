import { dayHours, setupHours } from './bounds.ts';
import type { Check, InvalidatingEvent } from './check.ts';
import { checkById, checkIds, type CheckId } from './checks.ts';
import { isPowered, type CheckMark, type GuardState } from './state.ts';
import type { Lapse, LapseCause } from './why.ts';

const minute = 60_000;

/** Time that power was declared on in this session up to `t`, in ms. */
const liveMsAt = (state: GuardState, t: number): number =>
  state.liveMs + (isPowered(state) ? Math.max(0, t - state.power.onAtMs) : 0);

/** How long a check stands when nothing happens, in minutes; null when time does not end it. */
function holdMinutes(state: GuardState, { holds }: Check): number | null {
  switch (holds.kind) {
    case 'time': {
      if (holds.whichTime === 'bench') return state.thresholds.benchMinutes;
      const standing = state.lastProof !== null && state.lastProof.endedAtMs === null ? state.lastProof : null;
      return Math.min(state.thresholds.proofMinutes, standing?.holdMinutes ?? Infinity);
    }
    case 'setup':
      return setupHours * 60;
    case 'day':
      return dayHours * 60;
    case 'auto':
    case 'proof-pair':
    case 'once':
    case 'each':
      return null;
  }
}

/** How long a mark has aged at `t`, in ms: live time is left out where the check says so. */
function ageMs(state: GuardState, { holds }: Check, mark: CheckMark, t: number): number {
  const notCounted = holds.kind === 'time' && holds.whileNotLive ? liveMsAt(state, t) - mark.liveMs : 0;
  return t - mark.atMs - Math.max(0, notCounted);
}

/** When a mark will lapse by time alone, on the guard's clock, if the state stays as it is; null when never. */
export function lapsesAtMs(state: GuardState, id: CheckId, t: number): number | null {
  const check = checkById(id);
  const mark = state.checks[id];
  if (check === undefined || mark === undefined) return null;
  const minutes = holdMinutes(state, check);
  return minutes === null ? null : t + minutes * minute - ageMs(state, check, mark, t);
}

/** A state with some checks taken away, and what was taken. */
export interface Lapsed {
  readonly state: GuardState;
  readonly lapses: readonly Lapse[];
}

/** Takes away every standing check for which `cause` gives a reason; the lapses are in the order of the lists. */
export function lapse(
  state: GuardState,
  t: number,
  cause: (check: Check, mark: CheckMark, id: CheckId) => LapseCause | null,
): Lapsed {
  const lapses: Lapse[] = [];
  // Asked for every reading: the few checks that stand, without a look at each that does not.
  for (const id in state.checks) {
    const check = checkById(id);
    const mark = check && state.checks[check.id];
    const why = mark && cause(check, mark, check.id);
    if (why) lapses.push({ checkId: check.id, atMs: t, cause: why });
  }
  if (lapses.length === 0) return { state, lapses };
  lapses.sort((one, other) => checkIds.indexOf(one.checkId) - checkIds.indexOf(other.checkId));
  const ended = new Set<string>(lapses.map(({ checkId }) => checkId));
  const checks = Object.fromEntries(Object.entries(state.checks).filter(([id]) => !ended.has(id)));
  const lapsed = { ...state.lapsed, ...Object.fromEntries(lapses.map((one) => [one.checkId, one])) };
  return { state: { ...state, checks, lapsed }, lapses };
}

/** Takes away what has stood its time. */
export const lapseByTime = (state: GuardState, t: number): Lapsed =>
  lapse(state, t, (check, mark) => {
    const minutes = holdMinutes(state, check);
    return minutes !== null && ageMs(state, check, mark, t) >= minutes * minute ? { kind: 'time', minutes } : null;
  });

/** Takes away what these events end. */
export const lapseByEvents = (state: GuardState, t: number, events: readonly InvalidatingEvent[]): Lapsed =>
  lapse(state, t, ({ invalidatedBy }) => {
    const event = events.find((one) => invalidatedBy.includes(one));
    return event === undefined ? null : { kind: 'event', event };
  });

/** A state with a check that stands from now on. */
export function mark(state: GuardState, id: CheckId, made: Omit<CheckMark, 'liveMs'>): GuardState {
  const lapsed = { ...state.lapsed };
  delete lapsed[id];
  const liveMs = liveMsAt(state, made.atMs);
  return { ...state, checks: { ...state.checks, [id]: { ...made, liveMs } }, lapsed };
}
