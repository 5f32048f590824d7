import type { Failure } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { RequestInput, RequestName, RequestValue } from '../../src-shared/contract/request.ts';
import type { Connection } from './connection.svelte.ts';

type Changed = Extract<Push, { kind: 'changed' }>;

/**
 * The answer to one question, kept up to date: asked on creation, again on every arrival that missed something, and
 * whenever the program says that something it depends on has changed. The last good answer stays while asking.
 */
export class Asked<N extends RequestName> {
  value = $state.raw<RequestValue<N> | null>(null);
  failure = $state.raw<Failure | null>(null);
  isAsking = $state(false);
  readonly #connection: Connection;
  readonly #name: N;
  readonly #input: RequestInput<N>;
  readonly #endings: readonly (() => void)[];
  #askedLast = 0;

  /**
   * @param concerns - whether a change touches the answer
   */
  constructor(connection: Connection, name: N, input: RequestInput<N>, concerns: (changed: Changed) => boolean) {
    this.#connection = connection;
    this.#name = name;
    this.#input = input;
    this.#endings = [
      connection.onArrival(() => void this.again()),
      connection.onPush((push) => {
        if (push.kind === 'changed' && concerns(push)) void this.again();
      }),
    ];
    if (connection.isOpen) void this.again();
  }

  /** Asks again; an answer that a later question overtook is dropped. */
  async again(): Promise<void> {
    const asked = ++this.#askedLast;
    this.isAsking = true;
    const outcome = await this.#connection.ask(this.#name, this.#input);
    if (asked !== this.#askedLast) return;
    this.isAsking = false;
    if (outcome.ok) {
      this.value = outcome.value;
      this.failure = null;
    } else if (outcome.failure.code !== 'no-connection') {
      this.failure = outcome.failure;
    }
  }

  /** Hears nothing more; to be called when its page goes. */
  stop(): void {
    this.#askedLast++;
    for (const end of this.#endings) end();
  }
}
