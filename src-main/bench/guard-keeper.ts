import { done, failed, type FailureCode, type Outcome } from '../../src-shared/contract/failure.ts';
import type { GuardView } from '../../src-shared/contract/guard-view.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { BenchFacts } from '../../src-shared/interlock/bench.ts';
import { unwatchedMs } from '../../src-shared/interlock/bounds.ts';
import type { Effect, Reduced } from '../../src-shared/interlock/effect.ts';
import type { CommandEvent, GuardEvent } from '../../src-shared/interlock/event.ts';
import { command, reduce } from '../../src-shared/interlock/reduce.ts';
import type { Refusal } from '../../src-shared/interlock/refusal.ts';
import { restartedFrom } from '../../src-shared/interlock/restart.ts';
import { guardAtFirst, type GuardState } from '../../src-shared/interlock/state.ts';
import { alarmWords, clockSetWords, lapseWords, refusalWords } from '../../src-shared/interlock/words.ts';
import { assertNever } from '../../src-shared/quantity/assert-never.ts';
import { eventKind } from '../../src-shared/record/run.ts';
import type { Clock } from './clock.ts';
import type { Log } from './log.ts';

/** How often the guard is told that time passes. */
const tickMs = 250;
/** A tick this much late means that the computer slept; a time this much off it, that somebody set it. */
const sleptMs = 5000;
const setMs = 1000;
/** Nothing ran for this much longer than a tick: what the meters sent meanwhile is not read yet. */
const heldUpMs = 500;

/** One look at every clock. */
interface Instant {
  readonly monoMs: number;
  readonly wallMs: number;
  readonly upMs: number;
}

/**
 * Holds the one state of the guard. Every event goes through the pure reducer; what it asks for is carried out here, in
 * the same synchronous step, so that what the pages see, what is written and what is refused come from one state.
 */
export class GuardKeeper {
  readonly #clock: Clock;
  readonly #log: Log;
  readonly #push: (push: Push) => void;
  readonly #onTripped: () => void;
  readonly #onSlept: (unseenMs: number) => void;
  readonly #stopTicking: () => void;
  #state: GuardState;
  #lastTick: Instant;

