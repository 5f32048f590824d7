import * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { eventKind, type KeptPair, type KeptPoint, type RecordEvent, type Run } from '../record/run.ts';
import { sinceStartMs } from '../record/run-time.ts';
import { readGuardTrace, tripTold, type GuardTrace } from './guard-trace.ts';
import type { Happening, LimitSpan } from './run-facts.ts';

type Told = Pick<Happening, 'kind' | 'word' | 'text'>;

const Said = v.looseObject({ text: v.string() });
const Withdrawn = v.looseObject({ reason: v.string() });

/** They belong to a channel and to the conditions, and are told there. */
const toldElsewhere: readonly string[] = [eventKind.channelExtras, eventKind.runSetUp, eventKind.simulatedTime];

const shortened = (text: string): string => (text.length <= 24 ? text : `${text.slice(0, 22).trimEnd()} ...`);

/** `meter-lost` as `Meter lost`. */
export const wordsOf = (id: string): string => {
  const words = id.replaceAll(/[-_]+/g, ' ').trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
};

/** What a step of the guard means for the run; null when it means nothing to it. */
function stepTold(before: GuardTrace | null, now: GuardTrace): Told | null {
  if (before?.kind === now.kind) return null;
  const wasPowered = before?.kind === 'live' || before?.kind === 'tripped';
  switch (now.kind) {
    case 'live':
      return { kind: 'power', word: 'Power on', text: `Power was declared on by ${now.power?.by ?? 'somebody'}.` };
    case 'tripped':
      return { kind: 'trip', word: 'Trip', text: tripTold(now.trip) };
    case 'proving':
      return wasPowered
        ? { kind: 'power', word: 'Power off', text: `Power was declared off by ${now.power?.by ?? 'somebody'}.` }
        : null;
    case 'unproved':
      return wasPowered
        ? { kind: 'power', word: 'Not known', text: 'The guard lost sight of the power: nothing was known from here.' }
        : null;
    case 'isolated':
    case 'ready':
      return null;
  }
}

function keptWords({ coilTurns, primary, coil, swapped }: KeptPair): string {
  const volts = (value: number, unit: string) => `${formatNumber(value, 5)} ${unit}`;
  const how = swapped ? ', meters exchanged' : '';
  return `${coilTurns} coil turns: ${volts(primary.value, primary.unit)} and ${volts(coil.value, coil.unit)}${how}.`;
}

/** What was kept in a run, withdrawn or not. */
interface Kept {
  readonly kept: readonly KeptPair[];
  readonly points: readonly KeptPoint[];
}

const pointWords = ({ values }: KeptPoint): string =>
  `${values.map(({ value, unit }) => `${formatNumber(value, 5)} ${unit}`).join(', ')}.`;

/** What any other event says of itself. */
function eventTold({ kind, body, eventId }: RecordEvent, { kept, points }: Kept): Told {
  const said = v.safeParse(Said, body);
  if (kind === eventKind.pairKept) {
    const pair = kept.find((one) => one.eventId === eventId);
    return { kind: 'kept', word: 'Kept', text: pair === undefined ? 'A pair was kept.' : keptWords(pair) };
  }
  if (kind === eventKind.pointKept) {
    const point = points.find((one) => one.eventId === eventId);
    return { kind: 'kept', word: 'Kept', text: point === undefined ? 'A point was kept.' : pointWords(point) };
  }
  if (kind === eventKind.pairWithdrawn || kind === eventKind.pointWithdrawn) {
    const why = v.safeParse(Withdrawn, body);
    return {
      kind: 'point',
      word: 'Taken back',
      text: why.success ? `Taken back: ${why.output.reason}` : 'Taken back.',
    };
  }
  if (said.success && (kind === eventKind.channelTakenOver || kind === eventKind.channelAdded)) {
    const word = kind === eventKind.channelAdded ? 'Meter added' : 'Taken over';
    return { kind: 'point', word, text: said.output.text };
  }
  if (said.success && said.output.text !== '') {
    return { kind: 'note', word: shortened(said.output.text), text: said.output.text };
  }
  return { kind: kind.includes('kept') ? 'kept' : 'point', word: shortened(wordsOf(kind)), text: `${wordsOf(kind)}.` };
}

/**
 * What happened in a run, oldest first. `events` are those of the run; `before` is the guard's last state before it
 * began, null when none is known.
 */
export function happeningsOf(
  run: Run,
  events: readonly RecordEvent[],
  kept: Kept,
  before: RecordEvent | null,
): readonly Happening[] {
  let last = before === null ? null : readGuardTrace(before.body);
  const happenings: Happening[] = [];
  for (const event of events) {
    let told: Told | null;
    if (event.kind === eventKind.guard) {
      const now = readGuardTrace(event.body);
      told = now === null ? null : stepTold(last, now);
      last = now ?? last;
    } else if (toldElsewhere.includes(event.kind)) {
      told = null;
    } else {
      told = eventTold(event, kept);
    }
    if (told === null) continue;
    happenings.push({ eventId: event.eventId, atMs: sinceStartMs(run, event.monoMs), wallMs: event.wallMs, ...told });
  }
  return happenings;
}

/** The limits under which a run stood, each for as long as it was so. */
export function limitSpansOf(
  run: Run,
  events: readonly RecordEvent[],
  before: RecordEvent | null,
): readonly LimitSpan[] {
  const open = new Map<string, LimitSpan>();
  const spans: LimitSpan[] = [];
  const states = [...(before === null ? [] : [before]), ...events].filter(({ kind }) => kind === eventKind.guard);
  for (const { body, monoMs } of states) {
    const now = readGuardTrace(body)?.limits ?? null;
    if (now === null) continue;
    const atMs = Math.max(0, sinceStartMs(run, monoMs));
    for (const { channel, min, max, warn } of now.channels) {
      const stood = open.get(channel);
      if (stood !== undefined && stood.min === min && stood.max === max && stood.warn === warn) continue;
      if (stood !== undefined && atMs > stood.fromMs) spans.push({ ...stood, toMs: atMs });
      open.set(channel, { channel, min, max, warn, fromMs: stood === undefined ? 0 : atMs, toMs: null });
    }
  }
  return [...spans, ...open.values()].filter(({ min, max, warn }) => min !== null || max !== null || warn !== null);
}
