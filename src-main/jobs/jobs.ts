import { Worker } from 'node:worker_threads';
import { failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Job, MadeFile, Order, Report } from './job.ts';

export interface JobsOptions {
  /** The file of the worker's entry; see `workerFile`. */
  readonly entry: string;
  /** The record that jobs read. */
  readonly record: string;
  /** Where bugs of a job are written, stack and all. */
  readonly log: (line: string) => void;
}

/** A job that was handed in. */
export interface Handed {
  /** How it ended; never rejects. `cancelled` when it was called off before it was done. */
  readonly ended: Promise<Outcome<MadeFile>>;
  /** Calls it off; does nothing when it has ended. */
  readonly callOff: () => void;
}

interface Waiting {
  readonly order: Order;
  readonly tell: (share: number) => void;
  readonly settle: (outcome: Outcome<MadeFile>) => void;
}

const calledOff = () => failed('cancelled', 'It was called off. Nothing of it is kept.');
const brokeDown = () => failed('internal', 'The program met an error of its own. The record is as it was.');

/**
 * Hands long work to one worker thread with its own connection, one job after the other, so that what records never
 * waits. The thread is started with the first job, started anew when one broke it, and keeps no program alive.
 */
export class Jobs {
  readonly #options: JobsOptions;
  #worker: Worker | null = null;
  #current: Waiting | null = null;
  readonly #queue: Waiting[] = [];
  #isClosed = false;

  constructor(options: JobsOptions) {
    this.#options = options;
  }

  /** `tell` hears how much is done, from 0 to 1, at most ten times a second. */
  hand(job: Job, tell: (share: number) => void): Handed {
    const flag = new Int32Array(new SharedArrayBuffer(4));
    const { promise, resolve } = Promise.withResolvers<Outcome<MadeFile>>();
    const waiting: Waiting = { order: { record: this.#options.record, job, flag }, tell, settle: resolve };
    if (this.#isClosed) resolve(calledOff());
    else {
      this.#queue.push(waiting);
      this.#next();
    }
    return {
      ended: promise,
      callOff: () => {
        Atomics.store(flag, 0, 1);
        const at = this.#queue.indexOf(waiting);
        if (at < 0) return;
        this.#queue.splice(at, 1);
        resolve(calledOff());
      },
    };
  }

  /** Calls everything off and ends the thread. A file that was being written is removed by its job, if it still can. */
  async close(): Promise<void> {
    this.#isClosed = true;
    for (const { settle } of this.#queue.splice(0)) settle(calledOff());
    const current = this.#current;
    if (current !== null) {
      Atomics.store(current.order.flag, 0, 1);
      await new Promise<void>((resolve) => {
        const settled = () => {
          resolve();
        };
        this.#onIdle = settled;
        setTimeout(settled, 1000).unref();
      });
    }
    await this.#worker?.terminate();
    this.#worker = null;
  }

  #onIdle: () => void = () => undefined;

  #next(): void {
    if (this.#current !== null) return;
    const next = this.#queue.shift();
    if (next === undefined) return;
    this.#current = next;
    this.#thread().postMessage(next.order);
  }

  #thread(): Worker {
    if (this.#worker !== null) return this.#worker;
    const worker = new Worker(this.#options.entry);
    worker.unref();
    worker.on('message', (report: Report) => {
      if (report.kind === 'progress') this.#current?.tell(report.share);
      else this.#end(report.outcome);
    });
    // A bug in a job ends its thread: the job fails, and the next one gets a fresh thread.
    worker.on('error', (error) => {
      this.#options.log(`A job broke down: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
    });
    worker.on('exit', () => {
      if (this.#worker === worker) this.#worker = null;
      this.#end(brokeDown());
    });
    this.#worker = worker;
    return worker;
  }

  #end(outcome: Outcome<MadeFile>): void {
    const ended = this.#current;
    if (ended === null) return;
    this.#current = null;
    ended.settle(outcome);
    this.#onIdle();
    this.#next();
  }
}
