import { lapse, lapseByEvents, mark } from './fresh.ts';
import type { InvalidatingEvent } from './check.ts';
import type { CheckId } from './checks.ts';
import type { Change } from './command.ts';
import { beforeProof, demands, type Demand } from './demand.ts';
import type { Effect } from './effect.ts';
import type { GuardEvent } from './event.ts';
import { isPowered, type CheckMark, type GuardState } from './state.ts';
import { accept, raise, refuse, andThen, type Turn } from './turn.ts';

type Of<K extends GuardEvent['kind']> = Extract<GuardEvent, { kind: K }>;

/** The lines that the guard itself ticks: nobody outside decides them. */
const ownLines: readonly CheckId[] = ['b-rate', 'k-mark'];

const demandFor = (state: GuardState, id: CheckId): Demand | undefined => demands(state).find((one) => one.id === id);

const markEffect = (checkId: CheckId, made: Omit<CheckMark, 'liveMs'>): Effect => ({
  kind: 'check',
  checkId,
  mark: made.how === 'passed-over' ? 'passed-over' : made.how === 'person' ? 'confirmed' : 'seen-by-program',
  who: made.by,
  lapse: null,
  reason: made.reason,
});

/** Puts a mark on a check, with the effect that records it. */
export const marked = (state: GuardState, id: CheckId, made: Omit<CheckMark, 'liveMs'>): Turn =>
  accept(mark(state, id, made), [markEffect(id, made)]);

/** A person confirms a line. What the program or a proof decides cannot be ticked; the plug cannot be out with power on. */
export function onCheckConfirmed(state: GuardState, { checkId, by }: Of<'check-confirmed'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  const demand = demandFor(state, checkId);
  if (demand === undefined) return refuse(state, { code: 'not-asked', checkId });
  if (demand.check.decidedBy === 'program') return refuse(state, { code: 'seen-by-program', checkId });
  if (demand.check.decidedBy === 'proof') return refuse(state, { code: 'needs-proof', checkId });
  const needsOff = beforeProof.some((id) => id === checkId) || demand.check.when === 'after-power';
  if (isPowered(state) && needsOff) return refuse(state, { code: 'power-is-on', state: state.kind });
  return marked(state, checkId, { atMs: t, by, how: 'person', reason: null });
}

/** A person takes a confirmation back. Of a line that does not stand nothing is left to take. */
export function onCheckWithdrawn(state: GuardState, { checkId, by }: Of<'check-withdrawn'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  const { state: next, lapses } = lapse(state, t, (_check, _mark, id) =>
    id === checkId ? { kind: 'withdrawn', by } : null,
  );
  return accept(next, [], lapses);
}

/** A should is passed over, with a reason; a must never is. */
export function onShouldSkipped(state: GuardState, { checkId, by, reason }: Of<'should-skipped'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  const demand = demandFor(state, checkId);
  if (demand === undefined) return refuse(state, { code: 'not-asked', checkId });
  if (demand.must) return refuse(state, { code: 'must-not-skipped' });
  if (reason === null) return refuse(state, { code: 'reason-needed' });
  return marked(state, checkId, { atMs: t, by, how: 'passed-over', reason });
}

/** What the program sees of a line that it decides; seen again it stays as old as it was. */
export function onAutoCheck(state: GuardState, { checkId, holds }: Of<'auto-check'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  const demand = demandFor(state, checkId);
  if (demand === undefined) return refuse(state, { code: 'not-asked', checkId });
  if (demand.check.decidedBy !== 'program' || ownLines.includes(checkId)) {
    return refuse(state, { code: 'not-seen-by-program', checkId });
  }
  const stands = state.checks[checkId];
  if (!holds) {
    const { state: next, lapses } = lapse(state, t, (_check, _mark, id) =>
      id === checkId ? { kind: 'not-seen-any-more' } : null,
    );
    return accept(next, [], lapses);
  }
  return stands === undefined || stands.how !== 'program'
    ? marked(state, checkId, { atMs: t, by: '', how: 'program', reason: null })
    : accept(state);
}

const eventFor: Readonly<Record<Change, InvalidatingEvent>> = {
  meter: 'meter',
  wiring: 'wire',
  supply: 'supply',
  winding: 'build',
  moved: 'move',
  load: 'load',
  away: 'away',
  'hand-over': 'hand',
  plug: 'plug',
};

/** Changes that nobody makes with power on: they call the person to switch off. */
const notWhileLive: readonly Change[] = ['meter', 'wiring', 'supply', 'winding', 'moved', 'away'];

/** The person says what changed on the bench: exactly the lines that depend on it lapse. */
export function onChanged(state: GuardState, { what }: Of<'changed'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  const { state: worn, lapses } = lapseByEvents(
    state,
    t,
    what.map((change) => eventFor[change]),
  );
  const built = what.includes('winding') || what.includes('moved');
  const next: GuardState = {
    ...worn,
    builtOrMovedSincePower: worn.builtOrMovedSincePower || built,
    series: what.length === 0 ? worn.series : null,
    hold: what.length === 0 ? worn.hold : null,
    proofInProgress: what.length === 0 ? worn.proofInProgress : null,
  };
  const wrong = what.filter((change) => notWhileLive.includes(change));
  return andThen(accept(next, [], lapses), (now) =>
    isPowered(now) && wrong.length > 0 ? raise(now, t, { code: 'changed-while-live', what: wrong }) : accept(now),
  );
}

/** The core was magnetised by d.c., or brought down slowly since. */
export function onCoreState(state: GuardState, { magnetised }: Of<'core-state'>): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  return accept(state.coreMagnetised === magnetised ? state : { ...state, coreMagnetised: magnetised });
}

/** The person heard the alarm: the sound is stilled, the alarm stands. */
export function onAlarmHeard(state: GuardState): Turn {
  if (state.alarms.every(({ heard }) => heard)) return accept(state);
  return accept({ ...state, alarms: state.alarms.map((alarm) => ({ ...alarm, heard: true })) });
}
