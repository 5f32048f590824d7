import type { RequestValue } from '../../../src-shared/contract/request.ts';
import * as v from 'valibot';
import { wallMs } from '../../../src-shared/record/field.ts';
import { Asked } from '../../state/asked.svelte.ts';
import type { Connection } from '../../state/connection.svelte.ts';
import type { Keeping } from '../../state/keeping.ts';

type Tally = RequestValue<'tally.get'>[number];

/** A total that was counted and that the program has not stored yet, and when it was pressed. */
const Mark = v.strictObject({ output: v.string(), turns: v.number(), pressedWallMs: v.optional(wallMs) });
type Mark = v.InferOutput<typeof Mark>;
const Waiting = v.array(Mark);

/**
 * The count of one plan. Every press makes a new total, which is kept in the page first and stored by the program next, one
 * after the other and in order: a press is never lost to a lost connection, a reload or a busy program. Sending a total
 * again changes nothing, so none counts twice.
 */
export class Counting {
  /** Totals not stored yet, the oldest first. */
  waiting = $state.raw<readonly Mark[]>([]);
  /** Why the program would not store one, for the person; what is counted stays here. */
  problem = $state<string | null>(null);
  readonly #stored: Asked<'tally.get'>;
  /** Newer than what was asked for: what the program answered to the latest mark of each output. */
  #marked = $state.raw<ReadonlyMap<string, number>>(new Map());
  readonly #connection: Connection;
  readonly #keeping: Keeping;
  readonly #planId: number;
  readonly #endArrival: () => void;
  #isSending = false;

  constructor(connection: Connection, keeping: Keeping, planId: number) {
    this.#connection = connection;
    this.#keeping = keeping;
    this.#planId = planId;
    const left = v.safeParse(Waiting, keeping.read(this.#key));
    this.waiting = left.success ? left.output : [];
    this.#stored = new Asked(connection, 'tally.get', { planId }, ({ what, id }) => {
      // What this page stores itself it knows already.
      return what === 'tally' && id === planId && !this.#isSending;
    });
    this.#endArrival = connection.onArrival(() => {
      this.#marked = new Map();
      void this.store();
    });
    void this.store();
  }

  get isKnown(): boolean {
    return this.#stored.value !== null || this.waiting.length > 0;
  }

  get failure(): string | null {
    return this.#stored.failure?.message ?? null;
  }

  /** Turns of an output so far. */
  turnsOf(output: string): number {
    const latest = this.waiting.findLast((mark) => mark.output === output)?.turns ?? this.#marked.get(output);
    return latest ?? this.#storedOf(output)?.turns ?? 0;
  }

  /** Takes a new total of an output at once, and stores it as soon as that can be. */
  mark(output: string, turns: number): void {
    this.#keep([...this.waiting, { output, turns, pressedWallMs: Date.now() }]);
    void this.store();
  }

  /** Stores what waits, in order; what the program refuses stays and is tried again with the next press, or on demand. */
  async store(): Promise<void> {
    if (this.#isSending || !this.#connection.isOpen) return;
    this.#isSending = true;
    try {
      for (let next = this.waiting[0]; next !== undefined; next = this.waiting[0]) {
        const outcome = await this.#connection.ask('tally.mark', { planId: this.#planId, ...next });
        if (!outcome.ok) {
          this.problem = outcome.failure.code === 'no-connection' ? null : outcome.failure.message;
          return;
        }
        this.problem = null;
        this.#marked = new Map(this.#marked).set(outcome.value.output, outcome.value.turns);
        this.#keep(this.waiting.slice(1));
      }
    } finally {
      this.#isSending = false;
    }
  }

  stop(): void {
    this.#stored.stop();
    this.#endArrival();
  }

  get #key(): string {
    return `tally.${this.#planId}`;
  }

  #storedOf(output: string): Tally | undefined {
    return this.#stored.value?.find((tally) => tally.output === output);
  }

  #keep(waiting: readonly Mark[]): void {
    this.waiting = waiting;
    this.#keeping.write(this.#key, waiting.length === 0 ? null : waiting);
  }
}