  /** @param parts - `onSlept` hears how much of a sleep, in ms, the clock that never steps has left out */
  constructor(parts: {
    clock: Clock;
    log: Log;
    push: (push: Push) => void;
    onTripped: () => void;
    onSlept: (unseenMs: number) => void;
  }) {
    this.#clock = parts.clock;
    this.#log = parts.log;
    this.#push = parts.push;
    this.#onTripped = parts.onTripped;
    this.#onSlept = parts.onSlept;
    this.#state = guardAtFirst(this.#clock.monoMs());
    this.#lastTick = this.#now();
    this.#stopTicking = this.#clock.every(tickMs, () => {
      this.#tick();
    });
  }

  get state(): GuardState {
    return this.#state;
  }

  view(): GuardView {
    return { nowMs: this.#clock.monoMs(), state: this.#state };
  }

  /**
   * The program began again: unproved, whatever it was. `stored` is the last state in the record, as it was written.
   * Without an open session the guard stays as at first.
   */
  restart(stored: unknown, open: { sessionId: number; practice: boolean; bench: BenchFacts } | null): void {
    if (open === null) return;
    this.apply(restartedFrom(stored, open, this.#clock.monoMs()));
  }

  /** One event through the reducer, with everything that follows from it. */
  apply(event: GuardEvent): Reduced {
    this.#noticeStandstill();
    return this.#follow(reduce(this.#state, event));
  }

  /**
   * A person's command, which names the revision that the person was looking at. Why it was refused, or null. A state that
   * it leads to is written before it is answered: killed the next instant, the program still knows that power was on.
   */
  command(revision: number, event: CommandEvent): Refusal | null {
    this.#noticeStandstill();
    const was = this.#state.kind;
    const { refusal } = this.#follow(command(this.#state, revision, event));
    if (this.#state.kind !== was) this.#log.writeNow();
    return refusal;
  }

  #follow(reduced: Reduced): Reduced {
    const before = this.#state;
    this.#state = reduced.state;
    for (const effect of reduced.effects) this.#carryOut(effect);
    if (reduced.state.revision !== before.revision) {
      this.#log.event(eventKind.guard, reduced.state);
      this.#push({ kind: 'guard', guard: this.view() });
    }
    return reduced;
  }

  /** The same for a request: the view after it, or why it was refused, in words. */
  ask(event: GuardEvent): Outcome<GuardView> {
    const { refusal } = this.apply(event);
    return refusal === null ? done(this.view()) : refusedByGuard(refusal);
  }

  stop(): void {
    this.#stopTicking();
  }

  #now(): Instant {
    return { monoMs: this.#clock.monoMs(), wallMs: this.#clock.wallMs(), upMs: this.#clock.upMs() };
  }

  /** After a standstill whatever comes first would be held against meters that nobody listened to: say what it was. */
  #noticeStandstill(): void {
    if (this.#clock.monoMs() - this.#lastTick.monoMs - tickMs > heldUpMs) this.#look();
  }

  #tick(): void {
    this.#look();
    this.apply({ kind: 'tick', atMs: this.#clock.monoMs() });
  }

  /** What the clocks say has passed since they were looked at last: a sleep, a standstill, or a time that was set. */
  #look(): void {
    const now = this.#now();
    const before = this.#lastTick;
    this.#lastTick = now;
    const passedMs = Math.max(now.monoMs - before.monoMs, now.upMs - before.upMs);
    const byMs = now.wallMs - before.wallMs - passedMs;
    if (Math.abs(byMs) > setMs) this.#log.event(eventKind.clockSet, { byMs, text: clockSetWords(byMs) }, true);
    // As of the instant when nothing ran any more: what passed since is no silence of a meter.
    const { nowMs: atMs } = this.#state.watch;
    const stoodMs = now.monoMs - Math.max(before.monoMs, atMs) - tickMs;
    if (passedMs - tickMs > sleptMs) {
      this.#onSlept(passedMs - (now.monoMs - before.monoMs));
      this.apply({ kind: 'slept', atMs, sleptMs: passedMs - tickMs });
    }
    if (stoodMs > heldUpMs && stoodMs <= unwatchedMs) this.apply({ kind: 'held-up', atMs, heldUpMs: stoodMs });
  }

  #carryOut(effect: Effect): void {
    switch (effect.kind) {
      case 'record':
      case 'sound':
      case 'notice':
        // The state that is written and pushed carries all of it; pages make the sound from its alarms.
        return;
      case 'check':
        this.#log.check({
          checkId: effect.checkId,
          mark: effect.mark,
          who: effect.who,
          reason: effect.lapse === null ? effect.reason : lapseWords(effect.lapse),
        });
        return;
      case 'run-tripped':
        this.#onTripped();
        return;
      case 'alarm':
        this.#push({
          kind: 'alarm',
          code: effect.alarm.code,
          sentence: alarmWords(effect.alarm),
          atMs: effect.alarm.atMs,
        });
        return;
      case 'remind':
        this.#push({
          kind: 'alarm',
          code: 'remind',
          sentence: `${effect.label}: a value is due. Type it.`,
          atMs: this.#clock.monoMs(),
        });
        return;
      default:
        assertNever(effect);
    }
  }
}

/** Refusals that pages treat apart; every other one is `guard-refused`, with its own code in the detail. */
const codeOf: Partial<Record<Refusal['code'], FailureCode>> = {
  stale: 'stale',
  'no-session': 'no-session',
  'meter-unrated': 'meter-unrated',
  'winding-unknown': 'meter-unrated',
  'category-missing': 'meter-unrated',
  'link-not-isolated': 'link-not-isolated',
  'wrong-unit': 'wrong-unit',
};

/** A refusal of the guard as a failure of the contract, its code and numbers kept. */
export const refusedByGuard = (refusal: Refusal) =>
  failed(codeOf[refusal.code] ?? 'guard-refused', refusalWords(refusal), { detail: refusal });
