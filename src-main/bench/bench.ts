import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { GuardView } from '../../src-shared/contract/guard-view.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { ChannelChoice } from '../../src-shared/contract/request.ts';
import type { SeenReading } from '../../src-shared/interlock/bench.ts';
import { judge, type Judged } from '../../src-shared/meter/accuracy.ts';
import { inExpectedUnit, type MeterReading } from '../../src-shared/meter/channel-reading.ts';
import type { MeterDescription } from '../../src-shared/meter/description.ts';
import type { Procedure, ProcedureChannel } from '../../src-shared/procedure/procedure.ts';
import { setUpFor } from '../../src-shared/procedure/set-up.ts';
import { procedureById } from '../../src-shared/procedure/table.ts';
import type { KeptReading } from '../../src-shared/procedure/kept-value.ts';
import type { Run, RunChannel } from '../../src-shared/record/run.ts';
import type { Store } from '../store/store.ts';
import { benchFactsOf } from './bench-facts.ts';
import type { BatchWriter } from './batch.ts';
import type { Clock } from './clock.ts';
import { refusedByGuard, type GuardKeeper } from './guard-keeper.ts';
import { meterFacts } from './meter-facts.ts';
import { MeterMemory } from './meter-memory.ts';
import type { Recorder } from './recorder.ts';

/** A channel of the set-up with the meter that fills it. */
export interface Filled {
  readonly channel: ProcedureChannel;
  readonly meterId: number;
  readonly meterRevisionId: number;
  readonly description: MeterDescription;
  readonly lockedRange: number | null;
}

export interface SetUpNow {
  readonly procedure: Procedure;
  readonly choices: readonly ChannelChoice[];
  readonly filled: readonly Filled[];
}

interface Parts {
  readonly store: Store;
  readonly clock: Clock;
  readonly guard: GuardKeeper;
  readonly batch: BatchWriter;
  readonly recorder: Recorder;
  readonly push: (push: Push) => void;
  /** Told when what a meter said, or what it fills, has changed. */
  readonly onMeter: (meterId: number) => void;
}

/** The bench in hand: who fills which channel, the open run, and the one step by which a value is accepted. */
export class Bench {
  readonly #parts: Parts;
  readonly #memories = new Map<string, MeterMemory>();
  #setUp: SetUpNow | null = null;
  /** With one meter for several channels: the one that it is on. */
  #meterAt: string | null = null;
  #run: Run | null = null;
  #isTripped = false;
  #lastOutcome: Outcome<unknown> = done(null);

  constructor(parts: Parts) {
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
    const key = `${meterId} ${channel}`;
    const known = this.#memories.get(key);
    if (known !== undefined) return known;
    const memory = new MeterMemory();
    this.#memories.set(key, memory);
    return memory;
  }

