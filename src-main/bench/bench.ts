import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { GuardView } from '../../src-shared/contract/guard-view.ts';
import type { ChannelChoice } from '../../src-shared/contract/channel-choice.ts';
import { isPowered } from '../../src-shared/interlock/state.ts';
import type { MeterReading } from '../../src-shared/meter/channel-reading.ts';
import type { Answers } from '../../src-shared/procedure/field.ts';
import { setUpFor } from '../../src-shared/procedure/set-up.ts';
import type { KeptReading } from '../../src-shared/procedure/kept-value.ts';
import { eventKind, type Run, type RunSetUp } from '../../src-shared/record/run.ts';
import type { Session } from '../../src-shared/record/session.ts';
import { benchFactsOf } from './bench-facts.ts';
import type { BenchParts } from './bench-parts.ts';
import { choose, isTyped, readsTyped, runChannel, type Filled, type SetUpNow } from './choose.ts';
import { refusedByGuard } from './guard-keeper.ts';
import { fit, judgedOf, onePass, provingRange, seen, withCorrection } from './heard.ts';
import { meterFacts } from './meter-facts.ts';
import { MeterMemory } from './meter-memory.ts';
import { addedText, changesTo, takeOver, type RunChanges } from './run-changes.ts';
import { seenAtSetUp, seenWhileListening } from './seen.ts';

const noChanges: RunChanges = { added: [], taken: [] };

/** The bench in hand: who fills which channel, the open run, and the one step by which a value is accepted. */
export class Bench {
  readonly #parts: BenchParts;
  readonly #memories = new Map<number, Map<string, MeterMemory>>();
  #setUp: SetUpNow | null = null;
  /** With one meter for several channels: the one that it is on. */
  #meterAt: string | null = null;
  #run: Run | null = null;
  #isTripped = false;
  #lastOutcome: Outcome<unknown> = done(null);

  constructor(parts: BenchParts) {
    this.#parts = parts;
  }

  get setUp(): SetUpNow | null {
    return this.#setUp;
  }

  get run(): Run | null {
    return this.#run;
  }

  /** What a meter said on a channel; on none while it fills none. */
  memory(meterId: number, channel = this.filledBy(meterId)?.channel.id ?? ''): MeterMemory {
    let ofMeter = this.#memories.get(meterId);
    if (ofMeter === undefined) this.#memories.set(meterId, (ofMeter = new Map<string, MeterMemory>()));
    let memory = ofMeter.get(channel);
    if (memory === undefined) ofMeter.set(channel, (memory = new MeterMemory()));
    return memory;
  }

  /** Whether the meter fills a channel of the open run. */
  isInRun(meterId: number): boolean {
    return this.#run !== null && (this.#setUp?.filled.some((one) => one.meterId === meterId) ?? false);
  }

