import { formatNumber } from '../../src-shared/quantity/format.ts';
import { assertNever } from '../../src-shared/quantity/assert-never.ts';
import type { Limits } from '../../src-shared/interlock/limit.ts';
import type { GuardState } from '../../src-shared/interlock/state.ts';
import type { MeterState } from '../../src-shared/contract/meter-view.ts';
import { lapsesNext, missingForReady } from '../../src-shared/interlock/ready.ts';
import { whyWords } from '../../src-shared/interlock/why-words.ts';
import type { ProofKind } from '../../src-shared/interlock/why.ts';
import { stateWords } from '../../src-shared/interlock/words.ts';
import { clockLength, clockTime } from '../part/time-words.ts';

/** The states of the bench guard, as the strip draws them. `unknown`: the program has not told yet, or is not there. */
export type ShapeKind = GuardState['kind'] | 'unknown';

/** One thing to know, under its word: limits, meters, what lapses next. */
export interface StripFact {
  readonly word: string;
  readonly text: string;
}

/** What the strip says of the guard's state: large, small, and beside it. */
export interface StripView {
  readonly kind: ShapeKind;
  readonly title: string;
  readonly under: string;
  readonly facts: readonly StripFact[];
}

/** What the words depend on besides the guard's state. */
export interface StripContext {
  /** On the program's clock. */
  readonly nowMs: number;
  /** The same instant by the wall clock. */
  readonly wallNowMs: number;
  readonly isConnected: boolean;
  readonly meters: readonly { readonly meterId: number; readonly state: MeterState }[];
  readonly setup: {
    readonly channels: readonly { readonly meterId: number; readonly byEye?: true | undefined }[];
  } | null;
}

/** What each kind of proof proved, and no more than that. */
const provedWords: Readonly<Record<ProofKind, string>> = {
  meter: 'proved dead',
  indicator: 'proved dead',
  'plug-out-low-volts': 'only the plug seen out',
  'between-points': 'touch no metal: seen to fall',
};

function under(state: GuardState, { nowMs, wallNowMs }: StripContext): string {
  switch (state.kind) {
    case 'unproved':
      return 'treat as live until proved dead';
    case 'isolated':
      return `${provedWords[state.lastProof.kind]} ${clockTime(wallNowMs - (nowMs - state.lastProof.provedAtMs))}`;
    case 'ready':
      return 'every check stands';
    case 'live':
      return `power declared on for ${clockLength(nowMs - state.power.onAtMs)}`;
    case 'tripped':
      return 'switch off at the plug now';
    case 'proving':
      return 'declared off, not proved dead';
    default:
      return assertNever(state);
  }
}

/** What lapses next, its time first because its text may be long; a countdown only where power is near or on. */
function nextLapse(state: GuardState, nowMs: number): string {
  if (state.kind !== 'ready' && state.kind !== 'live') return '';
  const next = lapsesNext(state);
  if (next === null) return '';
  const inTime = `in ${clockLength(next.atMs - nowMs)}`;
  if (next.id === 'run-time') return `run time, ${inTime}`;
  return next.id.startsWith('pd-') ? `proof of dead, ${inTime}` : `${inTime}: ${next.text}`;
}

/** Why it is so, where that is not said by the state itself; or what is missing for the next one. */
function whyFact(state: GuardState): StripFact {
  if (state.kind === 'isolated') {
    const missing = missingForReady(state).length;
    const text = missing === 0 ? 'nothing' : missing === 1 ? '1 line' : `${missing} lines`;
    return { word: 'Missing for ready', text };
  }
  return { word: 'Why', text: state.kind === 'ready' || state.kind === 'live' ? '' : whyWords(state.why) };
}

/** How the meters of the set-up stand, or all described ones without a set-up. */
export function meterWords({ meters, setup }: Pick<StripContext, 'meters' | 'setup'>): string {
  const used = setup === null ? null : new Set(setup.channels.map(({ meterId }) => meterId));
  const counted = used === null ? meters : meters.filter(({ meterId }) => used.has(meterId));
  if (counted.length === 0) return meters.length === 0 ? 'none described' : 'none chosen';
  const eyes = new Set(setup?.channels.flatMap(({ byEye, meterId }) => (byEye === true ? [meterId] : [])));
  const answering = counted.filter(
    ({ meterId, state }) => state.status === 'answering' || state.status === 'keyboard' || eyes.has(meterId),
  ).length;
  if (answering < counted.length) return `${answering} of ${counted.length} answering`;
  if (counted.length === 2) return 'both answering';
  return counted.length === 1 ? 'answering' : `all ${counted.length} answering`;
}

/** The limits in one line: the highest of each unit, then the time. */
export function limitWords(limits: Limits, unitOf: (channel: string) => string): string {
  const highest = new Map<string, number>();
  for (const { channel, max } of limits.channels) {
    const unit = unitOf(channel);
    if (max !== null) highest.set(unit, Math.max(max, highest.get(unit) ?? max));
  }
  const bounds = [...highest].map(([unit, max]) => `${formatNumber(max, 4)} ${unit}`);
  const time = limits.runSeconds === null ? [] : [clockLength(limits.runSeconds * 1000)];
  return [...bounds, ...time].join(' · ');
}

/** What the strip says at one moment. */
export function stripView(state: GuardState | null, context: StripContext): StripView {
  if (state === null) {
    return { kind: 'unknown', title: 'Not known', under: 'treat as live', facts: [] };
  }
  const units = new Map(state.setUp?.channels.map(({ id, unit }) => [id, unit]));
  const limits = state.limits === null ? '' : limitWords(state.limits, (channel) => units.get(channel) ?? '');
  const facts = [
    { word: 'Practice', text: state.practice ? 'nothing is measured' : '' },
    whyFact(state),
    { word: 'Limits', text: state.kind === 'ready' || state.kind === 'live' ? limits : '' },
    { word: 'Lapses next', text: nextLapse(state, context.nowMs) },
    { word: 'Meters', text: context.isConnected ? meterWords(context) : 'not known' },
  ];
  return {
    kind: state.kind,
    title: stateWords[state.kind],
    under: context.isConnected ? under(state, context) : 'as last heard; not known now',
    facts: facts.filter(({ text }) => text !== ''),
  };
}
