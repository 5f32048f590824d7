import { fillerOf, type ChannelFacts, type MeterFacts, type SetUp } from './bench.ts';
import type { GuardEvent } from './event.ts';
import { lapseByEvents } from './fresh.ts';
import type { Limits } from './limit.ts';
import { same } from './on-session.ts';
import { onSetUp, refusedMeters } from './on-set-up.ts';
import { rateSetUp } from './rating.ts';
import { isPowered, type GuardState, type Live, type Tripped } from './state.ts';
import { accept, refuse, still, type Turn } from './turn.ts';
import { watchOf, withWatch } from './watch.ts';

/**
 * Another meter, or the eye, takes a channel over, or one is added, in the middle of a run. With power off it is a set-up
 * like any other. With power on nobody changes leads on the circuit: a channel of it may only be read by eye from the very
 * meter that is clipped to it, or by its line again. A temperature on no winding may be taken over by another meter or
 * added; the lines that depend on the meters are asked again then. Limits never loosen by it.
 */
export function onTakenOver(state: GuardState, event: Extract<GuardEvent, { kind: 'taken-over' }>, t: number): Turn {
  if (!isPowered(state)) return onSetUp(state, { ...event, kind: 'set-up' }, t);
  const { setUp } = event;
  const ids = new Set(state.setUp.channels.map(({ id }) => id));
  const before = { ...setUp, channels: setUp.channels.filter(({ id }) => ids.has(id)) };
  if (!same(state.bench, setUp.bench) || !same(withoutMeters(state.setUp), withoutMeters(before))) {
    return refuse(state, { code: 'power-is-on', state: state.kind });
  }
  const refusal = refusedMeters(setUp, state.practice) ?? rateSetUp(setUp);
  if (refusal !== null) return refuse(state, refusal);
  const changed = setUp.channels.filter(({ id, meter }) => !same(meterOf(state.setUp, id), meter));
  if (changed.length === 0) return accept(state);
  const others = changed.filter(({ id, meter }) => !isSameInstrument(meterOf(state.setUp, id), meter));
  const onCircuit = others.find((channel) => !isApart(channel));
  if (onCircuit !== undefined) return refuse(state, { code: 'leads-on-circuit', channel: onCircuit.label });
  const { state: worn, lapses } = lapseByEvents(state, t, others.length > 0 ? ['meter'] : []);
  const news = new Set(changed.map(({ id }) => id));
  const calm = still(
    withSetUp(worn, setUp),
    (alarm) => (alarm.code === 'meter-quiet' || alarm.code === 'typed-late') && news.has(alarm.channel),
  );
  return accept(
    changed.reduce((now, channel) => begun(now, channel, t), calm),
    [],
    lapses,
  );
}

const meterOf = ({ channels }: SetUp, id: string): MeterFacts | null =>
  channels.find((channel) => channel.id === id)?.meter ?? null;

/** What of a set-up stays as it is with power on: everything but who reads. */
const withoutMeters = ({ channels, procedureId, energised, checklists, ruledOut, oneMeter }: SetUp) => [
  [procedureId, energised, checklists, ruledOut, oneMeter],
  channels.map((channel) => ({ ...channel, meter: null })),
];

/** Nothing that the hand could touch has changed: one meter, one range, whether its line or the eye reads it. */
const isSameInstrument = (was: MeterFacts | null, is: MeterFacts | null): boolean =>
  was !== null && is !== null && fillerOf(was) === fillerOf(is) && was.lockedRange === is.lockedRange;

/** On no winding and joined to nothing: a thermometer that may be exchanged with power on. */
const isApart = ({ kind, volts, joinedToMains, onFed }: ChannelFacts): boolean =>
  (kind === 'temperature' || kind === 'ambient') && volts === 0 && !joinedToMains && !onFed;

/** The set-up put in, with what is proposed for a channel that had no limit. */
function withSetUp(state: GuardState, setUp: SetUp): GuardState {
  return isPowered(state) ? { ...state, setUp, limits: grown(state, setUp) } : state;
}

function grown({ limits }: Live | Tripped, { proposed }: SetUp): Limits {
  const further = proposed.limits.channels.filter(
    ({ channel }) => !limits.channels.some((one) => one.channel === channel),
  );
  return further.length === 0 ? limits : { ...limits, channels: [...limits.channels, ...further] };
}

/** A channel whose silence counts from now on: its new reader has had no time to say anything. */
const begun = (state: GuardState, { id }: ChannelFacts, t: number): GuardState =>
  withWatch(state, id, { ...watchOf(state, id), goodAtMs: t, trail: [], reminded: false, lost: false });
