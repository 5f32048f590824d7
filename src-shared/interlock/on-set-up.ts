import { fillerOf, type SetUp } from './bench.ts';
import { isLowVoltageList } from './demand.ts';
import type { GuardEvent } from './event.ts';
import { lapse, lapseByEvents, mark } from './fresh.ts';
import { benchChanged, same } from './on-session.ts';
import { rateSetUp } from './rating.ts';
import type { Refusal } from './refusal.ts';
import { isPowered, type ChannelWatch, type GuardState } from './state.ts';
import { accept, refuse, thenLapse, toIsolated, type Turn } from './turn.ts';

/**
 * The procedure and who fills its channels. Refused when a meter does not fit its channel, when a list is missing that the
 * supply asks for, or when a practice meter would watch over a real bench. What is another one than before ends the checks
 * that depend on it; limits are to be set anew unless nothing changed.
 */
export function onSetUp(state: GuardState, { setUp }: Extract<GuardEvent, { kind: 'set-up' }>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (isPowered(state)) return refuse(state, { code: 'power-is-on', state: state.kind });
  const refusal =
    refusedMeters(setUp, state.practice) ?? rateSetUp(setUp) ?? refusedLists(setUp, state.thresholds.touchVolts);
  if (refusal !== null) return refuse(state, refusal);

  const was = state.setUp;
  const isSame = was !== null && same(was, setUp);
  const rewired = was !== null && !same(metersOf(was), metersOf(setUp));
  const worn = thenLapse(benchChanged(state, setUp.bench, t), (now) => lapseByEvents(now, t, rewired ? ['meter'] : []));
  const used = thenLapse(worn, (now) =>
    lapse(now, t, ({ holds }) => (holds.kind === 'each' && !isSame ? { kind: 'used-up' } : null)),
  );
  const channels = keptWatches(used.state, setUp);
  const next: GuardState = {
    ...used.state,
    watch: { ...used.state.watch, channels },
    series: rewired ? null : used.state.series,
  };
  const chosen =
    next.kind === 'ready' && !isSame ? toIsolated(next, t, { code: 'set-up-changed' }, next.lastProof) : next;
  return rated(withSetUp(chosen, setUp, isSame), t, used.lapses);
}

/** The set-up put in; the limits stay only when nothing about it changed. Never ready here unless nothing changed. */
function withSetUp(state: GuardState, setUp: SetUp, isSame: boolean): GuardState {
  if (isSame || state.kind === 'ready' || isPowered(state)) return state;
  return { ...state, setUp, limits: null };
}

/** Every meter of the set-up fits: the program sees that itself, so it ticks the line. */
function rated(state: GuardState, t: number, lapses: Turn['lapses']): Turn {
  if (state.checks['b-rate'] !== undefined) return accept(state, [], lapses);
  const marked = mark(state, 'b-rate', { atMs: t, by: '', how: 'program', reason: null });
  return accept(
    marked,
    [{ kind: 'check', checkId: 'b-rate', mark: 'seen-by-program', who: '', lapse: null, reason: null }],
    lapses,
  );
}

const metersOf = ({ channels }: SetUp) =>
  channels.map(({ id, meter }) => [id, meter === null ? null : fillerOf(meter), meter?.lockedRange ?? null]);

/** What was seen is kept on the channels that the same meter still fills. */
function keptWatches(state: GuardState, setUp: SetUp): Readonly<Record<string, ChannelWatch>> {
  const fills = (from: SetUp | null, id: string) => from?.channels.find((channel) => channel.id === id)?.meter?.meterId;
  return Object.fromEntries(
    Object.entries(state.watch.channels).filter(
      ([id]) => fills(setUp, id) !== undefined && fills(setUp, id) === fills(state.setUp, id),
    ),
  );
}

/** Why the meters of a set-up cannot fill it; null when they can. Their ratings are judged apart. */
export function refusedMeters({ channels, oneMeter }: SetUp, practice: boolean): Refusal | null {
  const seen = new Set<string>();
  for (const { id, label, required, cadence, meter } of channels) {
    if (meter === null) {
      if (required) return { code: 'meter-missing', channel: id, label };
      continue;
    }
    if (meter.practice && !practice) return { code: 'practice-meter', meterId: meter.meterId, label: meter.label };
    // What is read once, such as hertz, is read before with a meter that then fills another channel.
    if (cadence === 'once') continue;
    if (seen.has(fillerOf(meter)) && !oneMeter)
      return { code: 'meter-twice', meterId: meter.meterId, label: meter.label };
    seen.add(fillerOf(meter));
  }
  return null;
}

/** The lists that the supply asks for: whatever a procedure says, nothing is powered without one that covers its feed. */
function refusedLists({ energised, checklists, bench }: SetUp, touchVolts: number): Refusal | null {
  if (!energised) return null;
  const { kind, volts } = bench.supply;
  const isLow = kind === 'isolated-low-voltage' && volts <= touchVolts;
  if (checklists.some(isLowVoltageList)) return isLow ? null : { code: 'low-voltage-list-refused' };
  const fullVolts = kind === 'mains' || kind === 'mains-through-lamp';
  if (checklists.includes('X')) return fullVolts ? { code: 'low-voltage-list-refused' } : null;
  return checklists.includes('B') ? null : { code: 'base-list-missing' };
}
