import { gradeOf, highestVolts, type BenchFacts } from './bench.ts';
import type { GuardEvent, Restarted, SessionOpened } from './event.ts';
import { lapse, lapseByEvents, type Lapsed } from './fresh.ts';
import { guardAtFirst, isPowered, type GuardState } from './state.ts';
import { tripped } from './hold-against-limits.ts';
import { accept, raise, refuse, andThen, type Turn } from './turn.ts';
import type { InvalidatingEvent } from './check.ts';

/** Two plain values are alike; a difference in the order of keys counts as a difference, which only makes the guard stricter. */
export const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** A guard that knows nothing, at the present revision. */
const anew = (state: GuardState, t: number): GuardState => ({ ...guardAtFirst(t), revision: state.revision });

/** The grade and the highest volts that bench facts come to. */
export const described = (state: GuardState, bench: BenchFacts | null): GuardState => ({
  ...state,
  bench,
  highest: bench === null ? null : highestVolts(bench),
  grade: gradeOf(bench, state.thresholds.touchVolts),
});

export function onSessionOpened(state: GuardState, event: SessionOpened, t: number): Turn {
  if (state.sessionId !== null) return refuse(state, { code: 'session-open' });
  const { sessionId, practice, bench, coreMagnetised, builtOrMovedSincePower } = event;
  const opened: GuardState = {
    ...described(anew(state, t), bench),
    why: { code: 'session-opened' },
    sessionId,
    practice,
    coreMagnetised,
    builtOrMovedSincePower,
  };
  return accept(opened);
}

export function onSessionEnded(state: GuardState, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (isPowered(state)) return refuse(state, { code: 'power-is-on', state: state.kind });
  const { lapses } = lapse(state, t, () => ({ kind: 'event', event: 'sess' }));
  return accept({ ...anew(state, t), why: { code: 'session-ended' } }, [], lapses);
}

/** Whatever it was, it is unproved now; nothing that was confirmed counts, since nobody knows what happened meanwhile. */
export function onRestarted(state: GuardState, event: Restarted, t: number): Turn {
  const { was, sessionId, practice, bench, thresholds, coreMagnetised } = event;
  const revision = Math.max(state.revision, event.revision);
  const begun = described({ ...anew(state, t), revision, thresholds }, bench);
  const next: GuardState = { ...begun, why: { code: 'restarted', was }, sessionId, practice, coreMagnetised };
  const wasOn = was === 'live' || was === 'tripped';
  return wasOn ? raise(next, t, { code: 'restarted-while-live' }) : accept(next);
}

/** What a new description of the bench ends: a supply, a build or a feed that is another one, a volts table that is. */
export function benchChanged(state: GuardState, bench: BenchFacts, t: number): Lapsed {
  const was = state.bench;
  if (was === null) return { state: described(state, bench), lapses: [] };
  const events = eventsBetween(was, bench);
  const worn = lapseByEvents(state, t, events);
  const retabled = !same([was.windings, was.plug, was.supply.volts], [bench.windings, bench.plug, bench.supply.volts]);
  const table = lapse(worn.state, t, (_check, _mark, id) =>
    retabled && id === 'b-volts' ? { kind: 'new-volts-table' } : null,
  );
  const built = events.includes('build');
  const next = described(table.state, bench);
  const renewed: GuardState = {
    ...next,
    bench: same(was, bench) ? was : bench,
    highest: same(next.highest, state.highest) ? state.highest : next.highest,
    builtOrMovedSincePower: next.builtOrMovedSincePower || built,
    series: events.length > 0 ? null : next.series,
  };
  return { state: renewed, lapses: [...worn.lapses, ...table.lapses] };
}

function eventsBetween(was: BenchFacts, is: BenchFacts): readonly InvalidatingEvent[] {
  return [
    ...(same(was.supply, is.supply) ? [] : (['supply'] as const)),
    ...(was.buildId === is.buildId ? [] : (['build'] as const)),
    ...(was.fedWindingId === is.fedWindingId ? [] : (['wire'] as const)),
  ];
}

/**
 * The bench facts are computed anew. With power on only what is known of the windings may change; when that takes a bench
 * under the low-voltage checks over the touch bound, the run trips.
 */
export function onBenchDescribed(
  state: GuardState,
  { bench }: Extract<GuardEvent, { kind: 'bench-described' }>,
  t: number,
): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (isPowered(state) && state.bench !== null && eventsBetween(state.bench, bench).length > 0) {
    return refuse(state, { code: 'power-is-on', state: state.kind });
  }
  const { state: next, lapses } = benchChanged(state, bench, t);
  return andThen(accept(next, [], lapses), (now) => gradeWatched(state, now, t));
}

/** The grade rose with power on under the few checks of low voltage: power is to go off. A proof is settled elsewhere. */
const gradeWatched = (before: GuardState, now: GuardState, t: number): Turn =>
  before.grade === 'handful' && now.grade === 'base' && now.highest !== null && now.kind === 'live'
    ? tripped(now, t, { code: 'grade-rose', highest: now.highest })
    : accept(now);
