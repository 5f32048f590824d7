import { createSubscriber } from 'svelte/reactivity';
import type { ReadingColumns, ReadingKind } from '../../src-shared/record/reading.ts';
import type { Connection } from './connection.svelte.ts';

/** One reading as it is shown. `atMs` counts from the start of the run. */
export interface LiveReading {
  readonly atMs: number;
  readonly kind: ReadingKind;
  readonly value: number | null;
  readonly u: number | null;
  readonly unit: string;
  readonly text: string;
}

/** The last readings of one channel, oldest dropped first. Columns, so that a chart can take them as they are. */
export class Trace {
  readonly capacity: number;
  last: LiveReading | null = null;
  #length = 0;
  #next = 0;
  readonly #atMs: Float64Array;
  /** NaN stands for a reading that is not a number: a gap. */
  readonly #value: Float64Array;

  constructor(capacity: number) {
    this.capacity = capacity;
    this.#atMs = new Float64Array(capacity);
    this.#value = new Float64Array(capacity);
  }

  get length(): number {
    return this.#length;
  }

  add(reading: LiveReading): void {
    this.#atMs[this.#next] = reading.atMs;
    this.#value[this.#next] = reading.value ?? Number.NaN;
    this.#next = (this.#next + 1) % this.capacity;
    this.#length = Math.min(this.#length + 1, this.capacity);
    this.last = reading;
  }

  /** Times and values from `fromMs` on, oldest first, of equal length; gaps are null. */
  since(fromMs: number): { readonly atMs: number[]; readonly value: (number | null)[] } {
    const atMs: number[] = [];
    const value: (number | null)[] = [];
    for (let step = this.#length; step > 0; step--) {
      const index = (this.#next - step + this.capacity) % this.capacity;
      const at = this.#atMs[index] ?? 0;
      if (at < fromMs) continue;
      const read = this.#value[index] ?? Number.NaN;
      atMs.push(at);
      value.push(Number.isNaN(read) ? null : read);
    }
    return { atMs, value };
  }
}

/** Called with the channel's trace, at most once a frame. */
type Painter = (trace: Trace) => void;

/**
 * Live readings, outside reactive state: they come too often for it. Painters are called once a frame for the channels
 * that got something new. Readings of another run than the last begin anew.
 */
export class LiveReadings {
  /** Readings that this page was too slow for, since the run began; they are in the history. */
  missed = 0;
  readonly #capacity: number;
  readonly #traces = new Map<string, Trace>();
  readonly #painters = new Map<string, Set<Painter>>();
  readonly #followers = new Map<string, () => void>();
  readonly #fresh = new Set<string>();
  readonly #end: () => void;
  #runId: number | null = null;
  #frame: number | null = null;

  /** @param capacity - readings kept for each channel */
  constructor(connection: Connection, capacity = 4096) {
    this.#capacity = capacity;
    this.#end = connection.onPush((push) => {
      if (push.kind === 'readings') for (const columns of push.columns) this.#take(columns);
      if (push.kind === 'readings-missed') this.missed += push.readings;
    });
  }

  /** The run that the readings belong to; null before the first. */
  get runId(): number | null {
    return this.#runId;
  }

  /** What a channel has said; empty when nothing. */
  trace(channel: string): Trace {
    const known = this.#traces.get(channel);
    if (known !== undefined) return known;
    const fresh = new Trace(this.#capacity);
    this.#traces.set(channel, fresh);
    return fresh;
  }

  /** Calls `paint` at once and then for every frame in which the channel got something. Returns what ends it. */
  subscribe(channel: string, paint: Painter): () => void {
    const painters = this.#painters.get(channel) ?? new Set();
    this.#painters.set(channel, painters.add(paint));
    paint(this.trace(channel));
    return () => painters.delete(paint);
  }

  /** The last reading of a channel, null before the first. What reads it while drawing is drawn anew with each frame's last. */
  latest(channel: string): LiveReading | null {
    let follow = this.#followers.get(channel);
    if (follow === undefined) {
      follow = createSubscriber((drawAnew) => {
        let isNew = false;
        const end = this.subscribe(channel, () => {
          if (isNew) drawAnew();
        });
        isNew = true;
        return end;
      });
      this.#followers.set(channel, follow);
    }
    follow();
    return this.trace(channel).last;
  }

  stop(): void {
    this.#end();
    if (this.#frame !== null) cancelAnimationFrame(this.#frame);
  }

  #take(columns: ReadingColumns): void {
    if (columns.runId !== this.#runId) {
      this.#traces.clear();
      this.missed = 0;
      this.#runId = columns.runId;
      for (const channel of this.#painters.keys()) this.#fresh.add(channel);
    }
    const trace = this.trace(columns.channel);
    columns.atMs.forEach((atMs, index) => {
      trace.add({
        atMs,
        kind: columns.kind[index] ?? 'unreadable',
        value: columns.value[index] ?? null,
        u: columns.u[index] ?? null,
        unit: columns.unit,
        text: columns.text[index] ?? '',
      });
    });
    this.#fresh.add(columns.channel);
    this.#frame ??= requestAnimationFrame(() => {
      this.#frame = null;
      const channels = [...this.#fresh];
      this.#fresh.clear();
      for (const channel of channels) this.#paint(channel);
    });
  }

  #paint(channel: string): void {
    for (const paint of this.#painters.get(channel) ?? []) paint(this.trace(channel));
  }
}
