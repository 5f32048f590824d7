import type { BenchFacts, SeenReading, SetUp } from './bench.ts';
import type { Thresholds } from './bounds.ts';
import type { CheckId } from './checks.ts';
import type { GuardCommand } from './command.ts';
import type { ProofInstrument } from './proof.ts';
import type { GuardKind } from './why.ts';

/** When it happened, on the program's monotonic clock, in ms. */
interface At {
  readonly atMs: number;
}
/** When, and who said so. */
interface Said extends At {
  readonly by: string;
}

/** A command of a person, stamped; a proof is begun with what is known of its instrument. */
type Command = Exclude<GuardCommand, { kind: 'proof-started' }>;
export type CommandEvent = (Command & Said) | ProofStarted;

export interface ProofStarted extends Said {
  readonly kind: 'proof-started';
  readonly instrument: ProofInstrument;
}

export interface SessionOpened extends Said {
  readonly kind: 'session-opened';
  readonly sessionId: number;
  readonly practice: boolean;
  readonly bench: BenchFacts;
  readonly coreMagnetised: boolean;
  /** False only when the record shows this build powered from the mains and nothing changed since. */
  readonly builtOrMovedSincePower: boolean;
}

/** The program began again. What is carried over is only what makes the guard stricter, and what it was. */
export interface Restarted extends At {
  readonly kind: 'restarted';
  /** The last revision that was stored: the count goes on, so that a page from before is stale. */
  readonly revision: number;
  readonly was: GuardKind | null;
  readonly sessionId: number | null;
  readonly practice: boolean;
  readonly bench: BenchFacts | null;
  readonly thresholds: Thresholds;
  readonly coreMagnetised: boolean;
}

export interface ReadingSeen extends At {
  readonly kind: 'reading-seen';
  readonly channel: string;
  readonly reading: SeenReading;
}

/** Everything that can happen to the guard. Crossed limits, silence and lapses are no events: it finds them itself. */
export type GuardEvent =
  | CommandEvent
  | SessionOpened
  | Restarted
  | ReadingSeen
  | (Said & { readonly kind: 'session-ended' })
  /** The bench facts are computed anew: turns were found, say. */
  | (At & { readonly kind: 'bench-described'; readonly bench: BenchFacts })
  | (Said & { readonly kind: 'set-up'; readonly setUp: SetUp })
  /** The set-up in the middle of a run, with another reader on a channel or a channel more. */
  | (Said & { readonly kind: 'taken-over'; readonly setUp: SetUp })
  /** What the program sees of a check that it decides. */
  | (At & { readonly kind: 'auto-check'; readonly checkId: CheckId; readonly holds: boolean })
  /** The port of a meter is lost: it counts as quiet at once. */
  | (At & { readonly kind: 'meter-silent'; readonly meterId: number })
  /** The computer slept: the monotonic clock may have stood still meanwhile. */
  | (At & { readonly kind: 'slept'; readonly sleptMs: number })
  /** The program was held up and listened to nothing meanwhile; the monotonic clock went on. */
  | (At & { readonly kind: 'held-up'; readonly heldUpMs: number })
  | (At & { readonly kind: 'tick' });

/** What main knows of a meter that a proof is to be made with. */
export interface ProofMeter {
  readonly label: string;
  readonly practice: boolean;
  readonly maxVolts: number | null;
}

/**
 * The event that a person's command amounts to. `meter` gives what is known of the meter that a proof names; null when
 * there is no such meter, and then the event is null too.
 */
export function eventOf(
  command: GuardCommand,
  said: { readonly atMs: number; readonly by: string },
  meter: (meterId: number) => ProofMeter | null,
): CommandEvent | null {
  if (command.kind !== 'proof-started') return { ...command, ...said };
  const { instrument } = command;
  if (instrument.kind === 'indicator') {
    return { kind: 'proof-started', ...said, instrument: { ...instrument, practice: false } };
  }
  const known = meter(instrument.meterId);
  return known === null ? null : { kind: 'proof-started', ...said, instrument: { ...instrument, ...known } };
}
