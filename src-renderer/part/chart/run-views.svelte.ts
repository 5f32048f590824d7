import type { HistoryColumns } from '../../../src-shared/record/reading.ts';
import type { RunFacts } from '../../../src-shared/report/run-facts.ts';
import type { XRange } from '../../../src-shared/chart/x-range.ts';
import type { Connection } from '../../state/connection.svelte.ts';

const restMs = 60;
const pixelsAtMost = 4096;

/** Views of the channels of some runs for the stretch that is shown, asked for again as it changes. */
export class RunViews {
  /** By run, the last views that were answered. */
  views = $state.raw<ReadonlyMap<number, readonly HistoryColumns[]>>(new Map());
  problem = $state<string | null>(null);
  readonly #connection: Connection;
  #latest = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #asked: { readonly range: XRange; readonly pixels: number; readonly runs: string } | null = null;

  constructor(connection: Connection) {
    this.#connection = connection;
  }

  /**
   * Asks for what is shown, and as much again on both sides so that moving shows something at once. Nothing is asked
   * while what was answered last still covers the stretch finely enough, unless `anew`.
   */
  want(facts: readonly RunFacts[], range: XRange, pixels: number, anew = false): void {
    const width = range.to - range.from;
    const runs = facts.map(({ run }) => run.runId).join(' ');
    const last = this.#asked;
    if (
      !anew &&
      last !== null &&
      last.runs === runs &&
      last.pixels === pixels &&
      last.range.from <= range.from &&
      last.range.to >= range.to &&
      last.range.to - last.range.from <= 2.2 * width
    ) {
      return;
    }
    const wide = { from: range.from - width / 2, to: range.to + width / 2 };
    this.#asked = { range: wide, pixels, runs };
    clearTimeout(this.#timer);
    this.#timer = setTimeout(
      () => void this.#ask(facts, wide, Math.min(pixelsAtMost, Math.max(1, 2 * pixels))),
      restMs,
    );
  }

  async #ask(facts: readonly RunFacts[], { from: fromMs, to: toMs }: XRange, pixels: number): Promise<void> {
    const asked = ++this.#latest;
    const answers = await Promise.all(
      facts.map(async ({ run: { runId, channels } }) => ({
        runId,
        views: await Promise.all(
          channels.map(({ channel }) => this.#connection.ask('run.history', { runId, channel, fromMs, toMs, pixels })),
        ),
      })),
    );
    if (asked !== this.#latest) return;
    const refused = answers.flatMap(({ views }) => views).find((view) => !view.ok);
    this.problem = refused?.ok === false ? refused.failure.message : null;
    this.views = new Map(
      answers.map(({ runId, views }) => [runId, views.flatMap((view) => (view.ok ? [view.value] : []))]),
    );
  }

  stop(): void {
    this.#latest++;
    clearTimeout(this.#timer);
  }
}
