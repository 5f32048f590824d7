import type { MeterState } from '../../src-shared/contract/meter-view.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { linkStatus, type LinkStatus } from '../../src-shared/meter/link-status.ts';
import type { Bench } from './bench.ts';
import { readsTyped, type Filled } from './choose.ts';
import type { Clock } from './clock.ts';
import type { MeterMemory } from './meter-memory.ts';

/** A meter's state is told at most this often, however fast it sends. */
const tellEveryMs = 50;

/** Where every meter stands, for the pages: its link, what it said last, what it fills, whether that has settled. */
export class MeterStates {
  readonly #bench: Bench;
  readonly #clock: Clock;
  readonly #push: (push: Push) => void;
  readonly #links = new Map<number, LinkStatus>();
  readonly #due = new Map<number, () => void>();
  readonly #toldAtMs = new Map<number, number>();

  constructor(bench: Bench, clock: Clock, push: (push: Push) => void) {
    this.#bench = bench;
    this.#clock = clock;
    this.#push = push;
  }

  of(meterId: number): MeterState {
    const link = this.#links.get(meterId) ?? linkStatus('off', 0);
    const filled = this.#bench.filledBy(meterId);
    const memory = this.#bench.memory(meterId);
    const several = this.#bench.setUp?.filled.filter((one) => one.meterId === meterId && one.value !== null) ?? [];
    return {
      meterId,
      status: link.state,
      why: link.why,
      sentence: link.sentence,
      sinceMs: link.sinceMs,
      last: memory.last,
      channel: filled?.channel.id ?? null,
      settling: filled === null ? null : this.#settling(filled, memory),
      ...(several.length === 0 ? {} : { byChannel: several.map((one) => this.#on(one)) }),
    };
  }

  #on(filled: Filled) {
    const memory = this.#bench.memory(filled.meterId, filled.channel.id);
    return { channel: filled.channel.id, last: memory.last, settling: this.#settling(filled, memory) };
  }

  #settling(filled: Filled, memory: MeterMemory) {
    const nowMs = this.#clock.monoMs();
    return readsTyped(filled, memory) ? memory.typedSettling(nowMs) : memory.settling(nowMs);
  }

  linkIs(meterId: number, status: LinkStatus): void {
    this.#links.set(meterId, status);
    this.#tell(meterId);
  }

  /** Something about the meter changed: told at once, or as soon as the last telling is long enough ago. */
  changed(meterId: number): void {
    if (this.#due.has(meterId)) return;
    const waitMs = (this.#toldAtMs.get(meterId) ?? -Infinity) + tellEveryMs - this.#clock.monoMs();
    if (waitMs <= 0) this.#tell(meterId);
    else
      this.#due.set(
        meterId,
        this.#clock.after(waitMs, () => {
          this.#tell(meterId);
        }),
      );
  }

  stop(): void {
    for (const callOff of this.#due.values()) callOff();
    this.#due.clear();
  }

  #tell(meterId: number): void {
    this.#due.get(meterId)?.();
    this.#due.delete(meterId);
    this.#toldAtMs.set(meterId, this.#clock.monoMs());
    this.#push({ kind: 'meter', meter: this.of(meterId) });
  }
}