  /** The channel that a meter, or its value of this name, fills at this moment; null when none. */
  filledBy(meterId: number, name?: string): Filled | null {
    let first: Filled | null = null;
    for (const one of this.#setUp?.filled ?? []) {
      if (one.meterId !== meterId || (one.value !== null && name !== undefined && one.value !== name)) continue;
      if (one.channel.id === this.#meterAt) return one;
      first ??= one;
    }
    return first;
  }

  /**
   * Chooses the procedure, its meters and what is asked. Refused by the guard when a meter or a link does not fit. With a
   * run open the same set-up may be given again, with further meters added to it.
   */
  setUpWith(procedureId: string, choices: readonly ChannelChoice[], answers: Answers, by: string): Outcome<GuardView> {
    return this.#setUpWith(procedureId, choices, answers, by, null);
  }

  /**
   * Another meter, or the eye, reads a channel from now on, or a channel is added, in the middle of the run. The guard says
   * what may be done with power on. What was read before stays with the meter that read it.
   */
  takeOver(choice: ChannelChoice, reason: string, by: string): Outcome<GuardView> {
    if (this.#setUp === null || this.#run === null) {
      return failed('no-run', 'No run is open: choose who fills the channels at set-up.');
    }
    const { procedure, choices, answers } = this.#setUp;
    const isKnown = choices.some(({ channel }) => channel === choice.channel);
    const next = isKnown ? choices.map((one) => (one.channel === choice.channel ? choice : one)) : [...choices, choice];
    return this.#setUpWith(procedure.id, next, answers, by, reason);
  }

  /** @param reason - why a reader changes in the middle of a run; null where none may */
  #setUpWith(
    procedureId: string,
    choices: readonly ChannelChoice[],
    answers: Answers,
    by: string,
    reason: string | null,
  ): Outcome<GuardView> {
    const { store, guard, clock } = this.#parts;
    const session = store.sessions.current();
    if (session === null) return failed('no-session', 'Open a session first: say which build and what feeds it.');
    const facts = benchFactsOf(store, session);
    const chosen = choose(store, facts, procedureId, choices, answers);
    if (!chosen.ok) return chosen;
    const changes = this.#run === null ? noChanges : changesTo(this.#run, chosen.value);
    if (changes === null || (reason === null && changes.taken.length > 0)) {
      return failed('run-open', 'A run is open. End it before the set-up is changed.');
    }
    const { procedure, filled } = chosen.value;
    const meters = new Map(filled.map((one) => [one.channel.id, meterFacts(one)]));
    const faster = this.#timeFactor(session);
    const setUp = {
      ...setUpFor(procedure, facts, meters, guard.state.thresholds.touchVolts, answers),
      ...(faster === 1 ? {} : { timeFactor: faster }),
    };
    const answer = guard.ask({ kind: reason === null ? 'set-up' : 'taken-over', atMs: clock.monoMs(), by, setUp });
    if (!answer.ok) return answer;
    const changed = this.#run === null ? done(null) : this.#changeRun(this.#run, changes, reason ?? '');
    if (!changed.ok) return changed;
    const left = this.#setUp?.filled ?? [];
    this.#setUp = chosen.value;
    for (const { meterId } of left) this.#parts.onMeter(meterId);
    if (this.#run === null) {
      this.#meterAt = filled[0]?.channel.id ?? null;
      this.#memories.clear();
    }
    for (const [checkId, holds] of seenAtSetUp(chosen.value, setUp)) {
      guard.apply({ kind: 'auto-check', atMs: clock.monoMs(), checkId, holds });
    }
    for (const { meterId } of filled) this.#parts.onMeter(meterId);
    return done(guard.view());
  }

