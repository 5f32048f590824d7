import type { Failure } from '../../../src-shared/contract/failure.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import type { MeterDescription } from '../../../src-shared/meter/description.ts';
import type { Connection } from '../../state/connection.svelte.ts';

type Tried = Extract<Push, { kind: 'tried' }>;

/** A line that was heard, with a number of its own for the list. */
export interface HeardLine {
  readonly id: number;
  readonly line: Tried['lines'][number];
  /** At least one value on it could be read. */
  readonly isRead: boolean;
}

const mostKept = 40;

/** Whether main's account of a line has a value that is one. */
function isRead(read: unknown): boolean {
  if (typeof read !== 'object' || read === null) return false;
  if (!('values' in read) || !Array.isArray(read.values)) return false;
  return read.values.some((named: unknown) => {
    if (typeof named !== 'object' || named === null || !('value' in named)) return false;
    const { value } = named;
    return typeof value === 'object' && value !== null && 'kind' in value && value.kind !== 'unreadable';
  });
}

/** A trial of a meter's port: every line as it came and how it was read, newest first. */
export class Listening {
  isOn = $state(false);
  heard = $state('');
  lines = $state.raw<readonly HeardLine[]>([]);
  failure = $state.raw<Failure | null>(null);
  readonly #connection: Connection;
  readonly #ends: readonly (() => void)[];
  #tryId: number | null = null;
  #nextId = 1;

  constructor(connection: Connection) {
    this.#connection = connection;
    this.#ends = [
      connection.onPush((push) => {
        if (push.kind === 'tried') this.#take(push);
      }),
      connection.onArrival((afresh) => {
        if (afresh) this.isOn = false;
      }),
    ];
  }

  async start(description: MeterDescription): Promise<void> {
    this.lines = [];
    this.heard = '';
    this.failure = null;
    this.#tryId = null;
    this.isOn = true;
    const outcome = await this.#connection.ask('meter.try', { description });
    if (outcome.ok) {
      this.#tryId = outcome.value.tryId;
    } else {
      this.isOn = false;
      this.failure = outcome.failure;
    }
  }

  async stop(): Promise<void> {
    if (!this.isOn) return;
    this.isOn = false;
    await this.#connection.ask('meter.try-stop', {});
  }

  /** Ends the trial and hears nothing more. */
  async end(): Promise<void> {
    for (const end of this.#ends) end();
    await this.stop();
  }

  #take({ tryId, lines, heard }: Tried): void {
    if (!this.isOn || (this.#tryId !== null && tryId !== this.#tryId)) return;
    this.heard = heard;
    const fresh = lines.map((line) => ({ id: this.#nextId++, line, isRead: isRead(line.read) })).toReversed();
    this.lines = [...fresh, ...this.lines].slice(0, mostKept);
  }
}
