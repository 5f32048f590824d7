import { done, failed } from '../../../src-shared/contract/failure.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { eventOf, type GuardEvent } from '../../../src-shared/interlock/event.ts';
import { command, reduce } from '../../../src-shared/interlock/reduce.ts';
import { rateSetUp } from '../../../src-shared/interlock/rating.ts';
import type { Refusal } from '../../../src-shared/interlock/refusal.ts';
import { isPowered } from '../../../src-shared/interlock/state.ts';
import { refusalWords } from '../../../src-shared/interlock/words.ts';
import type { BenchFacts, MeterFacts } from '../../../src-shared/interlock/bench.ts';
import type { Settling } from '../../../src-shared/contract/meter-view.ts';
import { testCoilInput } from '../../../src-shared/procedure/kept-value.ts';
import { setUpFor } from '../../../src-shared/procedure/set-up.ts';
import { testCoil } from '../../../src-shared/procedure/test-coil.ts';
import type { KeptPair, Result, Run } from '../../../src-shared/record/run.ts';
import { fakeWallMs } from '../fake-program.ts';
import { BenchFixture, keptPair, runWhole } from './bench-fixture.ts';

/**
 * The fixture with the real guard behind its requests: what a person does on the page acts as it does in the program.
 * Meters say what the test makes them say; time is the browser's own, so that a hold takes as long as it takes.
 */
export class FakeBench extends BenchFixture {
  readonly pairs: KeptPair[] = [];
  readonly results: Result[] = [];
  /** Meters that are refused as not rated, by id. */
  readonly unrated = new Set<number>();
  facts1: BenchFacts;
  #lastRun: Run | null = null;

  constructor({ known = true } = {}) {
    super();
    const startedAt = performance.now();
    Object.defineProperty(this.program, 'nowMs', { get: () => 100_000 + performance.now() - startedAt });
    this.facts1 = this.facts(known);
    this.#answer();
  }

  /** Lets something happen to the guard, and tells the page. */
  happen(event: GuardEvent): Refusal | null {
    const { state, refusal } = reduce(this.program.guard, event);
    this.#take(state);
    return refusal;
  }

  /** A meter gives one reading on a channel: the guard sees it, the recorder takes it, the page hears it. */
  read(
    index: 0 | 1 | 2,
    channel: string,
    value: number,
    u: number,
    rangeIndex: number,
    settling: Settling | null = null,
  ): void {
    const { program } = this;
    const atMs = program.nowMs;
    const reading = { kind: 'number', value, unit: 'V', coupling: 'ac' } as const;
    const { state, acceptance } = reduce(program.guard, { kind: 'reading-seen', atMs, channel, reading });
    this.#take(state);
    this.hear(index, value, u, rangeIndex, settling);
    const { run } = program;
    if (acceptance?.accepted !== true || run === null) return;
    const one = {
      runId: run.runId,
      channel,
      unit: 'V',
      atMs: [atMs - run.startedMonoMs],
      u: [u],
      text: [String(value)],
    };
    program.push({ kind: 'readings', columns: [{ ...one, kind: ['number'], value: [value] }] });
  }

