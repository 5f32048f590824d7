import { presetThresholds, type Thresholds } from './bounds.ts';
import type { Coupling } from '../meter/unit.ts';
import type { BenchFacts, Grade, HighestVolts, SetUp } from './bench.ts';
import type { CheckId } from './checks.ts';
import type { Limits } from './limit.ts';
import type { LastProof, ProofInProgress } from './proof.ts';
import type { GuardKind, Lapse, Trip, Why } from './why.ts';

/** A check that stands: confirmed by somebody, seen by the program, part of a proof, or a should passed over. */
export interface CheckMark {
  readonly atMs: number;
  readonly by: string;
  readonly how: 'person' | 'program' | 'proof' | 'passed-over';
  /** Why a should was passed over; null otherwise. */
  readonly reason: string | null;
  /** How much live time the guard had counted when it was made: for checks that age only while not live. */
  readonly liveMs: number;
}

/** A stretch of time for which power was declared on. */
export interface Power {
  readonly by: string;
  readonly onAtMs: number;
  /** Null while it is on. */
  readonly offAtMs: number | null;
}

/** The power-on bar is being held. */
export interface Hold {
  readonly begunAtMs: number;
  readonly by: string;
}

/** What was last seen on a channel. */
export interface ChannelWatch {
  readonly kind: 'number' | 'overload' | 'unreadable';
  /** In the channel's unit; null unless a number. */
  readonly value: number | null;
  readonly unit: string | null;
  readonly coupling: Coupling | null;
  readonly atMs: number;
  /** When it last gave a number in its own unit; null when never. Silence counts from here. */
  readonly goodAtMs: number | null;
  /** Good readings since power was declared on. */
  readonly sincePower: number;
  /** Highest value while live, in the last stretch of power. */
  readonly highestLive: number | null;
  /** Earlier values for the rate of rise, oldest first. */
  readonly trail: readonly { readonly atMs: number; readonly value: number }[];
  /** Whether the reminder for a typed value was given since the last one. */
  readonly reminded: boolean;
  /** The port was lost since the last good reading. */
  readonly lost: boolean;
}

/** What changes with every reading and tick. It never counts as a change of the guard: the revision stays. */
export interface Watch {
  /** The latest instant that the guard was told, on the program's monotonic clock. */
  readonly nowMs: number;
  readonly channels: Readonly<Record<string, ChannelWatch>>;
}

/** Something that calls the person until its cause is gone. */
export type Alarm = {
  readonly atMs: number;
  /** The sound was stilled; the alarm stands. */
  readonly heard: boolean;
} & AlarmCause;

export type AlarmCause =
  | {
      readonly code: 'volts-seen';
      readonly channel: string;
      readonly label: string;
      readonly volts: number | null;
      readonly was: GuardKind;
    }
  | { readonly code: 'volts-found'; readonly where: string; readonly volts: number | null }
  | { readonly code: 'tripped'; readonly trip: Trip }
  | {
      readonly code: 'warn';
      readonly channel: string;
      readonly label: string;
      readonly unit: string;
      readonly value: number;
      readonly limit: number;
    }
  | { readonly code: 'overload'; readonly channel: string; readonly label: string }
  | { readonly code: 'volts-gone'; readonly channel: string; readonly label: string; readonly volts: number }
  | { readonly code: 'meter-quiet'; readonly channel: string; readonly label: string; readonly seconds: number }
  | { readonly code: 'typed-late'; readonly channel: string; readonly label: string; readonly seconds: number }
  | { readonly code: 'changed-while-live'; readonly what: readonly string[] }
  /** Power was on when the program ended. */
  | { readonly code: 'restarted-while-live' }
  | { readonly code: 'clock' };

/** What every state carries. All of it is plain JSON: no Infinity, no NaN, no map; absent is null. */
export interface GuardRecord {
  /** Counts up by one with every accepted change; a command names the revision that its sender saw. */
  readonly revision: number;
  /** The session that the guard belongs to; null when none is open. */
  readonly sessionId: number | null;
  /** Since when the guard is in this state, for this reason. */
  readonly sinceMs: number;
  readonly why: Why;
  /** Nothing done here counts for a real session. */
  readonly practice: boolean;
  readonly bench: BenchFacts | null;
  readonly setUp: SetUp | null;
  /** Null when nothing is described. */
  readonly highest: HighestVolts | null;
  readonly grade: Grade;
  readonly thresholds: Thresholds;
  /** Null until somebody set them for this set-up. */
  readonly limits: Limits | null;
  readonly checks: Readonly<Partial<Record<CheckId, CheckMark>>>;
  /** Checks that stood and do not any more, with why; a new confirmation takes its line out. */
  readonly lapsed: Readonly<Partial<Record<CheckId, Lapse>>>;
  readonly proofInProgress: ProofInProgress | null;
  readonly lastProof: LastProof | null;
  /** A full proof with this meter opened a series of points; null once anything was touched. */
  readonly series: { readonly meterId: number; readonly provedAtMs: number } | null;
  /** The last stretch of power. */
  readonly power: Power | null;
  /** Time that power was declared on in this session, without the stretch that is on now. */
  readonly liveMs: number;
  readonly hold: Hold | null;
  /** What tripped the last stretch of power; null when nothing did. */
  readonly trip: Trip | null;
  /** D.c. was put through a winding since the last slow run-down: the next switch-on surges more. */
  readonly coreMagnetised: boolean;
  /** A winding, a joint or the place changed since the core was last powered from the mains. */
  readonly builtOrMovedSincePower: boolean;
  readonly alarms: readonly Alarm[];
  readonly watch: Watch;
}

/** Nothing is known; treated as live. */
export interface Unproved extends GuardRecord {
  readonly kind: 'unproved';
}
/** Proved dead, and the proof stands. */
export interface Isolated extends GuardRecord {
  readonly kind: 'isolated';
  readonly lastProof: LastProof;
}
/** Isolated, every must confirmed and fresh, limits set, meters answering. */
export interface Ready extends GuardRecord {
  readonly kind: 'ready';
  readonly lastProof: LastProof;
  readonly setUp: SetUp;
  readonly limits: Limits;
}
/** The person declared power on. */
export interface Live extends GuardRecord {
  readonly kind: 'live';
  readonly setUp: SetUp;
  readonly limits: Limits;
  readonly power: Power;
}
/** A limit was crossed; power still counts as on. */
export interface Tripped extends GuardRecord {
  readonly kind: 'tripped';
  readonly setUp: SetUp;
  readonly limits: Limits;
  readonly power: Power;
  readonly trip: Trip;
}
/** Declared off, not yet proved dead. */
export interface Proving extends GuardRecord {
  readonly kind: 'proving';
}

export type GuardState = Unproved | Isolated | Ready | Live | Tripped | Proving;

/** The guard when the program begins: no session, nothing known. */
export const guardAtFirst = (nowMs: number): GuardState => ({
  kind: 'unproved',
  revision: 0,
  sessionId: null,
  sinceMs: nowMs,
  why: { code: 'begun' },
  practice: false,
  bench: null,
  setUp: null,
  highest: null,
  grade: 'base',
  thresholds: presetThresholds,
  limits: null,
  checks: {},
  lapsed: {},
  proofInProgress: null,
  lastProof: null,
  series: null,
  power: null,
  liveMs: 0,
  hold: null,
  trip: null,
  coreMagnetised: false,
  builtOrMovedSincePower: true,
  alarms: [],
  watch: { nowMs, channels: {} },
});

/** Whether power counts as on. */
export const isPowered = (state: GuardState): state is Live | Tripped =>
  state.kind === 'live' || state.kind === 'tripped';
