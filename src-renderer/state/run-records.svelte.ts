import type { CoreWhole } from '../../src-shared/contract/core-view.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { Run } from '../../src-shared/record/run.ts';
import type { RunFacts } from '../../src-shared/report/run-facts.ts';
import type { Connection } from './connection.svelte.ts';

const restMs = 250;
/** What is told of a run that goes on ages without any push. */
const againMs = 5000;

/** Whether a push may have changed what is told of a run. */
const concerns = (push: Push): boolean =>
  push.kind === 'guard' ||
  push.kind === 'event' ||
  push.kind === 'run' ||
  (push.kind === 'changed' && ['run', 'kept', 'result', 'session', 'build', 'core'].includes(push.what));

/** What is told of some runs, kept up to date, and the runs of the first one's core. */
export class RunRecords {
  runs = $state.raw<readonly Run[] | null>(null);
  /** Everything of the first one's core. */
  core = $state.raw<CoreWhole | null>(null);
  problem = $state<string | null>(null);
  #facts = $state.raw<ReadonlyMap<number, RunFacts>>(new Map());
  readonly #connection: Connection;
  readonly #endings: readonly (() => void)[];
  #wanted: readonly number[] = [];
  #timer: ReturnType<typeof setTimeout> | undefined;
  #latest = 0;
  readonly #aging: ReturnType<typeof setInterval>;

  constructor(connection: Connection) {
    this.#connection = connection;
    this.#aging = setInterval(() => {
      if ([...this.#facts.values()].some(({ run }) => run.ending === 'running')) this.#askSoon();
    }, againMs);
    this.#endings = [
      connection.onArrival(() => void this.#ask(this.#wanted)),
      connection.onPush((push) => {
        if (concerns(push)) this.#askSoon();
      }),
    ];
  }

  /** What is told of a run; null until it is known. */
  of(runId: number): RunFacts | null {
    return this.#facts.get(runId) ?? null;
  }

  /** From now on these; the first one's core says which others there are. */
  want(runIds: readonly number[]): void {
    this.#wanted = runIds;
    if (this.#connection.isOpen) void this.#ask(runIds);
  }

  stop(): void {
    this.#latest++;
    clearTimeout(this.#timer);
    clearInterval(this.#aging);
    for (const end of this.#endings) end();
  }

  /** Only what can still change is asked for again; finished runs are told anew as well, for their results. */
  #askSoon(): void {
    if (this.#timer !== undefined) return;
    this.#timer = setTimeout(() => {
      this.#timer = undefined;
      void this.#ask(this.#wanted);
    }, restMs);
  }

  async #ask(runIds: readonly number[]): Promise<void> {
    const asked = ++this.#latest;
    const answers = await Promise.all(runIds.map((runId) => this.#connection.ask('run.facts', { runId })));
    if (asked !== this.#latest) return;
    const refused = answers.find((answer) => !answer.ok && answer.failure.code !== 'no-connection');
    this.problem = refused?.ok === false ? refused.failure.message : null;
    const known = answers.flatMap((answer) => (answer.ok ? [answer.value] : []));
    if (known.length > 0) this.#facts = new Map(known.map((facts) => [facts.run.runId, facts]));
    const [first] = known;
    if (first === undefined) return;
    const core = await this.#connection.ask('core.get', { coreId: first.core.coreId });
    if (asked !== this.#latest || !core.ok) return;
    this.core = core.value;
    this.runs = core.value.runs;
  }
}