  #take(state: typeof this.program.guard): void {
    const { program } = this;
    const changed = state.revision !== program.guard.revision;
    program.guard = state;
    if (changed) program.push({ kind: 'guard', guard: { nowMs: program.nowMs, state } });
  }

  #factsOf(meterId: number, lockedRange: number | null): MeterFacts {
    const described = this.program.meters.find((meter) => meter.meterId === meterId)?.description;
    return {
      meterId,
      label: described?.label ?? '',
      typed: described?.kind === 'keyboard',
      intervalMs: 500,
      maxVolts: this.unrated.has(meterId) ? null : 600,
      category: 'III',
      linkIsolated: described?.kind === 'keyboard' ? 'none' : 'yes',
      practice: false,
      lockedRange,
    };
  }

  #view() {
    return { nowMs: this.program.nowMs, state: this.program.guard };
  }

  #answer(): void {
    const { program } = this;
    const { instead } = program;
    const by = program.settings.who;
    const refused = (refusal: Refusal) => failed('guard-refused', refusalWords(refusal), { detail: refusal });

    instead['session.open'] = ({ fields }) => {
      const session = { ...this.openSession(fields.supply), fields };
      program.session = session;
      this.happen({
        kind: 'session-opened',
        atMs: program.nowMs,
        by,
        sessionId: session.sessionId,
        practice: false,
        bench: this.facts1,
        coreMagnetised: false,
        builtOrMovedSincePower: true,
      });
      program.push({ kind: 'changed', what: 'session', id: session.sessionId });
      return done(session);
    };
    instead['session.end'] = () => {
      program.session = null;
      program.run = null;
      this.happen({ kind: 'session-ended', atMs: program.nowMs, by });
      program.push({ kind: 'changed', what: 'session', id: null });
      return done({});
    };
    instead['bench.set-up'] = ({ procedure, channels, answers = {} }) => {
      const filledBy = new Map(
        channels.map(({ channel, meterId, lockedRange }) => [channel, this.#factsOf(meterId, lockedRange)]),
      );
      const setUp = setUpFor(testCoil, this.facts1, filledBy);
      const rating = rateSetUp(setUp);
      if (rating !== null) return failed('meter-unrated', refusalWords(rating), { detail: rating });
      const refusal = this.happen({ kind: 'set-up', atMs: program.nowMs, by, setUp });
      if (refusal !== null) return refused(refusal);
      program.setup = { procedure, channels, answers };
      return done(this.#view());
    };
    instead['guard.send'] = ({ revision, command: sent }) => {
      const event = eventOf(sent, { atMs: program.nowMs, by }, (meterId) => {
        const { label, practice, maxVolts } = this.#factsOf(meterId, null);
        return { label, practice, maxVolts };
      });
      if (event === null) return failed('meter-missing', 'There is no such meter.');
      const { state, refusal } = command(program.guard, revision, event);
      this.#take(state);
      if (refusal !== null) return refusal.code === 'stale' ? failed('stale', refusalWords(refusal)) : refused(refusal);
      return done(this.#view());
    };
    instead['run.start'] = () => {
      if (program.run !== null) return failed('run-open', 'A run is open.');
      const run = { ...this.openRun(), startedMonoMs: program.nowMs };
      program.run = run;
      this.#lastRun = run;
      program.push({ kind: 'run', run });
      return done(run);
    };
    instead['run.end'] = () => {
      if (program.run === null) return failed('no-run', 'No run is open.');
      const run: Run = { ...program.run, ending: 'ended', endedWallMs: fakeWallMs };
      program.run = null;
      this.#lastRun = run;
      program.push({ kind: 'run', run: null });
      program.push({ kind: 'changed', what: 'run', id: run.runId });
      return done(run);
    };
    instead['run.get'] = () => {
      if (this.#lastRun === null || program.session === null) return failed('not-found', 'There is no such run.');
      return done({ ...runWhole(this.#lastRun, program.session, this.pairs), results: this.results });
    };
    instead['reading.type'] = ({ channel, text }) => {
      const value = Number(text.replace(',', '.'));
      if (text.trim() === '' || Number.isNaN(value)) {
        return failed('unreadable', `"${text}" is not a number of volts. Type it as the meter shows it.`);
      }
      return done({ value, unit: 'V', sentence: `${channel} ${value} V` });
    };
    instead['pair.keep'] = ({ coilTurns, swapped }) => {
      if (!isPowered(program.guard)) return failed('not-settled', 'Power is not declared on: nothing to keep.');
      const primary = program.meters[0]?.state.last?.value ?? 0;
      const coil = program.meters[1]?.state.last?.value ?? 0;
      const pair = { ...keptPair(50 + this.pairs.length, coilTurns, coil, primary), swapped };
      this.pairs.push(pair);
      program.push({ kind: 'changed', what: 'kept', id: 41 });
      return done(pair);
    };
    instead['pair.withdraw'] = ({ eventId, reason }) => {
      const at = this.pairs.findIndex((pair) => pair.eventId === eventId);
      const pair = this.pairs[at];
      if (pair === undefined) return failed('not-found', 'There is no such pair.');
      this.pairs[at] = { ...pair, withdrawn: reason };
      program.push({ kind: 'changed', what: 'kept', id: 41 });
      return done({});
    };
    instead['result.keep'] = ({ runId }) => {
      const input = testCoilInput(
        this.pairs.map((pair) => ({ pair, facts: {} })),
        50,
      );
      const output = calculate('test-coil', input);
      const resultId = 90 + this.results.length;
      const result = {
        resultId,
        buildId: this.buildId,
        runId,
        calculation: 'test-coil',
        version: 1,
        wallMs: fakeWallMs,
      };
      this.results.push({ ...result, input, output });
      program.push({ kind: 'changed', what: 'result', id: resultId });
      return done({ ...result, input, output });
    };
    instead['result.apply'] = ({ windingId }) => done({ windingId });
  }
}
