import * as v from 'valibot';
import { contractVersion, ToPage } from '../../src-shared/contract/envelope.ts';
import type { Failure } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';

/** One connection as a page has it, whatever carries it. */
export interface Wire {
  send(text: string): void;
  /** Hears each message in order; called once, before anything arrives. */
  listen(hear: (text: string) => void): void;
  /** Takes nothing more in until `resume`, so that the program finds the page slow. */
  pause(): void;
  resume(): void;
  close(): Promise<void>;
}

export interface Seen {
  readonly life: string;
  readonly sequence: number;
}

export type Answer = { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly failure: Failure };

export type Told = { readonly sequence: number; readonly push: Push };
type Welcome = Extract<ToPage, { kind: 'welcome' }>;

/**
 * A page without a screen: says hello, numbers its requests, keeps every push, and holds whatever arrives against the
 * envelope's schema. A push that leaves a number out unannounced, and anything that does not fit, is kept in `faults`.
 */
export class Client {
  readonly pushes: Told[] = [];
  readonly faults: string[] = [];
  /** Refusals of messages that had no number of their own. */
  readonly unasked: Failure[] = [];
  readonly #wire: Wire;
  readonly #answers = new Map<number, (answer: Answer) => void>();
  readonly #waiting = new Set<() => void>();
  #welcome: Welcome | null = null;
  #sequence = 0;
  #id = 0;

  constructor(wire: Wire) {
    this.#wire = wire;
    wire.listen((text) => {
      this.#hear(text);
    });
  }

  /** Says hello and waits for the welcome. */
  async hello(seen: Seen | null = null): Promise<Welcome> {
    this.sendText(JSON.stringify({ kind: 'hello', contract: contractVersion, seen }));
    return this.until(() => this.#welcome);
  }

  request(name: string, input: unknown): Promise<Answer> {
    this.#id += 1;
    const id = this.#id;
    const answered = new Promise<Answer>((resolve) => this.#answers.set(id, resolve));
    this.sendText(JSON.stringify({ kind: 'request', id, name, input }));
    return answered;
  }

  /** The value of a request that must succeed. */
  async value(name: string, input: unknown): Promise<unknown> {
    const answer = await this.request(name, input);
    if (!answer.ok) throw new Error(`${name} was refused: ${JSON.stringify(answer.failure)}`);
    return answer.value;
  }

  /** The failure of a request that must be refused. */
  async refusal(name: string, input: unknown): Promise<Failure> {
    const answer = await this.request(name, input);
    if (answer.ok) throw new Error(`${name} was answered: ${JSON.stringify(answer.value)}`);
    return answer.failure;
  }

  sendText(text: string) {
    this.#wire.send(text);
  }

  /** What to show on coming back: the life, and the last push that arrived. */
  get seen(): Seen {
    if (this.#welcome === null) throw new Error('No welcome yet.');
    return { life: this.#welcome.life, sequence: this.#sequence };
  }

  of<K extends Push['kind']>(kind: K): Extract<Push, { kind: K }>[] {
    return this.pushes.flatMap(({ push }) => (push.kind === kind ? [push as Extract<Push, { kind: K }>] : []));
  }

  /** Waits until something is found, looking after every message. */
  until<T>(find: () => T | null | undefined, withinMs = 30_000): Promise<T> {
    return new Promise((resolve, reject) => {
      const look = () => {
        const found = find();
        if (found === null || found === undefined) return;
        clearTimeout(limit);
        this.#waiting.delete(look);
        resolve(found);
      };
      const limit = setTimeout(() => {
        this.#waiting.delete(look);
        reject(new Error(`Nothing came within ${withinMs} ms; last: ${JSON.stringify(this.pushes.at(-1))}`));
      }, withinMs);
      this.#waiting.add(look);
      look();
    });
  }

  pause() {
    this.#wire.pause();
  }

  resume() {
    this.#wire.resume();
  }

  close() {
    return this.#wire.close();
  }

  #hear(text: string) {
    const read = v.safeParse(ToPage, JSON.parse(text));
    if (!read.success) this.faults.push(`${v.summarize(read.issues)} in ${text.slice(0, 300)}`);
    else this.#take(read.output);
    for (const look of this.#waiting) look();
  }

  #take(message: ToPage) {
    if (message.kind === 'welcome') {
      this.#welcome = message;
      this.#sequence = message.sequence;
    } else if (message.kind === 'push') {
      const { sequence, push } = message;
      const follows = sequence === this.#sequence + 1;
      if (!follows && !(push.kind === 'readings-missed' && sequence > this.#sequence)) {
        this.faults.push(`Push ${sequence} (${push.kind}) came after ${this.#sequence}.`);
      }
      this.#sequence = sequence;
      this.pushes.push({ sequence, push });
    } else {
      const answer = this.#answers.get(message.id);
      this.#answers.delete(message.id);
      if (answer !== undefined) answer(message);
      else if (message.kind === 'refusal' && message.id === 0) this.unasked.push(message.failure);
      else this.faults.push(`An answer to ${message.id}, which was not asked.`);
    }
  }
}
