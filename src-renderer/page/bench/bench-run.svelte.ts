import { untrack } from 'svelte';
import { Asked } from '../../state/asked.svelte.ts';
import type { Workshop } from '../../state/workshop.ts';

/**
 * The run at the bench: the open one, or the last one of this sitting. Begins one when the guard becomes ready, so that
 * the first reading after power on is in it. To be made while a component is set up.
 */
export class BenchRun {
  record = $state.raw<Asked<'run.get'> | null>(null);
  problem = $state<string | null>(null);
  readonly #workshop: Workshop;
  #isBeginning = false;
  #readyRevision: number | null = null;

  constructor(workshop: Workshop) {
    this.#workshop = workshop;
    const { connection, present } = workshop;
    let shown: number | null = null;
    let sessionId: number | null = null;
    const runId = $derived(present.run?.runId ?? null);
    const session = $derived(present.session?.sessionId ?? null);
    $effect(() => {
      if (session !== sessionId) shown = null;
      sessionId = session;
      const wanted = runId ?? shown;
      if (wanted === shown && this.record !== null) return;
      shown = wanted;
      untrack(() => {
        this.record?.stop();
        this.record =
          wanted === null
            ? null
            : new Asked(connection, 'run.get', { runId: wanted }, ({ what }) =>
                ['kept', 'result', 'run', 'build'].includes(what),
              );
      });
    });
    $effect(() => () => untrack(() => this.record?.stop()));
    $effect(() => {
      const state = present.guard?.state ?? null;
      const isDue = state !== null && (state.kind === 'live' || state.kind === 'ready');
      if (!isDue || runId !== null || !present.isKnown) return;
      // A run that the person ended while ready is not begun again by itself; power on begins one all the same.
      if (state.kind === 'ready' && this.#readyRevision === state.sinceMs) return;
      this.#readyRevision = state.sinceMs;
      untrack(() => void this.begin());
    });
  }

  async begin(): Promise<void> {
    if (this.#isBeginning) return;
    this.#isBeginning = true;
    const outcome = await this.#workshop.connection.ask('run.start', {});
    this.#isBeginning = false;
    this.problem = outcome.ok || outcome.failure.code === 'run-open' ? null : outcome.failure.message;
    if (outcome.ok || outcome.failure.code === 'run-open') await this.#workshop.present.refresh();
  }
}
