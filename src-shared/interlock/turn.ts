import type { Effect } from './effect.ts';
import { lapse, type Lapsed } from './fresh.ts';
import type { LastProof } from './proof.ts';
import type { Refusal } from './refusal.ts';
import type { Alarm, AlarmCause, GuardRecord, GuardState, Isolated, Proving, Unproved } from './state.ts';
import type { Lapse, Why } from './why.ts';

/** What one step of the guard comes to; `lapses` are the checks that it ended. */
export interface Turn {
  readonly state: GuardState;
  readonly lapses: readonly Lapse[];
  readonly effects: readonly Effect[];
  readonly refusal: Refusal | null;
}

const none: readonly never[] = [];

/** The event is accepted. */
export const accept = (
  state: GuardState,
  effects: readonly Effect[] = none,
  lapses: readonly Lapse[] = none,
): Turn => ({
  state,
  lapses,
  effects,
  refusal: null,
});

/** The event is not accepted; nothing changes. */
export const refuse = (state: GuardState, refusal: Refusal): Turn => ({ state, lapses: [], effects: [], refusal });

/** What every state carries, without the kind. */
function recordOf(state: GuardState): GuardRecord {
  const { kind: _kind, ...record } = state;
  return record;
}

const ended = (proof: LastProof | null, t: number): LastProof | null =>
  proof === null || proof.endedAtMs !== null ? proof : { ...proof, endedAtMs: t };

/** Nothing is known any more: whatever was proved has ended, and so has what was under way. */
export const toUnproved = (state: GuardState, t: number, why: Why): Unproved => ({
  ...recordOf(state),
  kind: 'unproved',
  sinceMs: t,
  why,
  hold: null,
  proofInProgress: null,
  lastProof: ended(state.lastProof, t),
});

/** Declared off and not proved. */
export const toProving = (state: GuardState, t: number, why: Why): Proving => ({
  ...recordOf(state),
  kind: 'proving',
  sinceMs: t,
  why,
  hold: null,
  proofInProgress: null,
  lastProof: ended(state.lastProof, t),
});

/** A proof stands. */
export const toIsolated = (state: GuardState, t: number, why: Why, lastProof: LastProof): Isolated => ({
  ...recordOf(state),
  kind: 'isolated',
  sinceMs: t,
  why,
  hold: null,
  lastProof,
});

/** The checks that only a proof decides do not stand any more. */
export const withoutProofMarks = (state: GuardState, t: number): Lapsed =>
  lapse(state, t, ({ decidedBy }) => (decidedBy === 'proof' ? { kind: 'new-proof-needed' } : null));

/** Joins the lapses of two steps, the second taken on the state of the first. */
export function thenLapse(first: Lapsed, second: (state: GuardState) => Lapsed): Lapsed {
  const { state, lapses } = second(first.state);
  return { state, lapses: [...first.lapses, ...lapses] };
}

const isSame = (alarm: Alarm, cause: AlarmCause): boolean =>
  alarm.code === cause.code && ('channel' in alarm ? 'channel' in cause && alarm.channel === cause.channel : true);

/** Adds an alarm that does not stand yet, with the effects that call the person. */
export function raise(state: GuardState, t: number, cause: AlarmCause): Turn {
  if (state.alarms.some((alarm) => isSame(alarm, cause))) return accept(state);
  const alarm: Alarm = { ...cause, atMs: t, heard: false };
  return accept({ ...state, alarms: [...state.alarms, alarm] }, [
    { kind: 'alarm', alarm },
    { kind: 'sound', sound: 'alarm' },
  ]);
}

/** Takes away the alarms whose cause is gone. */
export function still(state: GuardState, isGone: (alarm: Alarm) => boolean): GuardState {
  const alarms = state.alarms.filter((alarm) => !isGone(alarm));
  return alarms.length === state.alarms.length ? state : { ...state, alarms };
}

/** One list behind the other. Asked for every reading, when both are empty: then nothing is copied. */
const behind = <T>(first: readonly T[], second: readonly T[]): readonly T[] =>
  first.length === 0 ? second : second.length === 0 ? first : [...first, ...second];

/** Does one step after another, on the state that the first leaves. A refusal of either is kept. */
export function andThen(first: Turn, next: (state: GuardState) => Turn): Turn {
  const second = next(first.state);
  return {
    state: second.state,
    lapses: behind(first.lapses, second.lapses),
    effects: behind(first.effects, second.effects),
    refusal: first.refusal ?? second.refusal,
  };
}
