import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { CheckMark } from '../../src-shared/record/check.ts';
import type { Reading } from '../../src-shared/record/reading.ts';
import type { RecordEvent } from '../../src-shared/record/run.ts';
import type { Clock } from './clock.ts';

/** What is written together, in one transaction. */
export interface Batch {
  readonly readings: readonly Reading[];
  readonly events: readonly RecordEvent[];
  readonly checks: readonly CheckMark[];
}

/** The part of the store that a batch needs. */
export interface BatchStore {
  writeBatch(batch: Batch): Outcome<unknown>;
}

/** Longest time that something accepted waits before it is written. A kill loses at most this and one write. */
const longestWaitMs = 150;
/** How long to wait before trying again a batch that the disk refused. */
const retryMs = 1000;

/**
 * Gathers what was accepted and writes it in short batches. Nothing is dropped: a batch that the disk refuses is kept,
 * said through `onTrouble` once, and tried again with all that came since.
 */
export class BatchWriter {
  readonly #store: BatchStore;
  readonly #clock: Clock;
  readonly #onTrouble: (sentence: string | null) => void;
  #readings: Reading[] = [];
  #events: RecordEvent[] = [];
  #checks: CheckMark[] = [];
  #callOff: (() => void) | null = null;
  /** When the oldest of what waits was accepted. */
  #sinceMs = 0;
  #inTrouble = false;

  constructor(store: BatchStore, clock: Clock, onTrouble: (sentence: string | null) => void) {
    this.#store = store;
    this.#clock = clock;
    this.#onTrouble = onTrouble;
  }

  reading(reading: Reading): void {
    this.#readings.push(reading);
    this.#writeInTime();
  }

  event(event: RecordEvent): void {
    this.#events.push(event);
    this.#writeInTime();
  }

  check(mark: CheckMark): void {
    this.#checks.push(mark);
    this.#writeInTime();
  }

  /** Writes what waits, now. False when the disk refused it; it is kept and tried again. */
  flush(): boolean {
    this.#callOff?.();
    this.#callOff = null;
    if (this.#readings.length + this.#events.length + this.#checks.length === 0) return true;
    const written = this.#store.writeBatch({ readings: this.#readings, events: this.#events, checks: this.#checks });
    if (!written.ok) {
      if (!this.#inTrouble) this.#onTrouble(written.failure.message);
      this.#inTrouble = true;
      this.#writeSoon(retryMs);
      return false;
    }
    this.#readings = [];
    this.#events = [];
    this.#checks = [];
    if (this.#inTrouble) this.#onTrouble(null);
    this.#inTrouble = false;
    return true;
  }

  /** Writes nothing any more; what waits is lost, so flush first. */
  stop(): void {
    this.#callOff?.();
    this.#callOff = null;
  }

  /**
   * The timer comes late when many lines arrive at once, or when the computer holds the program up: what has waited long
   * enough by then is written before anything newer counts as accepted.
   */
  #writeInTime(): void {
    const nowMs = this.#clock.monoMs();
    if (this.#callOff === null) this.#sinceMs = nowMs;
    if (!this.#inTrouble && nowMs - this.#sinceMs >= longestWaitMs) this.flush();
    else this.#writeSoon(longestWaitMs);
  }

  #writeSoon(ms: number): void {
    this.#callOff ??= this.#clock.after(ms, () => {
      this.#callOff = null;
      this.flush();
    });
  }
}