  /** The channel that a meter fills at this moment; null when none. */
  filledBy(meterId: number): Filled | null {
    const filled = this.#setUp?.filled.filter((one) => one.meterId === meterId) ?? [];
    return filled.find(({ channel }) => channel.id === this.#meterAt) ?? filled[0] ?? null;
  }

  /** Chooses the procedure and its meters. Refused by the guard when a meter or a link does not fit. */
  setUpWith(procedureId: string, choices: readonly ChannelChoice[], by: string): Outcome<GuardView> {
    const { store, guard, clock } = this.#parts;
    const session = store.sessions.current();
    if (session === null) return failed('no-session', 'Open a session first: say which build and what feeds it.');
    if (this.#run !== null) return failed('run-open', 'A run is open. End it before the set-up is changed.');
    const procedure = procedureById(procedureId);
    if (procedure === undefined) {
      return failed('not-found', `There is no procedure "${procedureId}".`, { path: 'procedure' });
    }
    const filled: Filled[] = [];
    for (const [index, choice] of choices.entries()) {
      const channel = procedure.channels.find(({ id }) => id === choice.channel);
      const meter = store.meters.get(choice.meterId);
      const path = `channels.${index}`;
      if (channel === undefined) {
        return failed('not-found', `"${choice.channel}" is no channel of this procedure.`, { path: `${path}.channel` });
      }
      if (meter === null || meter.retired) {
        return failed('meter-missing', `There is no meter ${choice.meterId} on the list.`, { path: `${path}.meterId` });
      }
      if (choice.lockedRange !== null && meter.description.ranges[choice.lockedRange] === undefined) {
        return failed('not-found', 'The meter has no such range.', { path: `${path}.lockedRange` });
      }
      const { description, revisionId } = meter;
      filled.push({
        channel,
        meterId: choice.meterId,
        meterRevisionId: revisionId,
        description,
        lockedRange: choice.lockedRange,
      });
    }
    const missing = procedure.channels.find(
      ({ id, required }) => required && !filled.some(({ channel }) => channel.id === id),
    );
    if (missing !== undefined) {
      return failed('meter-missing', `${missing.label}: choose a meter, or type the values.`, { path: 'channels' });
    }
    const facts = new Map(
      filled.map((one) => [one.channel.id, meterFacts(one.meterId, one.description, one.lockedRange)]),
    );
    const setUp = setUpFor(procedure, benchFactsOf(store, session), facts, guard.state.thresholds.touchVolts);
    const answer = guard.ask({ kind: 'set-up', atMs: clock.monoMs(), by, setUp });
    if (!answer.ok) return answer;
    this.#setUp = { procedure, choices, filled };
    this.#meterAt = filled[0]?.channel.id ?? null;
    this.#memories.clear();
    for (const { meterId } of filled) this.#parts.onMeter(meterId);
    return answer;
  }

  /** The one meter is clipped to another channel from now on. */
  meterTo(channelId: string): Outcome<Record<string, never>> {
    const filled = this.#setUp?.filled.find(({ channel }) => channel.id === channelId);
    if (filled === undefined)
      return failed('not-found', `"${channelId}" is no channel of the set-up.`, { path: 'channel' });
    const hasMoved = this.#meterAt !== channelId;
    this.#meterAt = channelId;
    // What a meter said there before it was moved away and back is no part of what it says now.
    if (hasMoved && filled.description.kind !== 'keyboard') this.memory(filled.meterId).forget();
    this.#parts.onMeter(filled.meterId);
    return done({});
  }

  startRun(): Outcome<Run> {
    const { store, clock } = this.#parts;
    const session = store.sessions.current();
    if (session === null) return failed('no-session', 'Open a session first.');
    if (this.#setUp === null) return failed('no-run', 'Choose who fills the channels first.');
    const channels = this.#setUp.filled.map(({ channel, meterId, meterRevisionId, lockedRange }): RunChannel => ({
      channel: channel.id,
      unit: channel.unit,
      meterId,
      meterRevisionId,
      lockedRange,
    }));
    const practice = this.#setUp.filled.some(({ description }) => description.kind === 'practice');
    const started = store.runs.start({
      sessionId: session.sessionId,
      procedure: this.#setUp.procedure.id,
      channels,
      practice,
      startedMonoMs: clock.monoMs(),
    });
    if (!started.ok) return started;
    this.#run = started.value;
    this.#isTripped = false;
    this.#memories.clear();
    this.#parts.push({ kind: 'run', run: this.#run });
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
    return ended;
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
  hear(reading: MeterReading): Outcome<unknown> {
    const { guard, clock, recorder } = this.#parts;
    const filled = this.filledBy(reading.meterId);
    const description = filled?.description ?? this.#parts.store.meters.get(reading.meterId)?.description;
    if (description === undefined) return done(null);
    const lockedRange = filled?.lockedRange ?? null;
    const fitting = filled === null ? reading : fit(reading, filled.channel);
    const judged = judgedOf(fitting, description, lockedRange);
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
        const heard = { reading: fitting, channel, judged, lockedRange };
        readingId = recorder.accept(this.#run, heard, acceptance?.marked ?? false)?.readingId ?? null;
      }
    }
    this.memory(reading.meterId).hear(fitting, judged, readingId);
    this.#seeRanges();
    this.#parts.onMeter(reading.meterId);
    this.#lastOutcome = outcome;
    return outcome;
  }

  /** What became of the last value that was heard. */
  get lastOutcome(): Outcome<unknown> {
    return this.#lastOutcome;
  }

  /** Ticks, or takes back, what the program itself sees of the ranges in use. */
  #seeRanges(): void {
    const { guard, clock } = this.#parts;
    const checkId = this.#setUp?.procedure.rangeCheck ?? null;
    if (checkId === null || this.#setUp === null) return;
    const holds = this.#setUp.filled.every(({ channel, meterId, lockedRange }) => {
      const last = this.memory(meterId, channel.id).last;
      return lockedRange !== null && last?.kind === 'number' && !last.bottomOfRange;
    });
    const isTicked = guard.state.checks[checkId] !== undefined;
    if (holds !== isTicked) guard.apply({ kind: 'auto-check', atMs: clock.monoMs(), checkId, holds });
  }

  /** The settled readings of a channel, written to the record; or why there are none. */
  settled(filled: Filled): Outcome<readonly KeptReading[]> {
    const memory = this.memory(filled.meterId, filled.channel.id);
    const nowMs = this.#parts.clock.monoMs();
    const isTyped = filled.description.kind === 'keyboard';
    const readings = isTyped ? memory.typedReading(nowMs) : memory.settledReadings(nowMs);
    if (readings === null) {
      const why = isTyped
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

/** The reading as its channel takes it: unreadable when its unit or coupling is another one. */
function fit(reading: MeterReading, { unit, coupling }: ProcedureChannel): MeterReading {
  const { meterId, name, atMs, wallMs, origin, practice } = reading;
  return { ...inExpectedUnit(reading, { unit, coupling }), meterId, name, atMs, wallMs, origin, practice };
}

function judgedOf(reading: MeterReading, description: MeterDescription, lockedRange: number | null): Judged | null {
  return reading.kind === 'number' ? judge(reading.meterId, description, reading, lockedRange) : null;
}

function seen(reading: MeterReading): SeenReading {
  if (reading.kind === 'unreadable') return { kind: 'unreadable' };
  const coupling = reading.coupling ?? null;
  return reading.kind === 'number'
    ? { kind: 'number', value: reading.value, unit: reading.unit, coupling }
    : { kind: 'overload', atLeast: null, unit: reading.unit ?? null, coupling };
}
