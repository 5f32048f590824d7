import type { Failure } from '../../../src-shared/contract/failure.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import type { MeterDescription } from '../../../src-shared/meter/description.ts';
import { sampleOf, type Sample } from '../../../src-shared/meter/sample.ts';
import type { Connection } from '../../state/connection.svelte.ts';

type Tried = Extract<Push, { kind: 'tried' }>;

/** A line that was heard, with a number of its own for the list. */
export interface HeardLine {
  readonly id: number;
  readonly line: Tried['lines'][number];
  /** It went through the line format, so that it can be read again by another; else main's own account holds. */
  readonly isReadable: boolean;
  /** `read`: at least one value on it could be read. `beside`: an answer or an echo, which is not a reading. */
  readonly kind: 'read' | 'beside' | 'not-read';
}

const mostShown = 40;
const mostKept = 200;

const kindOf = (read: unknown): string =>
  typeof read === 'object' && read !== null && 'kind' in read ? String(read.kind) : '';

/** Whether main's account of a line has a value that is one. */
function isRead(read: unknown): boolean {
  if (typeof read !== 'object' || read === null) return false;
  if (!('values' in read) || !Array.isArray(read.values)) return false;
  return read.values.some((named: unknown) => {
    if (typeof named !== 'object' || named === null || !('value' in named)) return false;
    return kindOf(named.value) !== 'unreadable';
  });
}

function accountOf(read: unknown): HeardLine['kind'] {
  if (['answer', 'unasked'].includes(kindOf(read))) return 'beside';
  return isRead(read) ? 'read' : 'not-read';
}

/** A trial of a meter's port, or a replay of kept lines: every line as it came and how it was read, newest first. */
export class Listening {
  isOn = $state(false);
  heard = $state('');
  /** What the instrument says that it is, once it was asked. */
  identity = $state<string | null>(null);
  lines = $state.raw<readonly HeardLine[]>([]);
  failure = $state.raw<Failure | null>(null);
  readonly #connection: Connection;
  readonly #ends: readonly (() => void)[];
  #tryId: number | null = null;
  /** Trials before this one: what still comes of them is not this one's. */
  #lastTryId = 0;
  #nextId = 1;
  #all: Tried['lines'] = [];

  constructor(connection: Connection) {
    this.#connection = connection;
    this.#ends = [
      connection.onPush((push) => {
        if (push.kind === 'tried') this.#take(push);
      }),
      connection.onArrival((afresh) => {
        if (!afresh) return;
        this.isOn = false;
        this.#lastTryId = 0;
      }),
    ];
  }

  start(description: MeterDescription): Promise<void> {
    return this.#begin(() => this.#connection.ask('meter.try', { description }));
  }

  replay(description: MeterDescription, sample: Sample): Promise<void> {
    return this.#begin(() => this.#connection.ask('meter.replay', { description, sample }));
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

  /** The whole lines heard so far, as a sample to keep; null when there are none. */
  sample(wallMs: number): Sample | null {
    const whole = this.#all.filter(({ read }) => kindOf(read) !== 'dropped');
    return whole.length === 0 ? null : sampleOf(whole, wallMs);
  }

  async #begin(ask: () => ReturnType<Connection['ask']>): Promise<void> {
    this.lines = [];
    this.#all = [];
    this.heard = '';
    this.identity = null;
    this.failure = null;
    this.#lastTryId = this.#tryId ?? this.#lastTryId;
    this.#tryId = null;
    this.isOn = true;
    const outcome = await ask();
    if (outcome.ok) return;
    this.isOn = false;
    this.failure = outcome.failure;
  }

  #take({ tryId, lines, heard }: Tried): void {
    if (!this.isOn || tryId <= this.#lastTryId) return;
    this.#tryId = tryId;
    this.heard = heard;
    this.#all = [...this.#all, ...lines].slice(-mostKept);
    const said = lines.findLast(({ read }) => isIdentity(read));
    if (said !== undefined) this.identity = said.sentence;
    const fresh = lines.map((line) => ({
      id: this.#nextId++,
      line,
      isReadable: kindOf(line.read) === 'read',
      kind: accountOf(line.read),
    }));
    this.lines = [...fresh.toReversed(), ...this.lines].slice(0, mostShown);
  }
}

/** The answer to the question who the instrument is (IEEE 488.2, `*IDN?`). */
const isIdentity = (read: unknown): boolean =>
  kindOf(read) === 'answer' &&
  typeof read === 'object' &&
  read !== null &&
  'to' in read &&
  String(read.to).toUpperCase() === '*IDN?';
