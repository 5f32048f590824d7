import { bounds, limitBounds, presetThresholds, thresholdNames, type Thresholds } from './bounds.ts';
import type { GuardEvent } from './event.ts';
import { lapse } from './fresh.ts';
import type { ChannelLimit, Limits, ProposedLimits } from './limit.ts';
import { described, same } from './on-session.ts';
import { isCircuit } from './proof-steps.ts';
import type { Refusal } from './refusal.ts';
import { isPowered, type GuardState } from './state.ts';
import { accept, refuse, type Turn } from './turn.ts';
import { deadVolts } from './watch.ts';

type Of<K extends GuardEvent['kind']> = Extract<GuardEvent, { kind: K }>;

/**
 * The limits of this set-up. They may be tighter than proposed at will; looser asks for a reason, ends at the rating that
 * stands behind each, and is refused while power is on.
 */
export function onLimitsSet(state: GuardState, { limits, reason }: Of<'limits-set'>): Turn {
  const { setUp } = state;
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (setUp === null) return refuse(state, { code: 'no-set-up' });
  if (state.kind === 'tripped') return refuse(state, { code: 'power-is-on', state: 'tripped' });
  const outside = limitsOutside(limits, setUp.proposed, new Set(setUp.channels.map(({ id }) => id)));
  if (outside !== null) return refuse(state, outside);
  if (state.kind === 'live') {
    const what = loosened(limits, state.limits);
    if (what.length > 0) return refuse(state, { code: 'loosened-while-live', what });
  }
  if (loosened(limits, setUp.proposed.limits).length > 0 && reason === null) {
    return refuse(state, { code: 'reason-needed' });
  }
  if (state.limits !== null && same(state.limits, limits)) return accept(state);
  return accept({ ...state, limits, hold: null });
}

type Range = { readonly lowest: number | null; readonly highest: number | null };

function outsideOf(what: string, value: number | null, { lowest, highest }: Range): Refusal | null {
  const inside =
    value !== null &&
    Number.isFinite(value) &&
    (lowest === null || value >= lowest) &&
    (highest === null || value <= highest);
  return inside ? null : { code: 'out-of-bounds', what, value: finiteOrNull(value), lowest, highest };
}

const finiteOrNull = (value: number | null): number | null => (value !== null && Number.isFinite(value) ? value : null);

const unbounded: Range = { lowest: null, highest: null };

/** The first of the limits that nobody may set; null when all may be. */
function limitsOutside(limits: Limits, proposed: ProposedLimits, channels: ReadonlySet<string>): Refusal | null {
  const seen = new Set<string>();
  for (const limit of limits.channels) {
    if (!channels.has(limit.channel) || seen.has(limit.channel))
      return { code: 'limit-not-known', channel: limit.channel };
    seen.add(limit.channel);
    const outside = channelOutside(limit, proposed);
    if (outside !== null) return outside;
  }
  const missing = proposed.limits.channels.find(({ channel }) => !seen.has(channel));
  if (missing !== undefined) return { code: 'limit-missing', channel: missing.channel };
  const { runSeconds, silenceSeconds, typedSeconds } = limits;
  return (
    (runSeconds === null ? null : outsideOf('runSeconds', runSeconds, limitBounds.runSeconds)) ??
    outsideOf('silenceSeconds', silenceSeconds, limitBounds.silenceSeconds) ??
    outsideOf('typedSeconds', typedSeconds, limitBounds.typedSeconds)
  );
}

function channelOutside(limit: ChannelLimit, proposed: ProposedLimits): Refusal | null {
  const { channel, min, max, warn, risePerMinute } = limit;
  const ceiling = proposed.ceilings.find((one) => one.channel === channel);
  const lowestMin = ceiling?.lowestMin ?? null;
  const highestMax = ceiling?.highestMax ?? null;
  const numbers = { min, max, warn, risePerMinute };
  for (const [name, value] of Object.entries(numbers)) {
    const outside = value === null ? null : outsideOf(`${channel} ${name}`, value, unbounded);
    if (outside !== null) return outside;
  }
  if (highestMax !== null) {
    const outside = outsideOf(`${channel} max`, max, { lowest: min, highest: highestMax });
    if (outside !== null) return outside;
  }
  if (lowestMin !== null) return outsideOf(`${channel} min`, min, { lowest: lowestMin, highest: max });
  return min !== null && max !== null ? outsideOf(`${channel} max`, max, { lowest: min, highest: null }) : null;
}

const laxerAbove = (is: number | null, was: number | null): boolean => was !== null && (is === null || is > was);
const laxerBelow = (is: number | null, was: number | null): boolean => was !== null && (is === null || is < was);

/** What is looser in `is` than in `was`, by name: `primary-volts max`, `core-temperature rise`, `runSeconds`. */
export function loosened(is: Limits, was: Limits): readonly string[] {
  const channels = was.channels.flatMap((before) => {
    const now = is.channels.find(({ channel }) => channel === before.channel);
    const found = {
      max: laxerAbove(now?.max ?? null, before.max),
      min: laxerBelow(now?.min ?? null, before.min),
      warn: laxerAbove(now?.warn ?? null, before.warn),
      rise: laxerAbove(now?.risePerMinute ?? null, before.risePerMinute),
    };
    return Object.entries(found).flatMap(([name, isLaxer]) => (isLaxer ? [`${before.channel} ${name}`] : []));
  });
  return [
    ...channels,
    ...(laxerAbove(is.runSeconds, was.runSeconds) ? ['runSeconds'] : []),
    ...(laxerAbove(is.silenceSeconds, was.silenceSeconds) ? ['silenceSeconds'] : []),
    ...(laxerAbove(is.typedSeconds, was.typedSeconds) ? ['typedSeconds'] : []),
  ];
}

/**
 * The editable thresholds, within their bounds; looser than preset asks for a reason. A proof that was made on a looser
 * threshold than the new one ends when one of its readings would not pass any more; one in progress is given up.
 */
export function onThresholdsSet(state: GuardState, { thresholds, reason }: Of<'thresholds-set'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (isPowered(state)) return refuse(state, { code: 'power-is-on', state: state.kind });
  for (const name of thresholdNames) {
    const outside = outsideOf(name, thresholds[name], bounds[name]);
    if (outside !== null) return refuse(state, outside);
  }
  const laxer = thresholdNames.some((name) => thresholds[name] > presetThresholds[name]);
  if (laxer && reason === null) return refuse(state, { code: 'reason-needed' });
  if (same(state.thresholds, thresholds)) return accept(state);
  const { state: worn, lapses } = lapse(state, t, ({ decidedBy }) =>
    decidedBy === 'proof' && !standsUnder(state, thresholds) ? { kind: 'new-proof-needed' } : null,
  );
  return accept(described({ ...worn, thresholds, proofInProgress: null, hold: null }, worn.bench), [], lapses);
}

/** Every circuit reading of the last proof lies under these thresholds, or was explained as pick-up. */
function standsUnder({ lastProof }: GuardState, thresholds: Thresholds): boolean {
  return (lastProof?.readings ?? []).every(
    (reading) =>
      !isCircuit(reading) ||
      reading.result.kind !== 'volts' ||
      Math.abs(reading.result.volts) < deadVolts(thresholds, reading.coupling),
  );
}
