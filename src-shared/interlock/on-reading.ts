import type { ChannelFacts, SeenReading } from './bench.ts';
import type { GuardEvent, ReadingSeen } from './event.ts';
import { lapseByEvents } from './fresh.ts';
import { holdAgainstLimits } from './hold-against-limits.ts';
import { passTime } from './on-time.ts';
import { isPowered, type Alarm, type GuardState } from './state.ts';
import { accept, raise, refuse, still, andThen, toUnproved, type Turn } from './turn.ts';
import {
  channelOf,
  isOtherCoupling,
  notice,
  sound,
  unitFits,
  voltsIn,
  watchOf,
  withWatch,
  type VoltsSeen,
} from './watch.ts';

/**
 * A reading was seen, whatever comes of recording it. The guard listens in every state: volts while power is not declared
 * make it unproved with an alarm; while live the limits are held against it. A wrong unit, and a meter set to d.c. where
 * a.c. is asked, count as silence: nothing good is read out of them. Volts are volts all the same.
 */
export function onReading(state: GuardState, { channel: id, reading: given }: ReadingSeen, t: number): Turn {
  const channel = channelOf(state, id);
  if (channel === undefined) return refuse(state, { code: 'channel-not-known' });
  const reading = sound(given);
  if (!unitFits(channel, reading)) {
    const sent = reading.kind === 'unreadable' ? null : reading.unit;
    return refuse(state, { code: 'wrong-unit', channel: channel.label, sent, asked: channel.unit });
  }
  if (isOtherCoupling(channel, reading)) return otherCoupling(state, channel, reading, t);
  const before = watchOf(state, id);
  const noted = notice(state, channel, reading, t);
  const calls = reading.kind === 'number' && noted.alarms.length > 0;
  const answered = calls ? still(noted, answersTo(noted, channel)) : noted;
  if (answered.kind === 'live') return holdAgainstLimits(answered, channel, reading, before, t);
  if (isPowered(answered) || channel.kind !== 'energised-volts' || isProvingMeter(answered, channel)) {
    return accept(answered);
  }
  const seen = voltsIn(answered.thresholds, reading);
  return seen === null ? accept(answered) : voltsSeen(answered, channel, seen, t);
}

/** A meter set to another kind than its channel asks: not noted, but volts that it shows count. */
function otherCoupling(state: GuardState, channel: ChannelFacts, reading: SeenReading, t: number): Turn {
  const sent = reading.kind === 'unreadable' ? null : `${channel.unit} ${reading.coupling ?? ''}`;
  const refusal = {
    code: 'wrong-unit',
    channel: channel.label,
    sent,
    asked: `${channel.unit} ${channel.coupling ?? ''}`,
  } as const;
  const listens = !isPowered(state) && channel.kind === 'energised-volts' && !isProvingMeter(state, channel);
  const seen = listens ? voltsIn(state.thresholds, reading) : null;
  return seen === null ? refuse(state, refusal) : { ...voltsSeen(state, channel, seen, t), refusal };
}

/** The meter that a proof is made with reads known sources: its steps are judged by the proof. */
const isProvingMeter = ({ proofInProgress: proof }: GuardState, { meter }: ChannelFacts): boolean =>
  proof !== null && proof.instrument.kind === 'meter' && proof.instrument.meterId === meter?.meterId;

/** Alarms that end when the meter of this channel answers: on any channel that it fills, when it is moved. */
function answersTo(state: GuardState, { id, meter }: ChannelFacts): (alarm: Alarm) => boolean {
  const filled = (state.setUp?.channels ?? []).filter((other) => other.meter?.meterId === meter?.meterId);
  const ids = new Set([id, ...filled.map((other) => other.id)]);
  return (alarm) =>
    ((alarm.code === 'meter-quiet' || alarm.code === 'typed-late') && ids.has(alarm.channel)) ||
    (alarm.code === 'overload' && alarm.channel === id);
}

function voltsSeen(state: GuardState, channel: ChannelFacts, seen: VoltsSeen, t: number): Turn {
  const { id, label } = channel;
  const was = state.kind;
  const { state: worn, lapses } = lapseByEvents(state, t, ['volts']);
  const known = state.kind === 'unproved' && state.why.code === 'volts-seen' && state.why.channel === id;
  const next: GuardState = known
    ? { ...worn, proofInProgress: null }
    : toUnproved(worn, t, { code: 'volts-seen', channel: id, label, ...seen, was });
  const called = andThen(accept({ ...next, series: null }, [], lapses), (now) =>
    raise(now, t, { code: 'volts-seen', channel: id, label, volts: seen.volts, was }),
  );
  return called;
}

/** The port of a meter is lost: it counts as quiet at once, until it answers again. */
export function onMeterSilent(
  state: GuardState,
  { meterId }: Extract<GuardEvent, { kind: 'meter-silent' }>,
  t: number,
): Turn {
  const filled = (state.setUp?.channels ?? []).filter(({ meter }) => meter?.meterId === meterId);
  return passTime(
    filled.reduce<GuardState>((now, { id }) => withWatch(now, id, { ...watchOf(now, id), lost: true }), state),
    t,
  );
}
