import { randomUUID } from 'node:crypto';
import { done, type Outcome } from '../../../src-shared/contract/failure.ts';
import { requests } from '../../../src-shared/contract/request.ts';
import { systemClock } from '../../bench/clock.ts';
import type { Connection, Visit } from '../connection.ts';
import { createContractServer, type ContractServer } from '../contract-server.ts';
import type { Carried } from '../run-local.ts';
import type { Services } from '../service.ts';

export interface ProgramOptions<C extends Carried> {
  readonly create: () => Outcome<C>;
  readonly log: (line: string) => void;
  readonly checkReplies: boolean;
  /** The program has begun, or begun again; what is handed back is called when it ends. */
  readonly onBegun: (program: C) => () => void;
  /** How long its end may take, in ms. */
  readonly longestEndMs?: number | undefined;
}

interface Alive<C> {
  readonly app: C;
  readonly contract: ContractServer;
  readonly leave: () => void;
}

/**
 * The program behind the windows, with its contract. It can begin again on the same record: everything that it held in
 * memory is given up, and the guard starts as after any start of the program, unproved.
 */
export class Program<C extends Carried> {
  readonly #options: ProgramOptions<C>;
  #alive: Alive<C> | null = null;
  #ending: Promise<void> = Promise.resolve();

  constructor(options: ProgramOptions<C>) {
    this.#options = options;
  }

  /** Wires the program; the failure when it cannot be had. */
  begin(): Outcome<null> {
    const { create, log, checkReplies, onBegun } = this.#options;
    const created = create();
    if (!created.ok) return created;
    const app = created.value;
    const contract = createContractServer({
      table: requests,
      services: app.services,
      subscribe: app.subscribe,
      life: randomUUID(),
      later: (ms, act) => systemClock.after(ms, act),
      log,
      checkReplies,
    });
    this.#alive = { app, contract, leave: onBegun(app) };
    return done(null);
  }

  /** Ends it and wires it anew. Rejects when either cannot be done. */
  async beginAgain(): Promise<void> {
    await this.end();
    const begun = this.begin();
    if (!begun.ok) throw new Error(begun.failure.message);
  }

  /** What can be asked of the program without a page; null while there is none. */
  get services(): Services | null {
    return this.#alive?.app.services ?? null;
  }

  /** Takes a page's connection in; null while there is no program behind it. */
  accept(connection: Connection): Visit | null {
    return this.#alive?.contract.accept(connection) ?? null;
  }

  /** Writes what waits and frees the record. A second call waits for the first. Rejects when it takes too long. */
  async end(): Promise<void> {
    const alive = this.#alive;
    this.#alive = null;
    if (alive !== null) this.#ending = this.#close(alive);
    await Promise.race([
      this.#ending,
      new Promise((_resolve, reject) => {
        setTimeout(reject, this.#options.longestEndMs ?? 4000, new Error('It took too long to end.')).unref();
      }),
    ]);
  }

  async #close({ app, contract, leave }: Alive<C>): Promise<void> {
    leave();
    contract.close();
    await app.close();
  }
}
