import { untrack } from 'svelte';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { Asked } from '../../state/asked.svelte.ts';
import type { Workshop } from '../../state/workshop.ts';

/** Readings can come: ready or live, and for what is read on a dead winding as soon as it is proved dead. */
const isDue = ({ kind, setUp }: GuardState): boolean =>
  kind === 'live' || kind === 'ready' || (kind === 'isolated' && setUp?.energised === false);

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
    const lastId = $derived(present.lastRun?.runId ?? null);
    const session = $derived(present.session?.sessionId ?? null);
    $effect(() => {
      if (session !== sessionId) shown = null;
      sessionId = session;
      // Without an open run the last one of the sitting stays in view, also when the page is loaded anew.
      const wanted = runId ?? shown ?? lastId;
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
      if (state === null || !isDue(state) || runId !== null || !present.isKnown || present.setup === null) return;
      // A run that the person ended while ready is not begun again by itself; power on begins one all the same.
      if (state.kind !== 'live' && this.#readyRevision === state.sinceMs) return;
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
