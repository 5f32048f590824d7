import { Client, type Seen } from '../contract/client.ts';
import { socketWire } from '../contract/socket-wire.ts';

/** A page that comes and goes, with everything that it was shown over all its visits. */
export class Visitor {
  readonly events: number[] = [];
  /** Readings that were shown, and those that it was told it missed. */
  readings = 0;
  /** How much there was before its first visit. */
  before: { readonly events: number; readonly readings: number } | null = null;
  client: Client | null = null;
  #seen: Seen | null = null;
  #isPaused = false;

  async arrive(at: { port: number; token: string }, before: { readonly events: number; readonly readings: number }) {
    const client = new Client(await socketWire(at));
    const { afresh } = await client.hello(this.#seen);
    if (afresh && this.#seen !== null) throw new Error('A page that was away for moments was told to ask afresh.');
    this.before ??= before;
    this.client = client;
  }

  /** Stalls, or takes messages in again. */
  turnPause() {
    if (this.#isPaused) this.client?.resume();
    else this.client?.pause();
    this.#isPaused = !this.#isPaused;
  }

  async leave() {
    const { client } = this;
    if (client === null) return;
    this.client = null;
    this.#isPaused = false;
    await client.close();
    this.#seen = client.seen;
    if (client.faults.length > 0) throw new Error(client.faults.slice(0, 3).join('; '));
    for (const { id } of client.of('changed')) this.events.push(id ?? 0);
    for (const { columns } of client.of('readings')) for (const { atMs } of columns) this.readings += atMs.length;
    for (const { readings } of client.of('readings-missed')) this.readings += readings;
  }

  /** What is wrong with what it has been shown of everything there was; null when nothing is. */
  fault(all: { readonly events: number; readonly readings: number }): string | null {
    const { events, readings } = this.before ?? all;
    const wanted = Array.from({ length: all.events - events }, (_, index) => events + index + 1);
    if (JSON.stringify(this.events) !== JSON.stringify(wanted)) {
      return `A page saw ${this.events.length} events where there were ${wanted.length}.`;
    }
    const due = all.readings - readings;
    return this.readings === due ? null : `A page knows of ${this.readings} readings where there were ${due}.`;
  }
}
