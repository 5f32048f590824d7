import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { keptValue } from '../../src-shared/procedure/kept-value.ts';
import { askedWith, wrongAnswer, type Answers } from '../../src-shared/procedure/field.ts';
import type { KeptPoint, KeptValue, Run } from '../../src-shared/record/run.ts';
import { sinceStartMs } from '../../src-shared/record/run-time.ts';
import type { Store } from '../store/store.ts';
import type { Bench } from './bench.ts';
import { isTyped, type Filled, type SetUpNow } from './choose.ts';
import type { Clock } from './clock.ts';
import type { GuardKeeper } from './guard-keeper.ts';

/** What goes along with a point as it stands, and how old it may be. Temperatures creep: they are not waited for. */
const alongMs = { streaming: 60_000, typed: 600_000 };
/** Direct current over this leaves the core magnetised (common practice, no source). In A. */
const magnetises = 0.01;

/** What was kept: a value towards a point, and the point when it is whole. */
export interface Kept {
  readonly kept: readonly KeptValue[];
  readonly point: KeptPoint | null;
}

/** The points of runs: the settled values of a procedure's channels at one moment, kept and withdrawn. */
export class Points {
  readonly #store: Store;
  readonly #bench: Bench;
  readonly #clock: Clock;
  readonly #guard: GuardKeeper;
  /** With one meter that is moved: values kept towards the next point, one a channel. */
  #towards: readonly KeptValue[] = [];

  constructor(parts: { store: Store; bench: Bench; clock: Clock; guard: GuardKeeper }) {
    this.#store = parts.store;
    this.#bench = parts.bench;
    this.#clock = parts.clock;
    this.#guard = parts.guard;
  }

  forget(): void {
    this.#towards = [];
  }

  towardsNext(runId: number): readonly KeptValue[] {
    return this.#bench.run?.runId === runId ? this.#towards : [];
  }

  /** Keeps the channels as they stand settled now; with one meter that is moved the channel it is on. */
  keep(run: Run, fields: Answers, by: string): Outcome<Kept> {
    const { setUp } = this.#bench;
    if (setUp === null) return failed('no-run', 'Choose who fills the channels first.');
    const asked = askedWith(setUp.procedure.fields, new Set(setUp.filled.map(({ channel }) => channel.id)));
    const wrong = wrongAnswer(asked, fields);
    if (wrong !== null) return failed('bad-input', wrong.sentence, { path: `fields.${wrong.field}` });
    const isMoved = this.#guard.state.setUp?.oneMeter === true;
    const values = isMoved ? this.#movedValue(setUp) : this.#valuesNow(setUp);
    if (!values.ok) return values;
    if (isMoved && this.#isIncomplete(setUp)) return done({ kept: values.value, point: null });
    const all = isMoved ? this.#towards : values.value;
    const point = this.#store.keptPoints.keep(run.runId, this.#clock.monoMs(), {
      atMs: sinceStartMs(run, this.#clock.monoMs()),
      values: [...all],
      fields: { ...fields },
    });
    if (!point.ok) return point;
    this.#towards = [];
    this.#noteDirectCurrent(all, by);
    return done({ kept: values.value, point: point.value });
  }

  /** The one meter's settled value where it is now, in place of one that was kept there before. */
  #movedValue(setUp: SetUpNow): Outcome<readonly KeptValue[]> {
    const meterId = setUp.filled.find(({ channel }) => channel.cadence === 'repeated')?.meterId;
    const filled = meterId === undefined ? null : this.#bench.filledBy(meterId);
    if (filled === null) return failed('meter-missing', 'No meter is on a channel.');
    const value = this.#settledValue(filled);
    if (!value.ok) return value;
    this.#towards = [...this.#towards.filter(({ channel }) => channel !== filled.channel.id), value.value];
    return done([value.value]);
  }

  #isIncomplete({ filled }: SetUpNow): boolean {
    return filled.some(
      ({ channel }) => channel.cadence === 'repeated' && !this.#towards.some((value) => value.channel === channel.id),
    );
  }

  #valuesNow({ filled, procedure }: SetUpNow): Outcome<readonly KeptValue[]> {
    const values: KeptValue[] = [];
    for (const one of filled) {
      const { kind, cadence } = one.channel;
      if (kind === 'cooling-resistance') continue;
      const goesAlong = cadence === 'once' || kind === 'temperature' || kind === 'ambient';
      if (goesAlong) {
        const value = this.#along(one);
        if (value !== null) values.push(value);
        continue;
      }
      const value = this.#settledValue(one);
      if (!value.ok) return value;
      values.push(value.value);
    }
    return values.length === 0 && procedure.channels.length > 0
      ? failed('not-settled', 'Nothing was read yet.')
      : done(values);
  }

  #along(filled: Filled): KeptValue | null {
    const { channel } = filled;
    const within = isTyped(filled) ? alongMs.typed : alongMs.streaming;
    const readings = this.#bench.latest(filled, channel.cadence === 'once' ? Infinity : within);
    return readings === null ? null : keptValue(readings, sourceOf(filled));
  }

  #settledValue(filled: Filled): Outcome<KeptValue> {
    const readings = this.#bench.settled(filled);
    return readings.ok ? done(keptValue(readings.value, sourceOf(filled))) : readings;
  }

  /** Direct current through a winding magnetises the core: the next switch-on surges more, and the guard says so. */
  #noteDirectCurrent(values: readonly KeptValue[], by: string): void {
    const amps = values.find(({ channel }) => channel === 'test-amps');
    if (amps === undefined || Math.abs(amps.value) <= magnetises) return;
    this.#guard.apply({ kind: 'core-state', atMs: this.#clock.monoMs(), by, magnetised: true });
  }
}

const sourceOf = ({ channel, meterId }: Filled) => ({ channel: channel.id, unit: channel.unit, meterId });
