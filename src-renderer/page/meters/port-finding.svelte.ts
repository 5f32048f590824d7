import type { Failure } from '../../../src-shared/contract/failure.ts';
import type { PortSearch } from '../../../src-shared/contract/push.ts';
import type { Connection } from '../../state/connection.svelte.ts';

/** A search for the settings of a port: how far it is, what it hears, and what it came to. */
export class PortFinding {
  isOn = $state(false);
  now = $state.raw<PortSearch | null>(null);
  failure = $state.raw<Failure | null>(null);
  readonly #connection: Connection;
  readonly #ends: readonly (() => void)[];
  #lastFindId = 0;

  constructor(connection: Connection) {
    this.#connection = connection;
    this.#ends = [
      connection.onPush((push) => {
        if (push.kind === 'port-search') this.#take(push);
      }),
      connection.onArrival((afresh) => {
        if (afresh) this.isOn = false;
      }),
    ];
  }

  async start(path: string): Promise<void> {
    this.#lastFindId = this.now?.findId ?? this.#lastFindId;
    this.now = null;
    this.failure = null;
    this.isOn = true;
    const outcome = await this.#connection.ask('port.find', { path });
    if (outcome.ok) return;
    this.isOn = false;
    this.failure = outcome.failure;
  }

  async stop(): Promise<void> {
    if (!this.isOn) return;
    this.isOn = false;
    await this.#connection.ask('meter.try-stop', {});
  }

  async end(): Promise<void> {
    for (const end of this.#ends) end();
    await this.stop();
  }

  #take(search: PortSearch): void {
    if (!this.isOn || search.findId <= this.#lastFindId) return;
    this.now = search;
    if (search.outcome !== null) this.isOn = false;
  }
}