  /** Writes into the run who reads what from now on. */
  #changeRun(run: Run, { added, taken }: RunChanges, reason: string): Outcome<unknown> {
    const { store, clock, push, log } = this.#parts;
    if (added.length + taken.length === 0) return done(null);
    let outcome = added.length === 0 ? done(run) : store.runs.addChannels(run.runId, added.map(runChannel));
    for (const one of taken) {
      const was = this.#setUp?.filled.find(({ channel }) => channel.id === one.channel.id);
      if (outcome.ok) outcome = store.runs.takeOver(run.runId, clock.monoMs(), takeOver(was, one, reason));
      // What the new reader said before it took over is no part of the channel.
      this.memory(one.meterId, one.channel.id).forget();
    }
    if (!outcome.ok) return outcome;
    for (const one of added)
      log.event(eventKind.channelAdded, { channel: one.channel.id, text: addedText(one, reason) });
    this.#run = outcome.value;
    push({ kind: 'run', run: this.#run });
    return outcome;
  }

  /** The set-up as it was chosen, put to the guard once more: its meters are looked at again. */
  sameSetUp(by: string): Outcome<GuardView> {
    if (this.#setUp === null) return failed('no-run', 'Choose who fills the channels first.');
    return this.setUpWith(this.#setUp.procedure.id, this.#setUp.choices, this.#setUp.answers, by);
  }

  /**
   * The set-up as it was chosen, put to the guard again because what it rests on was described anew: a meter, or what the
   * windings stand at. When it does not fit any more the lines that depend on the meters lapse, and the person is told why.
   * Waits for the end of an open run, and of power: nothing is set up anew under them.
   */
  setUpAgain(): void {
    const { guard, clock, push } = this.#parts;
    if (this.#setUp === null || this.#run !== null || isPowered(guard.state)) return;
    const by = this.#parts.store.sessions.current()?.fields.who ?? '';
    const answer = this.sameSetUp(by);
    if (answer.ok) return;
    guard.apply({ kind: 'changed', atMs: clock.monoMs(), by, what: ['meter'] });
    const sentence = `The set-up does not stand any more. ${answer.failure.message}`;
    push({ kind: 'alarm', code: 'set-up-again', sentence, atMs: clock.monoMs() });
  }

  /** The one meter is clipped to another channel from now on. */
  meterTo(channelId: string): Outcome<Record<string, never>> {
    const filled = this.#setUp?.filled.find(({ channel }) => channel.id === channelId);
    if (filled === undefined)
      return failed('not-found', `"${channelId}" is no channel of the set-up.`, { path: 'channel' });
    const hasMoved = this.#meterAt !== channelId;
    this.#meterAt = channelId;
    // What a meter said there before it was moved away and back is no part of what it says now.
    if (hasMoved && !isTyped(filled)) this.memory(filled.meterId).forget();
    this.#parts.onMeter(filled.meterId);
    return done({});
  }

  /** A real session's time is never simulated. */
  #timeFactor({ practice }: Pick<Session, 'practice'>): number {
    return practice ? this.#parts.timeFactor() : 1;
  }

  startRun(): Outcome<Run> {
    const { store, clock, guard } = this.#parts;
    const session = store.sessions.current();
    if (session === null) return failed('no-session', 'Open a session first.');
    if (this.#setUp === null) return failed('no-run', 'Choose who fills the channels first.');
    const channels = this.#setUp.filled.map(runChannel);
    const practice = this.#setUp.filled.some(({ description }) => description.kind === 'practice');
    const started = store.runs.start({
      sessionId: session.sessionId,
      procedure: this.#setUp.procedure.id,
      channels,
      practice,
      startedMonoMs: clock.monoMs(),
      timeFactor: this.#timeFactor(session),
    });
    if (!started.ok) return started;
    this.#run = started.value;
    this.#isTripped = false;
    this.#memories.clear();
    this.#parts.push({ kind: 'run', run: this.#run });
    const poweredAtMs = isPowered(guard.state) ? guard.state.power.onAtMs : null;
    this.#parts.log.event(eventKind.runSetUp, { answers: this.#setUp.answers, poweredAtMs } satisfies RunSetUp);
    this.#parts.onRun();
    return started;
  }

  endRun(runId: number): Outcome<Run> {
    const { store, batch, guard } = this.#parts;
    if (this.#run?.runId !== runId) return failed('no-run', 'That run is not open.');
    if (guard.state.kind === 'live' || guard.state.kind === 'tripped') {
      return failed('guard-refused', 'Power is declared on. Switch off, say so with F8, then end the run.');
    }
    if (!batch.flush())
      return failed('disk-full', 'The last readings cannot be written: make room on the disk. They are kept.');
    const ended = store.runs.end(runId, this.#isTripped ? 'tripped' : 'ended');
    if (!ended.ok) return ended;
    this.#run = null;
    this.#parts.push({ kind: 'run', run: null });
    this.#parts.push({ kind: 'changed', what: 'run', id: runId });
    this.setUpAgain();
    return ended;
  }

  /** Writes what was accepted so far. False when the disk refused it; it is kept. */
  flush(): boolean {
    return this.#parts.batch.flush();
  }

  /** The computer slept, so long without the clock: what was heard before is that much older. */
  slept(unseenMs: number): void {
    for (const [meterId, ofMeter] of this.#memories) {
      for (const memory of ofMeter.values()) memory.age(unseenMs);
      this.#parts.onMeter(meterId);
    }
  }

  /** A limit was crossed: the run is marked for good. */
  tripped(): void {
    this.#isTripped = true;
  }

  /** The session is over: nothing is set up any more. */
  clear(): void {
    this.#setUp = null;
    this.#meterAt = null;
  }

  /**
   * The one synchronous step by which a value is accepted: guard, recorder, push. Answers why the recorder did not take
   * it; well done when it did, or when no run is open and the guard only looked.
   */
  hear(heard: MeterReading): Outcome<unknown> {
    const { guard, clock, recorder } = this.#parts;
    const filled = this.filledBy(heard.meterId, heard.name);
    const reading = onePass(heard, filled?.passes ?? 1);
    const description = filled?.description ?? this.#parts.store.meters.get(reading.meterId)?.description;
    if (description === undefined) return done(null);
    const proving = provingRange(guard.state, reading);
    const lockedRange = proving === undefined ? (filled?.lockedRange ?? null) : proving;
    // While a proof is made with it the meter is on no channel: its a.c. and d.c. both count, on the proof's own ranges.
    const fitting = filled === null || proving !== undefined ? reading : fit(reading, filled.channel);
    const judged = judgedOf(fitting, description, lockedRange);
    const corrected = withCorrection(fitting, judged);
    let readingId: number | null = null;
    let outcome: Outcome<unknown> = done(null);
    if (filled !== null) {
      const channel = filled.channel.id;
      const { acceptance } = guard.apply({
        kind: 'reading-seen',
        atMs: clock.monoMs(),
        channel,
        // As the meter sent it: volts of another kind than asked are volts, and the guard refuses wrong units itself.
        reading: seen(reading),
      });
      if (acceptance !== null && !acceptance.accepted) outcome = refusedByGuard(acceptance.refusal);
      else if (this.#run !== null) {
        const taken = { reading: corrected, channel, judged, lockedRange };
        readingId = recorder.accept(this.#run, taken, acceptance?.marked ?? false)?.readingId ?? null;
      }
    }
    this.memory(reading.meterId, filled?.channel.id ?? '').hear(corrected, judged, readingId);
    this.#see();
    this.#parts.onMeter(reading.meterId);
    this.#lastOutcome = outcome;
    return outcome;
  }

  /** What became of the last value that was heard. */
  get lastOutcome(): Outcome<unknown> {
    return this.#lastOutcome;
  }

  /** Ticks, or takes back, what the program itself sees while it listens. */
  #see(): void {
    const { guard, clock } = this.#parts;
    if (this.#setUp === null) return;
    const seen = seenWhileListening(this.#setUp, guard.state, (meterId, channel) => this.memory(meterId, channel).last);
    for (const [checkId, holds] of seen) {
      const isTicked = guard.state.checks[checkId]?.how === 'program';
      if (holds !== isTicked) guard.apply({ kind: 'auto-check', atMs: clock.monoMs(), checkId, holds });
    }
  }

  /**
   * The reading that goes along with a point as it stands: a temperature, or what is read once. Null when there is none
   * of late.
   */
  latest(filled: Filled, withinMs: number): readonly KeptReading[] | null {
    return this.memory(filled.meterId, filled.channel.id).latest(this.#parts.clock.monoMs(), withinMs);
  }

  /** The settled readings of a channel, written to the record; or why there are none. */
  settled(filled: Filled): Outcome<readonly KeptReading[]> {
    const memory = this.memory(filled.meterId, filled.channel.id);
    const nowMs = this.#parts.clock.monoMs();
    const typed = readsTyped(filled, memory);
    const readings = typed ? memory.typedReading(nowMs) : memory.settledReadings(nowMs);
    if (readings === null) {
      const why = typed
        ? 'Type its value; a typed value stands for a minute.'
        : (memory.settling(nowMs)?.sentence ?? 'Nothing heard.');
      return failed('not-settled', `${filled.channel.label} has not settled. ${why}`, {
        detail: { channel: filled.channel.id },
      });
    }
    if (!this.#parts.batch.flush())
      return failed('disk-full', 'The readings cannot be written: make room on the disk. They are kept.');
    return done(readings);
  }
}
