import * as v from 'valibot';
import { contractVersion, ToPage } from '../../src-shared/contract/envelope.ts';
import { failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import {
  requests,
  type RequestInput,
  type RequestName,
  type Requests,
  type RequestValue,
} from '../../src-shared/contract/request.ts';
import { assertNever } from '../../src-shared/quantity/assert-never.ts';
import type { Memory, Seen } from './memory.ts';
import type { Link, Transport } from './transport.ts';

/** How things stand between this page and the program. */
export type Standing =
  | { readonly kind: 'connecting' }
  | { readonly kind: 'open'; readonly life: string }
  | { readonly kind: 'lost'; readonly sinceMs: number; readonly tries: number }
  /** The program speaks another version of the contract: only a reload helps. */
  | { readonly kind: 'outdated' };

const waitsMs = [250, 500, 1000, 2000, 4000];

type Settle = (outcome: Outcome<unknown>) => void;
const lost = failed(
  'no-connection',
  'The program did not answer: the connection to it is lost. What you typed is kept here. Try again when it is back.',
);

/**
 * The page's end of the contract: requests with their replies, pushes in order, and reconnection.
 * After a loss it says hello with what it saw last, and is given what it missed before anything newer.
 */
export class Connection {
  standing = $state.raw<Standing>({ kind: 'connecting' });
  readonly #transport: Transport;
  readonly #memory: Memory;
  readonly #waiting = new Map<number, Settle>();
  readonly #pushListeners = new Set<(push: Push) => void>();
  readonly #arrivalListeners = new Set<(afresh: boolean) => void>();
  #link: Link | null = null;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #seen: Seen | null;
  #nextId = 1;

  constructor(transport: Transport, memory: Memory) {
    this.#transport = transport;
    this.#memory = memory;
    this.#seen = memory.read();
  }

  get isOpen(): boolean {
    return this.standing.kind === 'open';
  }

  /** Opens the first link; later ones open by themselves. */
  start(): void {
    const tries = this.standing.kind === 'lost' ? this.standing.tries : 0;
    const link: Link = this.#transport({
      opened: () => link.send({ kind: 'hello', contract: contractVersion, seen: this.#seen }),
      heard: (message) => this.#hear(message),
      closed: () => this.#close(tries),
    });
    this.#link = link;
  }

  /** Ends the link for good. */
  stop(): void {
    clearTimeout(this.#retry);
    this.remember();
    this.standing = { kind: 'outdated' };
    this.#link?.close();
    this.#failWaiting();
  }

  /** Tries at once instead of waiting for the next try. */
  tryNow(): void {
    if (this.standing.kind !== 'lost' || this.#retry === undefined) return;
    clearTimeout(this.#retry);
    this.#retry = undefined;
    this.start();
  }

  /** Asks the program; always settles with a value or a failure, never throws for what can be expected. */
  async ask<N extends RequestName>(name: N, input: RequestInput<N>): Promise<Outcome<RequestValue<N>>> {
    if (this.standing.kind !== 'open' || this.#link === null) return lost;
    const id = this.#nextId++;
    const link = this.#link;
    const reply = await new Promise<Outcome<unknown>>((settle) => {
      this.#waiting.set(id, settle);
      link.send({ kind: 'request', id, name, input });
    });
    if (!reply.ok) return reply;
    const parsed = v.safeParse<Requests[N]['output']>(requests[name].output, reply.value);
    if (parsed.success) return { ok: true, value: parsed.output };
    return failed('bad-message', `The program answered ${name} with something that this page cannot read.`, {
      detail: v.flatten(parsed.issues),
    });
  }

  /** Called for every push, in order. Returns what ends it. */
  onPush(listener: (push: Push) => void): () => void {
    this.#pushListeners.add(listener);
    return () => this.#pushListeners.delete(listener);
  }

  /**
   * Called on every arrival, before the pushes that were missed. With `afresh` more was missed than can be replayed (or
   * nothing was ever seen): whatever is shown has to be asked again. Returns what ends it.
   */
  onArrival(listener: (afresh: boolean) => void): () => void {
    this.#arrivalListeners.add(listener);
    return () => this.#arrivalListeners.delete(listener);
  }

  /** Keeps what was seen, for a reload of this page. */
  remember(): void {
    if (this.#seen !== null) this.#memory.write(this.#seen);
  }

  #hear(raw: unknown): void {
    const parsed = v.safeParse(ToPage, raw);
    if (!parsed.success) return;
    const message = parsed.output;
    switch (message.kind) {
      case 'welcome':
        return this.#welcome(message);
      case 'reply':
        return this.#settle(message.id, { ok: true, value: message.value });
      case 'refusal':
        return this.#settle(message.id, { ok: false, failure: message.failure });
      case 'push':
        return this.#push(message.sequence, message.push);
      default:
        assertNever(message);
    }
  }

  #welcome(welcome: Extract<ToPage, { kind: 'welcome' }>): void {
    if (welcome.contract !== contractVersion) return this.stop();
    this.#seen = { life: welcome.life, sequence: welcome.sequence };
    this.standing = { kind: 'open', life: welcome.life };
    for (const listener of this.#arrivalListeners) listener(welcome.afresh);
  }

  #push(sequence: number, push: Push): void {
    if (this.#seen !== null) this.#seen = { life: this.#seen.life, sequence };
    for (const listener of this.#pushListeners) listener(push);
  }

  #settle(id: number, outcome: Outcome<unknown>): void {
    const settle = this.#waiting.get(id);
    this.#waiting.delete(id);
    settle?.(outcome);
  }

  #close(triesBefore: number): void {
    this.#link = null;
    this.#failWaiting();
    if (this.standing.kind === 'outdated') return;
    const tries = this.standing.kind === 'lost' ? triesBefore + 1 : 0;
    const sinceMs = this.standing.kind === 'lost' ? this.standing.sinceMs : performance.now();
    this.standing = { kind: 'lost', sinceMs, tries };
    this.#retry = setTimeout(
      () => {
        this.#retry = undefined;
        this.start();
      },
      waitsMs[Math.min(tries, waitsMs.length - 1)],
    );
  }

  #failWaiting(): void {
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const settle of waiting) settle(lost);
  }
}
