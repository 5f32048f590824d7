import { calculate } from '../../src-shared/calculation/calculate.ts';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { betweenValues, keptValue, testCoilInput, type PairFacts } from '../../src-shared/procedure/kept-value.ts';
import { fillersOf } from '../../src-shared/record/channel-filler.ts';
import type { KeptPair, KeptValue, Result, Run } from '../../src-shared/record/run.ts';
import type { NewPair } from '../store/kept-pairs.ts';
import type { Store } from '../store/store.ts';
import type { Bench } from './bench.ts';
import type { Filled } from './choose.ts';
import type { Clock } from './clock.ts';

const primary = 'primary-volts';
const coil = 'coil-volts';

/** One meter is carried between the two; two values of one meter at once are as good as two meters. */
const isMoved = (one: Filled, other: Filled): boolean => one.meterId === other.meterId && one.value === other.value;

/** The pairs of voltages that the turns of a primary come from: kept, withdrawn, and what they amount to. */
export class Pairs {
  readonly #store: Store;
  readonly #bench: Bench;
  readonly #clock: Clock;
  /** With one meter: values kept towards the next pair, in the order primary, coil, primary. */
  #towards: readonly KeptValue[] = [];

  constructor(store: Store, bench: Bench, clock: Clock) {
    this.#store = store;
    this.#bench = bench;
    this.#clock = clock;
  }

  forget(): void {
    this.#towards = [];
  }

  towardsNext(runId: number): readonly KeptValue[] {
    return this.#bench.run?.runId === runId ? this.#towards : [];
  }

  /**
   * Both channels as they stand settled now, as one pair. `swapped`: the two meters were exchanged at the clips, so that
   * each reads the other's voltage.
   */
  keepPair(run: Run, coilTurns: number, swapped: boolean): Outcome<KeptPair> {
    const filled = this.#bothChannels();
    if (!filled.ok) return filled;
    const { onPrimary, onCoil } = filled.value;
    if (isMoved(onPrimary, onCoil)) {
      return failed(
        'bad-input',
        'One meter reads both: keep primary, coil and primary, each by itself, in this order.',
      );
    }
    const primaryNow = this.#valueOf(swapped ? onCoil : onPrimary, onPrimary.channel.id);
    if (!primaryNow.ok) return primaryNow;
    const coilNow = this.#valueOf(swapped ? onPrimary : onCoil, onCoil.channel.id);
    if (!coilNow.ok) return coilNow;
    return this.#keep(run, {
      coilTurns,
      swapped,
      order: 'together',
      primary: primaryNow.value,
      coil: coilNow.value,
      driftVolts: null,
    });
  }

  /** The one meter's settled value on the channel it is on; the third in order completes the pair. */
  keepValue(run: Run, coilTurns: number): Outcome<{ kept: KeptValue; pair: KeptPair | null }> {
    const filled = this.#bothChannels();
    if (!filled.ok) return filled;
    const { onPrimary } = filled.value;
    if (!isMoved(onPrimary, filled.value.onCoil)) {
      return failed('bad-input', 'Two meters read at once: keep the pair instead.');
    }
    const now = this.#bench.filledBy(onPrimary.meterId) ?? onPrimary;
    const due = this.#towards.length === 1 ? coil : primary;
    if (now.channel.id !== due) {
      const label = due === coil ? filled.value.onCoil.channel.label : onPrimary.channel.label;
      return failed('bad-input', `${label} is next in the order primary, coil, primary. What was kept stays.`, {
        detail: { due },
      });
    }
    const kept = this.#valueOf(now);
    if (!kept.ok) return kept;
    const [before, coilValue] = this.#towards;
    if (before === undefined || coilValue === undefined) {
      this.#towards = [...this.#towards, kept.value];
      return done({ kept: kept.value, pair: null });
    }
    const { value, driftVolts } = betweenValues(before, kept.value);
    const pair = this.#keep(run, {
      coilTurns,
      swapped: false,
      order: 'primary-coil-primary',
      primary: value,
      coil: coilValue,
      driftVolts,
    });
    if (!pair.ok) return pair;
    // The last primary is the first of the next pair: nothing was moved since.
    this.#towards = [kept.value];
    return done({ kept: kept.value, pair: pair.value });
  }

  /** What the kept pairs of a run come to: the answer of `test-coil`; null before the first. */
  soFar(run: Run): unknown {
    const input = this.#inputOf(run);
    return input === null ? null : calculate('test-coil', input);
  }

  /** Computes the run's result and keeps it with the readings that it came from. */
  keepResult(run: Run): Outcome<Result> {
    const input = this.#inputOf(run);
    if (input === null) return failed('no-run', 'No pair is kept in this run yet.');
    const answer = calculate('test-coil', input);
    if (!answer.ok) {
      return failed('calculation-refused', answer.error.message, { path: answer.error.path, detail: answer.error });
    }
    const standing = this.#store.keptPairs.ofRun(run.runId).filter(({ withdrawn }) => withdrawn === null);
    return this.#store.results.keep({
      buildId: run.buildId,
      runId: run.runId,
      calculation: answer.name,
      version: answer.version,
      input,
      output: answer,
      readingIds: [...new Set(standing.flatMap((pair) => [...pair.primary.readingIds, ...pair.coil.readingIds]))],
    });
  }

  #inputOf(run: Run) {
    const hertz = this.#store.sessions.get(run.sessionId)?.fields.supply.hertz;
    if (hertz === undefined) return null;
    const pairs = this.#store.keptPairs.ofRun(run.runId).map((pair) => ({ pair, facts: this.#factsOf(run, pair) }));
    return testCoilInput(pairs, hertz);
  }

  #factsOf(run: Run, pair: KeptPair): PairFacts {
    const described = ({ meterId }: KeptValue) => {
      const revision = run.channels.flatMap(fillersOf).find((one) => one.meterId === meterId)?.meterRevisionId;
      return revision === undefined ? undefined : this.#store.meters.revision(revision)?.description;
    };
    const coilMeter = described(pair.coil);
    const primaryMeter = described(pair.primary);
    const range = pair.coil.rangeIndex === null ? undefined : coilMeter?.ranges[pair.coil.rangeIndex];
    return {
      ...(coilMeter === undefined || coilMeter.responding === 'unknown' ? {} : { coilMeterKind: coilMeter.responding }),
      ...(primaryMeter === undefined || primaryMeter.responding === 'unknown'
        ? {}
        : { primaryMeterKind: primaryMeter.responding }),
      ...(range === undefined ? {} : { coilRangeVolts: range.top }),
    };
  }

  #bothChannels(): Outcome<{ onPrimary: Filled; onCoil: Filled }> {
    const filled = this.#bench.setUp?.filled ?? [];
    const onPrimary = filled.find(({ channel }) => channel.id === primary);
    const onCoil = filled.find(({ channel }) => channel.id === coil);
    return onPrimary === undefined || onCoil === undefined
      ? failed('meter-missing', 'Primary volts and test-coil volts both need a meter, or the keyboard.')
      : done({ onPrimary, onCoil });
  }

  #valueOf(filled: Filled, channel = filled.channel.id): Outcome<KeptValue> {
    const readings = this.#bench.settled(filled);
    if (!readings.ok) return readings;
    return done(keptValue(readings.value, { channel, unit: filled.channel.unit, meterId: filled.meterId }));
  }

  #keep(run: Run, pair: NewPair): Outcome<KeptPair> {
    return this.#store.keptPairs.keep(run.runId, this.#clock.monoMs(), pair);
  }
}
