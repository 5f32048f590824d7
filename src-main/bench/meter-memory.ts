import type { LastReading, Settling } from '../../src-shared/contract/meter-view.ts';
import type { Judged } from '../../src-shared/meter/accuracy.ts';
import type { MeterReading } from '../../src-shared/meter/channel-reading.ts';
import type { KeptReading } from '../../src-shared/procedure/kept-value.ts';
import { judgeSettled, settledWithinMs, type Sample, type Settled } from '../../src-shared/procedure/settled.ts';
import { formatNumber } from '../../src-shared/quantity/format.ts';

/** A number on the way to being kept; without a number of its own while no run records it. */
interface Remembered extends Sample {
  readonly judged: Judged;
  readonly readingId: number | null;
}

/** More than this of one channel is never looked at again. */
const mostRemembered = 600;

/** What one meter said last, and its last numbers on the channel that it fills. */
export class MeterMemory {
  #last: LastReading | null = null;
  #remembered: Remembered[] = [];

  /** A value as it arrived; `readingId` when a run took it. */
  hear(reading: MeterReading, judged: Judged | null, readingId: number | null): void {
    const isJudged = judged?.kind === 'judged';
    this.#last = {
      atMs: reading.atMs,
      kind: reading.kind,
      value: reading.kind === 'number' ? reading.value : null,
      u: judged?.u ?? null,
      unit: reading.kind === 'unreadable' ? '' : (reading.unit ?? ''),
      coupling: reading.kind === 'unreadable' ? null : (reading.coupling ?? null),
      text: reading.text,
      origin: reading.origin,
      rangeIndex: isJudged ? judged.rangeIndex : null,
      bottomOfRange: isJudged && judged.bottomOfRange,
    };
    if (reading.kind !== 'number' || judged === null) {
      // Anything between two numbers ends the stretch that could have settled.
      this.#remembered = [];
      return;
    }
    const { atMs, value, resolution } = reading;
    this.#remembered.push({ atMs, value, resolution, u: judged.u, judged, readingId });
    if (this.#remembered.length > mostRemembered) this.#remembered.shift();
  }

  get last(): LastReading | null {
    return this.#last;
  }

  /** Forgets the numbers: the meter is on another channel now, or another run began. */
  forget(): void {
    this.#remembered = [];
  }

  /** Its numbers are older by so much than the clock says: the computer slept. */
  age(ms: number): void {
    this.#remembered = this.#remembered.map((one) => ({ ...one, atMs: one.atMs - ms }));
  }

  settling(nowMs: number): Settling | null {
    if (this.#last === null) return null;
    const settled = judgeSettled(this.#remembered, nowMs);
    // What stood still before the run took it cannot be kept.
    return settled.kind === 'settled' && keepable(this.#remembered.slice(settled.from)) === null
      ? { isSettled: false, seconds: 0, sentence: 'Steady, but not recorded.' }
      : inWords(settled, this.#last.unit);
  }

  /** The recorded numbers of the settled stretch; null while nothing has settled. */
  settledReadings(nowMs: number): readonly KeptReading[] | null {
    const settled = judgeSettled(this.#remembered, nowMs);
    if (settled.kind !== 'settled') return null;
    return keepable(this.#remembered.slice(settled.from));
  }

  /** The same for typed values: one stands until the next, for a minute. */
  typedSettling(nowMs: number): Settling | null {
    if (this.#last === null) return null;
    const isSettled = this.typedReading(nowMs) !== null;
    const sentence = isSettled ? 'As typed.' : 'Type its value; a typed value stands for a minute.';
    return { isSettled, seconds: 0, sentence };
  }

  /** The newest recorded number, when it is no older than that; null otherwise. */
  latest(nowMs: number, withinMs: number): readonly KeptReading[] | null {
    const newest = this.#remembered.at(-1);
    return newest === undefined || nowMs - newest.atMs > withinMs ? null : keepable([newest]);
  }

  /** A typed value stands until the next one, for a minute: it is its own settled stretch. */
  typedReading(nowMs: number): readonly KeptReading[] | null {
    const newest = this.#remembered.at(-1);
    if (newest === undefined || nowMs - newest.atMs > 4 * settledWithinMs) return null;
    return keepable([newest]);
  }
}

function keepable(remembered: readonly Remembered[]): readonly KeptReading[] | null {
  const kept = remembered.flatMap(({ readingId, value, judged }) =>
    readingId === null
      ? []
      : [
          {
            readingId,
            value,
            estimate: judged.kind === 'judged' ? judged.estimate : null,
            rangeIndex: judged.kind === 'judged' ? judged.rangeIndex : null,
            bottomOfRange: judged.kind === 'judged' && judged.bottomOfRange,
          },
        ],
  );
  return kept.length === 0 ? null : kept;
}

function inWords(settled: Settled, unit: string): Settling {
  switch (settled.kind) {
    case 'settled':
      return {
        isSettled: true,
        seconds: settled.seconds,
        sentence: `Inside its own error for ${Math.floor(settled.seconds)} s.`,
      };
    case 'waiting':
      return {
        isSettled: false,
        seconds: 0,
        sentence: `Steady for ${Math.floor(settled.seconds)} s of ${settled.needSeconds}.`,
      };
    case 'moving':
      return {
        isSettled: false,
        seconds: 0,
        sentence: `Still moving: by ${formatNumber(settled.by, 2)} ${unit}, its own error is ${formatNumber(settled.allowed, 2)} ${unit}.`,
      };
    case 'nothing':
      return { isSettled: false, seconds: 0, sentence: 'No fresh number.' };
  }
}
